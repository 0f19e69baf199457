package domain

import (
	"slices"

	"scopewright/domain/units"
)

// IntentKind is what an intent is about. The set is closed.
type IntentKind string

// The kinds.
const (
	ByPresence       IntentKind = "presence"
	ByHand           IntentKind = "manual"
	ByDaylight       IntentKind = "daylight"
	BySchedule       IntentKind = "schedule"
	ForReceptacles   IntentKind = "receptacle"
	ByAV             IntentKind = "av"
	ByContact        IntentKind = "contact"
	OnDemandResponse IntentKind = "demand-response"
	OnPowerBack      IntentKind = "power-back"
	OnMode           IntentKind = "mode"
	OnEmergency      IntentKind = "emergency"
	OnNetworkLoss    IntentKind = "network-loss"
)

// IntentKinds lists the kinds in the order in which a sequence states them.
func IntentKinds() []IntentKind {
	return []IntentKind{ByHand, ByPresence, ByDaylight, BySchedule, ForReceptacles, ByAV, ByContact, OnMode, OnDemandResponse, OnEmergency, OnNetworkLoss, OnPowerBack}
}

// Title names the kind on screens and paper.
func (k IntentKind) Title() string {
	switch k {
	case ByPresence:
		return "Presence"
	case ByHand:
		return "By hand"
	case ByDaylight:
		return "Daylight"
	case BySchedule:
		return "Schedule"
	case ForReceptacles:
		return "Receptacles"
	case ByAV:
		return "AV command"
	case ByContact:
		return "Contact"
	case OnDemandResponse:
		return "Demand response"
	case OnPowerBack:
		return "Power back"
	case OnMode:
		return "Mode"
	case OnEmergency:
		return "Emergency"
	case OnNetworkLoss:
		return "Network lost"
	}
	return string(k)
}

// Known tells that the kind is one of the set.
func (k IntentKind) Known() bool { return slices.Contains(IntentKinds(), k) }

// Restore is what a load does when power comes back.
type Restore string

// The ways back.
const (
	RestoreLast Restore = "last level"
	RestoreSet  Restore = "level"
	RestoreOff  Restore = "off"
	RestoreFull Restore = "full"
)

// Response is what an intent does when its event comes, where there is more to
// choose from than going to a level or a scene.
type Response string

// The responses; the empty one goes to the intent's scene or level.
const (
	GoTo           Response = ""
	SetMode        Response = "mode"             // the room changes its mode
	Lock           Response = "lock"             // locked at the level until released
	Release        Response = "release"          // ends locks and holds made by the same input, or by all
	HoldAutomatic  Response = "hold"             // automatic events are ignored for the hold time
	ToggleLoads    Response = "toggle"           // any on: all off, else all on
	GoBack         Response = "back"             // to the levels before the last AV command
	PartitionJoins Response = "partition open"   // the room becomes one
	PartitionParts Response = "partition closed" // the room is divided
)

// Responses lists all responses but the plain one.
func Responses() []Response {
	return []Response{SetMode, Lock, Release, HoldAutomatic, ToggleLoads, GoBack, PartitionJoins, PartitionParts}
}

