package energy

import "scopewright/domain"

// Control is how lamps come on and go off, by which F_OC goes.
type Control string

// The controls of EN 15193:2007, from memory.
const (
	ManualBoth      Control = "manual on, manual off"
	ManualSweep     Control = "manual on and off, with a sweep that turns off"
	AutoOnDimmed    Control = "automatic on, dimmed when vacant"
	AutoBoth        Control = "automatic on, automatic off"
	ManualOnDimmed  Control = "manual or partial on, dimmed when vacant"
	ManualOnAutoOff Control = "manual or partial on, automatic off"
)

var controls = map[Control]float64{ManualBoth: 1, ManualSweep: 0.95, AutoOnDimmed: 0.95, AutoBoth: 0.90, ManualOnDimmed: 0.90, ManualOnAutoOff: 0.80}

// Factor gives F_OC of a control, from memory of EN 15193:2007; 1 for an unknown
// one.
func (c Control) Factor() float64 {
	if f, ok := controls[c]; ok {
		return f
	}
	return 1
}

// Profile is how a use of room is used: hours a year and the share of them in
// which it is empty.
type Profile struct {
	Day, Night float64
	Absence    float64
	Lx         float64
	Source     string
}

const (
	seen     = "DIN/TS 18599-10:2025, as an open transcription gives it"
	recalled = "EN 15193:2007, from memory, to be confirmed"
)

// ProfileOf gives the profile to start from for a use of room. Uses that neither
// source names take the nearest, and say so.
func ProfileOf(u domain.Use) Profile {
	if p, ok := profiles[u]; ok {
		return p
	}
	return Profile{2250, 250, 0.30, 500, recalled + "; office hours and a room of few people, as the use is not listed"}
}

var profiles = map[domain.Use]Profile{
	"office-private": {2543, 207, 0.30, 500, seen},
	"office-open":    {2543, 207, 0, 500, seen},
	"conference":     {2543, 207, 0.50, 500, seen},
	"classroom":      {1400, 0, 0.25, 300, seen},
	"retail":         {3009, 591, 0, 300, seen},
	"storage":        {2543, 207, 0.90, 100, seen},
	"break-room":     {1750, 0, 0.50, 200, seen + "; canteen; absence " + recalled},
	"workshop":       {2018, 52, 0.10, 500, seen},
	"warehouse":      {2500, 1500, 0.40, 100, recalled},
	"corridor":       {2250, 250, 0.40, 100, recalled},
	"stair":          {2250, 250, 0.20, 100, recalled},
	"lobby":          {2250, 250, 0, 200, recalled},
	"restroom":       {2250, 250, 0.90, 200, recalled},
	"copy-room":      {2250, 250, 0.50, 300, recalled},
	"electrical":     {2250, 250, 0.98, 200, recalled},
	"lab":            {1800, 200, 0.20, 500, recalled},
}
