package energy

import (
	"math"

	"scopewright/domain/units"
)

// Penetration is how much daylight a zone has.
type Penetration string

// The classes.
const (
	NoDaylight Penetration = "none"
	Weak       Penetration = "weak"
	Medium     Penetration = "medium"
	Strong     Penetration = "strong"
)

// DaylightFactor is F_D = 1 - F_DS F_DC: what the sky supplies, of which the
// control takes its part. Without daylight it is 1.
func DaylightFactor(supply, control float64) float64 { return 1 - supply*control }

// Opening is a band of windows over a zone, for the rough daylight factor of
// the bare opening.
type Opening struct {
	Area        units.SquareMetres
	Head, Task  units.Metres // heights above the floor
	Width       units.Metres // of the zone
	Room        units.Metres // how deep the room is behind the band; 0: deeper than the zone
	Obstruction float64      // I_O, 1: nothing stands before it
}

// Depth is how deep the zone reaches, a_D: 2.5 (head - task) and no deeper than the
// room, m. From memory of EN 15193:2007.
func (o Opening) Depth() units.Metres {
	depth := 2.5 * (o.Head - o.Task)
	if o.Room > 0 {
		depth = min(depth, o.Room)
	}
	return depth
}

// Bare is the rough daylight factor of the bare opening, percent:
// (4.13 + 20 I_T - 1.36 I_DE) I_O with I_T = opening over zone and I_DE = depth
// over (head - task), not under 0. 0 where the head is not above the task. From
// memory of EN 15193:2007.
func (o Opening) Bare() float64 {
	depth := float64(o.Depth())
	zone := depth * float64(o.Width)
	if zone <= 0 || o.Head <= o.Task {
		return 0
	}
	return max(0, (4.13+20*float64(o.Area)/zone-1.36*depth/float64(o.Head-o.Task))*o.Obstruction)
}

// Obstruction gives I_O of something endless along the facade whose top stands at
// an altitude in degrees, seen from the middle of the glass: cos 1.5 g below 60
// degrees, 0 from there. From memory of EN 15193:2007.
func Obstruction(altitude float64) float64 {
	switch {
	case altitude <= 0:
		return 1
	case altitude >= 60:
		return 0
	}
	return math.Cos(1.5 * altitude * math.Pi / 180)
}

// BareClass gives the class by the bare daylight factor in percent: 6 and over
// strong, 4 medium, 2 weak. From memory.
func BareClass(percent float64) Penetration { return class(percent, 6, 4, 2) }

// FinishedClass gives the class by the daylight factor behind glass, frame and
// dirt: 3 and over strong, 2 medium, 1 weak. From memory. It and BareClass can
// disagree: say which was used.
func FinishedClass(percent float64) Penetration { return class(percent, 3, 2, 1) }

func class(percent, strong, medium, weak float64) Penetration {
	switch {
	case percent >= strong:
		return Strong
	case percent >= medium:
		return Medium
	case percent >= weak:
		return Weak
	}
	return NoDaylight
}
