package equipment

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"scopewright/domain/units"
)

// Type is one line of the equipment book: a kind of device that a project may
// use, with its ratings. A zero rating means that it is not stated, and rules
// that need it then answer "not checked".
type Type struct {
	ID          string `json:"id"` // a readable slug, unique in the book
	Seq         int    `json:"seq"`
	Name        string `json:"name"`
	Kind        Kind   `json:"kind"`
	Supply      Supply `json:"supply"`
	Description string `json:"description,omitempty"`
	Mounting    string `json:"mounting,omitempty"` // usual place: ceiling, wall, wall box, above ceiling
	Box         string `json:"box,omitempty"`      // box that the installer provides
	Source      string `json:"source,omitempty"`   // where the ratings come from

	Outputs    int                `json:"outputs,omitempty"`
	OutputAmps units.Amps         `json:"output_a,omitempty"` // rating of each output
	MaxVolts   units.Volts        `json:"max_v,omitempty"`    // highest line voltage it may carry
	MinVolts   units.Volts        `json:"min_v,omitempty"`
	Dims       []Dimming          `json:"dims,omitempty"`       // methods that its outputs offer
	Sink       units.Milliamps    `json:"sink_ma,omitempty"`    // 0-10 V current per output
	Scenes     int                `json:"scenes,omitempty"`     // scenes it stores; 0: the project's limit
	Buttons    int                `json:"buttons,omitempty"`    // buttons of a station
	Inputs     int                `json:"inputs,omitempty"`     // inputs of a contact input
	Routes     bool               `json:"routes,omitempty"`     // relays radio for children
	Children   int                `json:"children,omitempty"`   // most children as a router; 0: the project's limit
	Aux        units.Watts        `json:"aux_w,omitempty"`      // auxiliary supply for wired sensors
	Draw       units.Watts        `json:"draw_w,omitempty"`     // what a wired sensor takes
	LifeYears  float64            `json:"life_years,omitempty"` // battery life
	Cell       string             `json:"cell,omitempty"`       // battery cell, by its standard (IEC) name
	Coverage   units.SquareMetres `json:"coverage_m2,omitempty"`

	TestedForInrush bool       `json:"inrush_tested,omitempty"` // for electronic drivers, by NEMA 410
	InrushPeak      units.Amps `json:"inrush_a,omitempty"`      // that the relay of an output may make

	// The radio. Of a type that states no sensitivity nothing is known.
	TxPower     float64 `json:"tx_dbm,omitempty"`          // dBm
	Gain        float64 `json:"gain_dbi,omitempty"`        // dBi
	Sensitivity float64 `json:"sensitivity_dbm,omitempty"` // dBm, weakest signal that it hears

	// What a presence sensor sees; a type that states no MajorRadius is taken
	// for a disc of its Coverage.
	Senses      Sensing      `json:"senses,omitempty"`
	MajorRadius units.Metres `json:"major_m,omitempty"`     // a person who walks
	MinorRadius units.Metres `json:"minor_m,omitempty"`     // an arm that moves
	StatedAt    units.Metres `json:"stated_at_m,omitempty"` // mounting height at which the radii hold
	StatedOn    Plane        `json:"stated_on,omitempty"`   // plane on which they hold
	Angle       float64      `json:"angle_deg,omitempty"`   // that it spans; 0: all around
	Lowest      units.Metres `json:"lowest_m,omitempty"`    // mounting heights that it is for
	Highest     units.Metres `json:"highest_m,omitempty"`
	MostRadius  units.Metres `json:"most_radius_m,omitempty"` // never beyond, however high
}

// Sensing is how a presence sensor notices people.
type Sensing string

// The ways of sensing. Dual turns on when both notice and holds while either does.
const (
	Infrared   Sensing = "infrared"
	Ultrasonic Sensing = "ultrasonic"
	Dual       Sensing = "dual"
)

// Sensings lists them.
func Sensings() []Sensing { return []Sensing{Infrared, Ultrasonic, Dual} }

// Plane is where a pattern's radii were stated: on the plane of what is to be
// seen, or on the floor under a cone.
type Plane string

// The planes.
const (
	TargetPlane Plane = "target plane"
	FloorPlane  Plane = "floor"
)

// Planes lists them.
func Planes() []Plane { return []Plane{TargetPlane, FloorPlane} }

// Ranges outside of which a rating is a slip of the pen, not a device.
const (
	maxOutputs = 64
	maxButtons = 24
)

