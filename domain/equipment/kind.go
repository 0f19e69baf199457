// Package equipment holds the device kinds that a room may have, the types in
// a project's equipment book with their ratings, and the built-in generic book.
package equipment

// Kind is what a device is. The set is closed; code asks a kind for its traits
// and not for its name, so that a new kind needs a row here and no hunt.
type Kind string

// The kinds.
const (
	Controller Kind = "controller" // load controller for a room's loads
	WallBox    Kind = "wallbox"    // wall-box dimmer or switch with its own load
	Plug       Kind = "plug"       // receptacle controller
	Station    Kind = "station"    // buttons a person presses
	Presence   Kind = "presence"   // occupancy or vacancy sensor
	Daylight   Kind = "daylight"   // daylight sensor
	Contact    Kind = "contact"    // contact input
	Gateway    Kind = "gateway"    // the room's link to the building network
	AV         Kind = "av"         // serial link for a presentation system
	Router     Kind = "router"     // mains device that only relays radio
)

// Traits say what devices of a kind do.
type Traits struct {
	Name     string // as printed
	Prefix   string // of tags: "LC" gives LC-1, LC-2
	Loads    bool   // switches or dims loads at its outputs
	Buttons  bool   // has buttons that may act on a room's loads
	OwnOnly  bool   // its buttons act on its own load only
	Presence bool   // reports people
	Daylight bool   // reports daylight
	Inputs   bool   // brings contacts in
	Links    bool   // may have links to loads in the matrix
	Power    bool   // supplies wired sensors
}

var traits = map[Kind]Traits{
	Controller: {Name: "Load controller", Prefix: "LC", Loads: true},
	WallBox:    {Name: "Wall-box controller", Prefix: "WB", Loads: true, Buttons: true, OwnOnly: true, Links: true},
	Plug:       {Name: "Receptacle controller", Prefix: "RC", Loads: true},
	Station:    {Name: "Wall station", Prefix: "ST", Buttons: true, Links: true},
	Presence:   {Name: "Presence sensor", Prefix: "PS", Presence: true, Links: true},
	Daylight:   {Name: "Daylight sensor", Prefix: "DS", Daylight: true, Links: true},
	Contact:    {Name: "Contact input", Prefix: "CN", Inputs: true, Links: true, Power: true},
	Gateway:    {Name: "Gateway", Prefix: "GW"},
	AV:         {Name: "AV interface", Prefix: "AV", Links: true},
	Router:     {Name: "Router", Prefix: "RT"},
}

// Kinds lists all kinds in the order in which schedules print them.
func Kinds() []Kind {
	return []Kind{Controller, WallBox, Plug, Station, Presence, Daylight, Contact, AV, Gateway, Router}
}

// Traits of the kind; the zero value for an unknown one.
func (k Kind) Traits() Traits { return traits[k] }

// Known tells that the kind is one of the set.
func (k Kind) Known() bool { _, ok := traits[k]; return ok }

// Supply is what powers a device.
type Supply string

// The supplies. Wired means extra-low voltage from another device.
const (
	Mains   Supply = "mains"
	Battery Supply = "battery"
	Wired   Supply = "wired"
)

// Known tells that the supply is one of the set.
func (s Supply) Known() bool { return s == Mains || s == Battery || s == Wired }

// Dimming is how a load is switched or dimmed.
type Dimming string

// The dimming methods. Phase-cut kinds follow the usual names: forward is
// leading edge, reverse trailing edge.
const (
	Switched     Dimming = "switched"
	Analog       Dimming = "0-10V"
	PhaseForward Dimming = "forward phase"
	PhaseReverse Dimming = "reverse phase"
	Digital      Dimming = "digital"
)

// Dimmings lists all dimming methods.
func Dimmings() []Dimming {
	return []Dimming{Switched, Analog, PhaseForward, PhaseReverse, Digital}
}

// Known tells that the method is one of the set.
func (d Dimming) Known() bool {
	for _, x := range Dimmings() {
		if d == x {
			return true
		}
	}
	return false
}