// Intent is one structured statement of what a room does. Kind says which
// fields count (see IntentFields); the others stay empty. Loads empty means
// all lighting loads, all receptacles for a receptacle intent, and all lighting
// but egress lighting for demand response.
type Intent struct {
	ID       ID            `json:"id"`
	Seq      int           `json:"seq"`
	Kind     IntentKind    `json:"kind"`
	Loads    []ID          `json:"loads,omitempty"`
	Scene    int           `json:"scene,omitempty"`  // goes to a scene of this number instead of Level
	Level    units.Level   `json:"level,omitempty"`  // entry level, cap, or level after power back
	Enters   bool          `json:"enters,omitempty"` // presence: people entering light the loads
	OffLevel units.Level   `json:"off_level,omitempty"`
	Fade     units.Seconds `json:"fade_s,omitempty"`
	Delay    units.Seconds `json:"delay_s,omitempty"`
	Warning  units.Seconds `json:"warning_s,omitempty"`
	WarnTo   units.Level   `json:"warn_to,omitempty"`
	Hold     units.Seconds `json:"hold_s,omitempty"`
	Target   units.Lux     `json:"target_lx,omitempty"`
	Lowest   units.Level   `json:"lowest,omitempty"`
	MayOff   bool          `json:"may_off,omitempty"`
	OnAt     string        `json:"on_at,omitempty"`  // "07:00"
	OffAt    string        `json:"off_at,omitempty"` // "22:00"
	Days     string        `json:"days,omitempty"`   // "Mon-Fri"
	Override units.Seconds `json:"override_s,omitempty"`
	Command  string        `json:"command,omitempty"` // AV command, or contact "closed" / "open"
	Device   ID            `json:"device,omitempty"`  // the contact input or AV interface
	Restore  Restore       `json:"restore,omitempty"`
	Source   string        `json:"source,omitempty"` // owner's wish or code clause, as text

	Do       Response      `json:"do,omitempty"`
	Mode     Mode          `json:"mode,omitempty"`          // that the room goes into, or whose coming is the event
	Highest  units.Level   `json:"highest,omitempty"`       // raising by hand stops here; 0: full
	Rate     float64       `json:"rate_pct_s,omitempty"`    // of raising and lowering, in % of full output a second; 0: DefaultRate
	Watchdog units.Seconds `json:"watchdog_s,omitempty"`    // a sensor that has not reported for so long counts as occupied; 0: never
	Relight  units.Seconds `json:"relight_s,omitempty"`     // people moving within this time after an automatic off bring the last level back, once
	Spares   bool          `json:"spares_people,omitempty"` // the schedule's off waits while people are in the room
	Again    units.Seconds `json:"again_s,omitempty"`       // and asks again after this time; 0: DefaultAgain
	Yields   bool          `json:"yields,omitempty"`        // daylight: a press suspends the trim until the room was vacant

	// The condition: all that is stated must hold, or none of it with Unless.
	Unless       bool           `json:"unless,omitempty"`
	Modes        []Mode         `json:"modes,omitempty"`
	From         string         `json:"from,omitempty"`  // time of day; with Until a window, which may span midnight
	Until        string         `json:"until,omitempty"` // time of day
	DarkerThan   units.Lux      `json:"darker_than_lx,omitempty"`
	BrighterThan units.Lux      `json:"brighter_than_lx,omitempty"`
	People       People         `json:"people,omitempty"`
	Partition    PartitionState `json:"partition,omitempty"`
}

// What holds where an intent says nothing (common practice, no published source).
const (
	DefaultRate                = 20.0 // % of full output a second while a raise or lower button is held
	RampStep                   = 10.0 // points by which one short press of it raises or lowers
	DefaultAgain units.Seconds = 1800
)

// Conditional tells that the intent counts only under a condition.
func (in *Intent) Conditional() bool {
	return len(in.Modes) > 0 || in.From != "" || in.Until != "" || in.DarkerThan > 0 || in.BrighterThan > 0 || in.People != "" || in.Partition != ""
}

// Targets gives the IDs of the loads that the intent acts on in a design.
func (in *Intent) Targets(d *Design) []ID {
	if len(in.Loads) > 0 {
		return in.Loads
	}
	var out []ID
	for i := range d.Loads {
		if in.ActsOn(&d.Loads[i]) {
			out = append(out, d.Loads[i].ID)
		}
	}
	return out
}

// ActsOn tells whether the intent acts on a load, without building a list.
// Demand response leaves egress lighting out unless it is named.
func (in *Intent) ActsOn(l *Load) bool {
	if len(in.Loads) > 0 {
		return slices.Contains(in.Loads, l.ID)
	}
	if in.Kind == OnDemandResponse && l.Egress {
		return false
	}
	return (l.Kind == Receptacle) == (in.Kind == ForReceptacles)
}

// DaylightTarget gives the illuminance that a daylight intent starts from, round in
// the project's unit: 40 fc or 400 lx (common practice, no published source).
func DaylightTarget(sys units.System) units.Lux {
	if sys == units.US {
		return 40 * units.LuxPerFootcandle
	}
	return 400
}

// NewIntent gives an intent of a kind with sensible numbers to start from
// (common practice, no published source; the designer sets them).
func NewIntent(id ID, kind IntentKind) Intent {
	in := Intent{ID: id, Kind: kind}
	switch kind {
	case ByPresence:
		in.Delay, in.Warning, in.WarnTo, in.Fade = 1200, 60, 50, 2
	case ByHand:
		in.Hold, in.Fade = 1800, 2
	case ByDaylight:
		in.Target, in.Lowest, in.Fade = DaylightTarget(units.SI), 10, 20
	case BySchedule:
		in.OffAt, in.Days, in.Override, in.Warning, in.WarnTo = "22:00", "Mon-Sun", 7200, 300, 50
	case ForReceptacles:
		in.Delay = 1200
	case ByAV:
		in.Command, in.Scene, in.Fade = "presentation start", 1, 4
	case ByContact:
		in.Command, in.Level = "closed", 100
	case OnDemandResponse:
		in.Level, in.Fade = 80, 30
	case OnPowerBack:
		in.Restore = RestoreLast
	case OnMode:
		in.Mode, in.Level, in.Fade = CleaningMode, 100, 2
	case OnEmergency:
		in.Level = 100
	case OnNetworkLoss:
		in.Level = 100
	}
	return in
}
