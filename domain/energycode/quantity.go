package energycode

import (
	"math"

	"scopewright/domain/units"
)

// squareFeet gives an area in the unit of the codes; 1 ft = 0.3048 m exactly.
func squareFeet(a units.SquareMetres) float64 { return float64(a) / units.SquareMetresPerSquareFoot }

// area prints an area that a code states in ft2, in an SI project with the code's
// own figure behind it.
func areaWords(ft2 float64, sys units.System) string {
	own := units.Trim(ft2, 1) + " sq ft"
	if sys == units.US {
		return own
	}
	return units.Trim(ft2*units.SquareMetresPerSquareFoot, 1) + " m2 (" + own + ")"
}

// densityWords prints a power density that a code states in W/ft2.
func densityWords(wattsFt2 float64, sys units.System) string {
	own := units.Trim(wattsFt2, 3) + " W/ft2"
	if sys == units.US {
		return own
	}
	return units.Trim(wattsFt2/units.SquareMetresPerSquareFoot, 2) + " W/m2 (" + own + ")"
}

func wattWords(w float64) string { return units.Trim(w, 1) + " W" }

func percentWords(share float64) string { return units.Trim(100*share, 1) + " %" }

// minutes gives seconds in the unit of the codes.
func minutes(s units.Seconds) float64 { return float64(s) / 60 }

// Keeps tells whether a value keeps a figure by its sign. What lies within
// units.Tolerance of the figure counts as equal to it.
func (s Sign) Keeps(v, figure float64) bool {
	near := units.Tolerance * math.Max(1, math.Abs(figure))
	switch s {
	case AtLeast:
		return v >= figure-near
	case AtMost:
		return v <= figure+near
	case MoreThan:
		return v > figure+near
	case LessThan:
		return v < figure-near
	}
	return false
}

// howMany gives how many parts of at most a size an area needs, N = ceil(area/most),
// at least 1. Both in ft2.
func howMany(ft2, most float64) int {
	if most <= 0 {
		return 1
	}
	return max(1, roundUp(ft2/most))
}

// roundUp gives ceil(v); a remainder within units.Tolerance counts for nothing.
func roundUp(v float64) int { return int(math.Ceil(v - units.Tolerance*math.Max(1, v))) }