// Validate says what is wrong with the type, all at once.
func (t Type) Validate() error {
	var errs []error
	bad := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if !slugged(t.ID) {
		bad("type ID %q must be 1 to 40 small letters, digits and hyphens", t.ID)
	}
	if strings.TrimSpace(t.Name) == "" || len(t.Name) > 120 {
		bad("type %s needs a name of at most 120 letters", t.ID)
	}
	if !t.Kind.Known() {
		bad("type %s: kind %q is not known", t.ID, t.Kind)
	}
	if !t.Supply.Known() {
		bad("type %s: supply %q is not known: use mains, battery or wired", t.ID, t.Supply)
	}
	if t.Routes && t.Supply != Mains {
		bad("type %s: only a mains-powered type can route", t.ID)
	}
	if tr := t.Kind.Traits(); tr.Loads && t.Outputs < 1 || !tr.Loads && t.Outputs > 0 {
		bad("type %s: a %s with %d outputs makes no sense", t.ID, strings.ToLower(tr.Name), t.Outputs)
	}
	if t.Outputs > maxOutputs || t.Buttons < 0 || t.Buttons > maxButtons || t.Outputs < 0 || t.Inputs < 0 || t.Inputs > maxOutputs {
		bad("type %s: outputs and inputs go to %d, buttons to %d", t.ID, maxOutputs, maxButtons)
	}
	if t.Senses != "" && !slices.Contains(Sensings(), t.Senses) || t.StatedOn != "" && !slices.Contains(Planes(), t.StatedOn) {
		bad("type %s: it senses %q, stated on %q: one of them is not known", t.ID, t.Senses, t.StatedOn)
	}
	for name, v := range map[string]float64{"transmit power": t.TxPower, "antenna gain": t.Gain, "sensitivity": t.Sensitivity} {
		if !(v >= -200 && v <= 100) {
			bad("type %s: %s of %g dB is out of range", t.ID, name, v)
		}
	}
	for _, d := range t.Dims {
		if !d.Known() {
			bad("type %s: dimming method %q is not known", t.ID, d)
		}
	}
	for name, v := range map[string]float64{"output A": float64(t.OutputAmps), "maximum V": float64(t.MaxVolts), "minimum V": float64(t.MinVolts), "sink mA": float64(t.Sink), "auxiliary W": float64(t.Aux), "draw W": float64(t.Draw), "life": t.LifeYears, "coverage": float64(t.Coverage), "scenes": float64(t.Scenes), "children": float64(t.Children),
		"inrush A": float64(t.InrushPeak), "major radius": float64(t.MajorRadius), "minor radius": float64(t.MinorRadius), "height of the radii": float64(t.StatedAt),
		"angle": t.Angle, "lowest mounting": float64(t.Lowest), "highest mounting": float64(t.Highest), "longest radius": float64(t.MostRadius)} {
		if v < 0 || v > 100000 || math.IsNaN(v) {
			bad("type %s: %s of %g is out of range", t.ID, name, v)
		}
	}
	return errors.Join(errs...)
}

func slugged(id string) bool {
	ok := len(id) > 0 && len(id) <= 40
	for _, r := range id {
		ok = ok && (r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-')
	}
	return ok
}

// CanDim tells whether outputs of the type serve loads dimmed by d. A switched
// load may hang on any output that has a relay, so on all of them.
func (t Type) CanDim(d Dimming) bool {
	return d == "" || d == Switched && len(t.Dims) == 0 || slices.Contains(t.Dims, d)
}

// TakesVolts tells that a line voltage is within the type's range. What is not
// stated is not checked.
func (t *Type) TakesVolts(v units.Volts) bool {
	return v == 0 || (t.MaxVolts == 0 || v <= t.MaxVolts) && v >= t.MinVolts
}

// Rating gives the rating of an output, 0 where none is stated; a type that
// carries its own load in a wall box is held to its fuse, 0 for none.
func (t *Type) Rating(fuse units.Amps) units.Amps {
	if t.Kind.Traits().OwnOnly && fuse > 0 && (t.OutputAmps == 0 || fuse < t.OutputAmps) {
		return fuse
	}
	return t.OutputAmps
}

// SinkOr gives the 0-10 V current that an output takes, that of the limits where
// the type states none.
func (t *Type) SinkOr(limit units.Milliamps) units.Milliamps {
	if t.Sink > 0 {
		return t.Sink
	}
	return limit
}

// Book is a project's equipment, in order of Seq.
type Book []Type

// Find gives the type of that ID, nil when the book has none.
func (b Book) Find(id string) *Type {
	for i := range b {
		if b[i].ID == id {
			return &b[i]
		}
	}
	return nil
}
