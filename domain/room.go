package domain

import (
	"scopewright/domain/delta"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Room is one area whose devices work together. Its facts are its own; its
// design is its own too, or that of a typical with exceptions.
type Room struct {
	ID        ID                 `json:"id"`
	StoreyID  ID                 `json:"storey"`
	Number    string             `json:"number"`
	Name      string             `json:"name,omitempty"`
	Use       Use                `json:"use,omitempty"`
	Space     SpaceType          `json:"space_type,omitempty"` // confirmed by the designer; empty: proposed from use and area
	Area      units.SquareMetres `json:"area_m2,omitempty"`
	Ceiling   units.Metres       `json:"ceiling_m,omitempty"`
	Windows   bool               `json:"windows,omitempty"`
	Seats     int                `json:"seats,omitempty"`       // occupants to reckon with
	Outlets   int                `json:"receptacles,omitempty"` // receptacles of the room in all, switched or not; 0: not counted
	Notes     string             `json:"notes,omitempty"`
	TypicalID ID                 `json:"typical,omitempty"`
	Outline   geom.Polygon       `json:"outline,omitzero"`   // on the storey's plan
	Fixtures  []Fixture          `json:"fixtures,omitempty"` // luminaires at their places
	Sitting   []Seat             `json:"sitting,omitempty"`  // seats at their places

	Design     Design        `json:"design"`               // empty while a typical is followed
	Exceptions delta.Changes `json:"exceptions,omitempty"` // how the room differs from its typical
	Waivers    []Waiver      `json:"waivers,omitempty"`
}

// Label gives "214 Classroom B".
func (r *Room) Label() string {
	if r.Name == "" {
		return r.Number
	}
	return r.Number + " " + r.Name
}

// Typical is a room designed once that others follow.
type Typical struct {
	ID     ID        `json:"id"`
	Seq    int       `json:"seq"`
	Name   string    `json:"name"` // "CR-2"
	Title  string    `json:"title,omitempty"`
	Use    Use       `json:"use,omitempty"`
	Space  SpaceType `json:"space_type,omitempty"` // of the rooms that follow it and state none
	Notes  string    `json:"notes,omitempty"`
	Design Design    `json:"design"`
}

// Design is what a room holds and how it works.
type Design struct {
	Loads   []Load   `json:"loads,omitempty"`
	Devices []Device `json:"devices,omitempty"`
	Links   []Link   `json:"links,omitempty"`
	Scenes  []Scene  `json:"scenes,omitempty"`
	Intents []Intent `json:"intents,omitempty"`

	Scenarios []Scenario `json:"scenarios,omitempty"`
}

// Empty tells that nothing has been designed.
func (d *Design) Empty() bool {
	return len(d.Loads)+len(d.Devices)+len(d.Links)+len(d.Scenes)+len(d.Intents)+len(d.Scenarios) == 0
}

// Load gives the load of that ID, nil where there is none.
func (d *Design) Load(id ID) *Load {
	if i := d.LoadIndex(id); i >= 0 {
		return &d.Loads[i]
	}
	return nil
}

// LoadIndex gives where in Loads the load of that ID is, -1 where there is none.
func (d *Design) LoadIndex(id ID) int {
	for i := range d.Loads {
		if d.Loads[i].ID == id {
			return i
		}
	}
	return -1
}

// Device gives the device of that ID, nil where there is none.
func (d *Design) Device(id ID) *Device {
	if i := d.DeviceIndex(id); i >= 0 {
		return &d.Devices[i]
	}
	return nil
}

// DeviceIndex gives where in Devices the device of that ID is, -1 where there is none.
func (d *Design) DeviceIndex(id ID) int {
	for i := range d.Devices {
		if d.Devices[i].ID == id {
			return i
		}
	}
	return -1
}

// Scene gives the scene of that ID, nil where there is none.
func (d *Design) Scene(id ID) *Scene {
	for i := range d.Scenes {
		if d.Scenes[i].ID == id {
			return &d.Scenes[i]
		}
	}
	return nil
}

// SceneNumbered gives the scene of that number, nil where there is none.
func (d *Design) SceneNumbered(n int) *Scene {
	for i := range d.Scenes {
		if d.Scenes[i].Number == n {
			return &d.Scenes[i]
		}
	}
	return nil
}

// Intent gives the intent of that ID, nil where there is none.
func (d *Design) Intent(id ID) *Intent {
	for i := range d.Intents {
		if d.Intents[i].ID == id {
			return &d.Intents[i]
		}
	}
	return nil
}

// Scenario gives the scenario of that ID, nil where there is none.
func (d *Design) Scenario(id ID) *Scenario {
	for i := range d.Scenarios {
		if d.Scenarios[i].ID == id {
			return &d.Scenarios[i]
		}
	}
	return nil
}

// LoadKind tells lighting from receptacles.
type LoadKind string

// The load kinds.
const (
	Lighting   LoadKind = "lighting"
	Receptacle LoadKind = "receptacle"
)

// WindowZone is where a load's luminaires hang with regard to daylight.
type WindowZone string

// The window zones; none is the inner part of the room.
const (
	ZoneNone      WindowZone = "none"
	ZoneWindow    WindowZone = "window row"
	ZoneSecondary WindowZone = "second row"
	ZoneRoof      WindowZone = "under rooflight"
)

// Layer is what a lighting load is for.
type Layer string

// The layers.
const (
	General Layer = "general"
	Board   Layer = "board"
	Display Layer = "display"
	Task    Layer = "task"
)

// Load is what is switched or dimmed as one: luminaires of one control zone,
// or receptacles. Where Luminaire is set, watts and volts come from the
// schedule; otherwise Watts (of the whole load) and Volts are its own.
type Load struct {
	ID         ID                `json:"id"`
	Seq        int               `json:"seq"`
	Tag        string            `json:"tag"`
	Name       string            `json:"name,omitempty"`
	Kind       LoadKind          `json:"kind"`
	Luminaire  ID                `json:"luminaire,omitempty"`
	Count      int               `json:"count,omitempty"`
	Watts      units.Watts       `json:"watts,omitempty"`
	Volts      units.Volts       `json:"volts,omitempty"`
	Rating     units.Amps        `json:"rating_a,omitempty"` // of a receptacle circuit: 15 or 20 A
	Circuit    string            `json:"circuit,omitempty"`
	Dimming    equipment.Dimming `json:"dimming,omitempty"`
	Layer      Layer             `json:"layer,omitempty"`
	Egress     bool              `json:"egress,omitempty"`
	Bypass     string            `json:"bypass,omitempty"` // listed device that overrides control on loss of normal power
	Zone       WindowZone        `json:"zone,omitempty"`
	Controller ID                `json:"controller,omitempty"` // device that carries it
	Output     int               `json:"output,omitempty"`     // its output, from 1
	PairWire   equipment.Wire    `json:"pair_wire,omitempty"`  // of the 0-10 V pair; empty: the usual size is assumed
	PairLength units.Metres      `json:"pair_m,omitempty"`     // from the controller to the last driver; 0: as drawn
}

// Power gives the load's watts, amperes and whether they are known.
// I = P/(V pf) for single-phase alternating current.
func (l *Load) Power(p *Project) (w units.Watts, a units.Amps, known bool) {
	volts, pf := l.Volts, 1.0
	w = l.Watts
	if lum := p.Luminaire(l.Luminaire); lum != nil {
		w, pf = lum.Watts*units.Watts(l.Count), lum.PF()
		if volts == 0 {
			volts = lum.Volts
		}
	}
	if w <= 0 || volts <= 0 {
		return w, 0, false
	}
	return w, units.Amps(float64(w) / (float64(volts) * pf)), true
}

// Voltage gives the line voltage that the load runs on, 0 where not stated.
func (l *Load) Voltage(p *Project) units.Volts {
	if l.Volts > 0 {
		return l.Volts
	}
	if lum := p.Luminaire(l.Luminaire); lum != nil {
		return lum.Volts
	}
	return 0
}

// PresenceKind tells an occupancy sensor, which may turn loads on, from a
// vacancy sensor, which never does.
type PresenceKind string

// The presence kinds.
const (
	Occupancy PresenceKind = "occupancy"
	Vacancy   PresenceKind = "vacancy"
)

// LoopKind tells how a daylight sensor looks.
type LoopKind string

// The loop kinds: open sees outdoors, closed sees the task.
const (
	OpenLoop   LoopKind = "open loop"
	ClosedLoop LoopKind = "closed loop"
)

// Sending is how a device's commands travel.
type Sending string

// The ways of sending: to the whole room by broadcast, to a group, or to each
// linked load by itself.
const (
	ToRoom  Sending = "room"
	ToGroup Sending = "group"
	ToLoads Sending = "loads"
)

// Device is one piece of equipment in a room.
type Device struct {
	ID       ID            `json:"id"`
	Seq      int           `json:"seq"`
	Tag      string        `json:"tag"`
	Type     string        `json:"type"` // of the equipment book
	Place    string        `json:"place,omitempty"`
	Mounting string        `json:"mounting,omitempty"` // empty: as the type says
	Height   units.Metres  `json:"height_m,omitempty"` // to its center
	Presence PresenceKind  `json:"presence,omitempty"`
	Delay    units.Seconds `json:"delay_s,omitempty"` // of a presence sensor; 0: as the presence intent says
	Loop     LoopKind      `json:"loop,omitempty"`
	Sending  Sending       `json:"sending,omitempty"`
	Buttons  []Button      `json:"buttons,omitempty"`
	Parent   ID            `json:"parent,omitempty"`   // router of a battery device
	Hears    []ID          `json:"hears,omitempty"`    // routers in reach; empty: all of the room
	FedBy    ID            `json:"fed_by,omitempty"`   // device that powers a wired one
	Fitted   string        `json:"fitted,omitempty"`   // ISO date on which the battery went in
	At       *geom.Point   `json:"at,omitempty"`       // on the storey's plan; nil: not placed
	Turn     float64       `json:"turn_deg,omitempty"` // counterclockwise from right, over 0 to 360; 0: not stated
}

// Button is one button of a station: what is engraved on it.
type Button struct {
	ID    ID     `json:"id"` // its number, from "1"
	Label string `json:"label,omitempty"`
}

// Scene is a set of named levels for a room's loads.
type Scene struct {
	ID     ID           `json:"id"`
	Seq    int          `json:"seq"`
	Number int          `json:"number"`
	Name   string       `json:"name"`
	Levels []SceneLevel `json:"levels,omitempty"`
}

// SceneLevel is what a scene does to one load. A load without one is a hole.
type SceneLevel struct {
	ID    ID            `json:"id"` // of the load
	Leave bool          `json:"leave,omitempty"`
	Level units.Level   `json:"level"`
	Fade  units.Seconds `json:"fade_s,omitempty"`
}

// LevelOf gives what the scene does to a load, nil where nothing is said.
func (s *Scene) LevelOf(load ID) *SceneLevel {
	for i := range s.Levels {
		if s.Levels[i].ID == load {
			return &s.Levels[i]
		}
	}
	return nil
}

// Waiver is a reasoned exception to a finding. It lapses when the margin gets
// worse than it was when a person accepted it.
type Waiver struct {
	ID     ID       `json:"id"`
	Rule   string   `json:"rule"`
	Key    string   `json:"key,omitempty"` // which of the rule's findings
	Reason string   `json:"reason"`
	Name   string   `json:"name"`
	Date   string   `json:"date"`
	Margin *float64 `json:"margin,omitempty"`
}
