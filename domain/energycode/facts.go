package energycode

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// Facts is what is known of one room's lighting controls, in plain values. FactsOf
// reads them out of a design; a check needs nothing else.
type Facts struct {
	Room        string // as printed
	Units       units.System
	Area        units.SquareMetres // 0: not known
	Windows     bool               // the room states windows
	Loads       []Load             // of lighting
	Handles     []Handle           // what people can press
	Levels      []Reached          // levels of the general lighting that people can ask for
	Zones       *Zones             // nil: not known
	Receptacles Outlets
	Building    *Building // nil: the other rooms are not known
	Claims      []Claim
}

// Load is one lighting load.
type Load struct {
	ID         domain.ID
	Tag        string
	Layer      domain.Layer
	Watts      units.Watts
	WattsKnown bool
	Area       units.SquareMetres // of the room that it lights; 0: not known
	Dims       bool               // its output and its luminaires dim
	Lowest     units.Level        // that its luminaires reach; 0: not stated
	Ramps      bool               // people can raise and lower it
	Egress     bool
	Bypass     string // device that overrides the controls when normal power fails

	On       []AutoOn
	Vacant   []Vacancy
	Off      []Shutoff
	Daylight *Response // nil: none
	Event    *Event    // nil: none
}

// General tells that the load is of the general lighting; board lighting is not,
// nor are display and task lighting.
func (l *Load) General() bool { return l.Layer == domain.General || l.Layer == "" }

// AutoOn is light that comes by itself.
type AutoOn struct {
	Level units.Level
	By    string
	Doubt string // why it may not be automatic after all, or not always

	Elsewhere bool // the doubt is about what no design of a room says
}

// Vacancy is what an empty room does to a load.
type Vacancy struct {
	Level   units.Level
	After   units.Seconds // from the last person's leaving: delay, warning and fade together
	Sensors []string      // tags
	By      string
	Held    string // what of higher rank keeps the light on meanwhile
	Doubt   string // a condition under which alone it holds
}

// Shutoff is an off by the clock.
type Shutoff struct {
	When     string        // "22:00 (Mon-Fri)"
	Override units.Seconds // that a press brings back; 0: for good
	Spares   bool          // waits while people are in
	By       string
	Doubt    string
}

// Response is what daylight does to a load.
type Response struct {
	Continuous bool
	Lowest     units.Level // that it dims to, the luminaires' own limit included
	MayOff     bool
	Target     units.Lux
	By         string
	Doubt      string
}

// Event is what demand response does to a load.
type Event struct {
	Cap units.Level // of the level that the load then has
	By  string
}

// Handle is one thing that a person can press: a button with what it does.
type Handle struct {
	Device string             // its tag
	By     string             // "ST-1 button 2 Off"
	On     []int              // of Facts.Loads that it can light
	Off    []int              // of Facts.Loads that it can darken
	Area   units.SquareMetres // of all that it acts on; 0: not known
	Apart  bool               // acts on no general lighting
}

// Reached is a state of the general lighting that people can ask for.
type Reached struct {
	Share float64 // of full power, 0 to 1
	Even  bool    // all luminaires alike
	By    string
}

// Zones are the room's daylight areas, worked out elsewhere by the rules of the
// pack's code.
type Zones struct {
	Primary, Secondary, Toplit Zone
	Glazing                    units.SquareMetres // of all windows; 0: not known
	From                       string             // what they were worked out from
	Doubt                      string             // what has to be known for them to be right; empty: nothing
}

// Zone is one kind of daylight area with the general lighting that counts to it.
type Zone struct {
	Area  units.SquareMetres
	Watts units.Watts // of general lighting, by the code's way of counting
	Loads []domain.ID // that have luminaires counted here
	Cut   bool        // ends at an obstruction or at another zone
}

// Outlets are the room's receptacles.
type Outlets struct {
	Total      int // of the room; 0: not known
	Controlled int // 0 with Known: none
	Known      bool
	Off        []Vacancy // what an empty room does to them, by load
	Scheduled  []Shutoff
	Uncontrol  []string // tags of loads said to be receptacles that nothing turns off
}

// Building is what checks need to know of all rooms together.
type Building struct {
	Area      units.SquareMetres // gross lighted
	StayOn    units.Watts        // that stays lit in empty rooms
	Installed units.Watts        // lighting, of the rooms whose power density is known
	Allowed   units.Watts        // by the space method, for the same rooms
	Unknown   int                // rooms of which area, kind of space or watts are missing
}

// Claim is an exception that a person claims, with the reason. It changes no answer;
// it is printed beside it.
type Claim struct {
	Control Control
	Words   string // the exception as the code puts it, in short
	Reason  string
	Name    string
	Date    string
}

// general sums the watts of the general lighting; known is false where some are not
// stated or where there is none.
func (f *Facts) general() (w float64, known bool) {
	some := false
	known = true
	for i := range f.Loads {
		if l := &f.Loads[i]; l.General() {
			w, known, some = w+float64(l.Watts), known && l.WattsKnown, true
		}
	}
	return w, known && some
}

// installed sums the watts of all lighting.
func (f *Facts) installed() (w float64, known bool) {
	known = true
	for i := range f.Loads {
		w, known = w+float64(f.Loads[i].Watts), known && f.Loads[i].WattsKnown
	}
	return w, known
}

// load gives a load by its ID, nil where there is none.
func (f *Facts) load(id domain.ID) *Load {
	for i := range f.Loads {
		if f.Loads[i].ID == id {
			return &f.Loads[i]
		}
	}
	return nil
}
