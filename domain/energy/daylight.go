package energy

import (
	"fmt"

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
	Obstruction float64      // I_O, 1: nothing stands before it
}

// Depth is how deep the zone reaches: 2.5 (head - task), m. From memory of EN
// 15193:2007.
func (o Opening) Depth() units.Metres { return 2.5 * (o.Head - o.Task) }

// Bare is the rough daylight factor of the bare opening, percent:
// (4.13 + 20 I_T - 1.36 I_DE) I_O with I_T = opening over zone and I_DE = depth
// over (head - task). From memory of EN 15193:2007.
func (o Opening) Bare() float64 {
	zone := float64(o.Depth()) * float64(o.Width)
	if zone <= 0 {
		return 0
	}
	return (4.13 + 20*float64(o.Area)/zone - 1.36*2.5) * o.Obstruction
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

// line is a + b x latitude.
type line struct{ a, b float64 }

// F_DS by maintained illuminance and class, from memory of EN 15193:2007. 300 lx
// weak and 500 lx medium are the same pair as recalled: confirm those first.
var supply = map[int]map[Penetration]line{
	300: {Weak: {1.2425, -0.0117}, Medium: {1.3097, -0.0106}, Strong: {1.2904, -0.0088}},
	500: {Weak: {0.9432, -0.0094}, Medium: {1.2425, -0.0117}, Strong: {1.3220, -0.0110}},
	750: {Weak: {0.6692, -0.0067}, Medium: {1.0054, -0.0098}, Strong: {1.2812, -0.0121}},
}

// Latitudes between which the lines hold, degrees north.
const (
	SouthernLatitude = 38
	NorthernLatitude = 60
)

// DaylightSupply is F_DS for a latitude in degrees north, a maintained
// illuminance and a class. Between 300, 500 and 750 lx the nearest is taken.
// Latitudes outside of 38 to 60 are refused: the lines are not extrapolated.
func DaylightSupply(latitude float64, lx units.Lux, p Penetration) (float64, error) {
	if p == NoDaylight || p == "" {
		return 0, nil
	}
	if !(latitude >= SouthernLatitude && latitude <= NorthernLatitude) {
		return 0, fmt.Errorf("latitude %s is outside of %d to %d degrees north, for which the table holds", units.Trim(latitude, 1), SouthernLatitude, NorthernLatitude)
	}
	l, ok := supply[nearestRow(lx)][p]
	if !ok {
		return 0, fmt.Errorf("daylight class %q is not known", p)
	}
	return l.a + l.b*latitude, nil
}

func nearestRow(lx units.Lux) int {
	switch {
	case lx <= 400:
		return 300
	case lx <= 625:
		return 500
	}
	return 750
}

// DaylightControl is F_DC: manual control takes 0.20, 0.30 or 0.40 of what a
// weak, medium or strong sky supplies, automatic control 0.75, 0.77 or 0.85.
// From memory of EN 15193:2007.
func DaylightControl(p Penetration, automatic bool) float64 {
	manual := map[Penetration]float64{Weak: 0.20, Medium: 0.30, Strong: 0.40}
	if automatic {
		manual = map[Penetration]float64{Weak: 0.75, Medium: 0.77, Strong: 0.85}
	}
	return manual[p]
}
