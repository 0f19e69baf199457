package domain

import (
	"slices"

	"scopewright/domain/units"
)

// IntentKind is what an intent is about. The set is closed.
type IntentKind string

// The kinds of this first set.
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
)

// IntentKinds lists the kinds in the order in which a sequence states them.
func IntentKinds() []IntentKind {
	return []IntentKind{ByHand, ByPresence, ByDaylight, BySchedule, ForReceptacles, ByAV, ByContact, OnDemandResponse, OnPowerBack}
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

// Intent is one structured statement of what a room does. Kind says which
// fields count (see IntentFields); the others stay empty. Loads empty means
// all lighting loads, or all receptacles for a receptacle intent.
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
}

// Targets gives the IDs of the loads that the intent acts on in a design.
func (in *Intent) Targets(d *Design) []ID {
	if len(in.Loads) > 0 {
		return in.Loads
	}
	kind := Lighting
	if in.Kind == ForReceptacles {
		kind = Receptacle
	}
	var out []ID
	for i := range d.Loads {
		if d.Loads[i].Kind == kind {
			out = append(out, d.Loads[i].ID)
		}
	}
	return out
}

// ActsOn tells whether the intent acts on a load, without building a list.
func (in *Intent) ActsOn(l *Load) bool {
	if len(in.Loads) > 0 {
		return slices.Contains(in.Loads, l.ID)
	}
	return (l.Kind == Receptacle) == (in.Kind == ForReceptacles)
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
		in.Target, in.Lowest, in.Fade = 400, 10, 20
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
	}
	return in
}
