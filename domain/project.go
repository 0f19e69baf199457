package domain

import (
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Project is what holds for all rooms: who and where, the buildings with their
// storeys, the luminaire schedule, the equipment book, the limits and the
// reviewer's checklist.
type Project struct {
	ID          ID           `json:"id"`
	Name        string       `json:"name"`
	Number      string       `json:"number,omitempty"`
	Client      string       `json:"client,omitempty"`
	Address     string       `json:"address,omitempty"`
	CodeEdition string       `json:"code_edition,omitempty"` // as text; the designer confirms it
	CodePack    CodePack     `json:"code_pack,omitempty"`    // by whose figures rooms are checked; empty: none chosen
	Hours       string       `json:"hours,omitempty"`        // hours of use, as text
	Designer    string       `json:"designer,omitempty"`
	Checker     string       `json:"checker,omitempty"`
	Reviewer    string       `json:"reviewer,omitempty"`
	Units       units.System `json:"units"`
	Brief       string       `json:"brief,omitempty"`    // the owner's wishes in their words
	Invented    bool         `json:"invented,omitempty"` // demo data, says so on every sheet

	Latitude  *float64 `json:"latitude,omitempty"`  // degrees, north above 0; nil: not stated
	Longitude *float64 `json:"longitude,omitempty"` // degrees, east above 0; nil: not stated
	Zone      string   `json:"zone,omitempty"`      // IANA time zone
	Holidays  []string `json:"holidays,omitempty"`  // lines that Holiday reads
	Calendar  []string `json:"calendar,omitempty"`  // lines that ParseModeTime reads
	Priority  []Class  `json:"priority,omitempty"`  // empty: DefaultPriority

	Buildings  []Building      `json:"buildings,omitempty"`
	Luminaires []Luminaire     `json:"luminaires,omitempty"`
	Circuits   []Circuit       `json:"circuits,omitempty"`   // facts of branch circuits; those that loads name without one have none
	Worksheets []CodeWorksheet `json:"worksheets,omitempty"` // energy codes as the designer has them
	Profiles   []UseProfile    `json:"profiles,omitempty"`   // of uses of rooms whose built-in profile does not hold here
	Currency   string          `json:"currency,omitempty"`   // its word, beside rates that are money
	Rates      []Rate          `json:"rates,omitempty"`      // by which energy becomes money
	Book       equipment.Book  `json:"book,omitempty"`
	Limits     Limits          `json:"limits,omitempty"`
	Checklist  []ChecklistItem `json:"checklist,omitempty"`
}

// Building is one building of the project.
type Building struct {
	ID      ID       `json:"id"`
	Seq     int      `json:"seq"`
	Name    string   `json:"name"`
	Storeys []Storey `json:"storeys,omitempty"`
}

// Storey is one floor level. Server and Backbone name the building server and
// the backbone network that its rooms join; empty means the building's first.
type Storey struct {
	ID       ID           `json:"id"`
	Seq      int          `json:"seq"`
	Name     string       `json:"name"`
	Server   string       `json:"server,omitempty"`
	Backbone string       `json:"backbone,omitempty"`
	Height   units.Metres `json:"height_m,omitempty"` // up to the floor above; 0: StoreyHeight of the limits
}

// FindStorey gives a storey and its building, nil where there is none.
func (p *Project) FindStorey(id ID) (*Building, *Storey) {
	for i := range p.Buildings {
		b := &p.Buildings[i]
		for j := range b.Storeys {
			if b.Storeys[j].ID == id {
				return b, &b.Storeys[j]
			}
		}
	}
	return nil, nil
}

// Luminaire gives the luminaire type of that ID, nil where there is none.
func (p *Project) Luminaire(id ID) *Luminaire {
	for i := range p.Luminaires {
		if p.Luminaires[i].ID == id {
			return &p.Luminaires[i]
		}
	}
	return nil
}

// Luminaire is one type of the luminaire schedule. Watts are those of one
// luminaire with its driver; zero optional ratings mean "not stated".
type Luminaire struct {
	ID          ID              `json:"id"`
	Seq         int             `json:"seq"`
	Tag         string          `json:"tag"` // type mark on the drawings: "A1"
	Description string          `json:"description,omitempty"`
	Watts       units.Watts     `json:"watts"`
	Volts       units.Volts     `json:"volts"`
	PowerFactor float64         `json:"power_factor,omitempty"` // 0: 1 is assumed
	Drivers     int             `json:"drivers,omitempty"`      // per luminaire; 0: one
	Driver      DriverKind      `json:"driver"`
	ControlMA   units.Milliamps `json:"control_ma,omitempty"` // 0-10 V current of one driver; 0: 2 mA assumed
	InrushPeak  units.Amps      `json:"inrush_a,omitempty"`   // of one driver; 0: not stated
	InrushUs    float64         `json:"inrush_us,omitempty"`  // width at half of peak, microseconds
	DimsTo      units.Level     `json:"dims_to,omitempty"`    // lowest level in % of full
	DimToOff    bool            `json:"dim_to_off,omitempty"` // goes dark at the lowest control signal
	Source      string          `json:"source,omitempty"`
}

// DriverKind is how a luminaire's driver wants to be controlled.
type DriverKind string

// The driver kinds.
const (
	DriverSwitched DriverKind = "switched only"
	DriverAnalog   DriverKind = "0-10V"
	DriverForward  DriverKind = "forward phase"
	DriverReverse  DriverKind = "reverse phase"
	DriverDigital  DriverKind = "digital"
)

// DriverKinds lists all driver kinds.
func DriverKinds() []DriverKind {
	return []DriverKind{DriverSwitched, DriverAnalog, DriverForward, DriverReverse, DriverDigital}
}

// Takes tells whether a driver of the kind can be served by a dimming method.
// Every driver can be switched; a dimming signal must be the driver's own.
func (k DriverKind) Takes(d equipment.Dimming) bool {
	return d == equipment.Switched || d == "" || string(d) == string(k)
}

// PF gives the power factor to reckon with: 1 where none is stated.
func (l *Luminaire) PF() float64 {
	if l.PowerFactor <= 0 {
		return 1
	}
	return l.PowerFactor
}

// DriverCount gives the drivers of one luminaire, at least one.
func (l *Luminaire) DriverCount() int { return max(1, l.Drivers) }

// AssumedControlMA is the control current of a driver whose sheet states none:
// IEC 60929 Annex E allows at most 2 mA (from memory).
const AssumedControlMA units.Milliamps = 2

// ControlCurrent gives one driver's 0-10 V current, and whether it is assumed.
func (l *Luminaire) ControlCurrent() (ma units.Milliamps, assumed bool) {
	if l.ControlMA > 0 {
		return l.ControlMA, false
	}
	return AssumedControlMA, true
}
