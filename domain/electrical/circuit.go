package electrical

import "scopewright/domain/units"

// Current gives the current of a single-phase load, I = P/(V pf), in A. A
// voltage or power factor that is not above 0 gives 0: it is not known.
func Current(p units.Watts, v units.Volts, pf float64) units.Amps {
	if v <= 0 || pf <= 0 {
		return 0
	}
	return units.Amps(float64(p) / (float64(v) * pf))
}

// MostWatts gives the watts that a rating carries at a share of it in percent:
// V A pf share.
func MostWatts(v units.Volts, rating units.Amps, pf, sharePercent float64) units.Watts {
	return units.Watts(float64(v) * float64(rating) * pf * sharePercent / 100)
}

// MostLuminaires gives how many luminaires of a power one rating carries at a
// share of it in percent; equality passes. 0 where something is not known.
func MostLuminaires(each units.Watts, v units.Volts, pf float64, rating units.Amps, sharePercent float64) int {
	one := Current(each, v, pf)
	if one <= 0 || rating <= 0 {
		return 0
	}
	n := 0
	for units.AtMost(float64(n+1)*float64(one), float64(rating)*sharePercent/100) {
		n++
	}
	return n
}

// standardRatings are breaker ratings in A: NEC 240.6(A) up to 100 A, from
// memory, and the IEC 60898 series.
var (
	necRatings = []units.Amps{15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100}
	iecRatings = []units.Amps{6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100}
)

// NextRating gives the least standard breaker rating that a continuous and a
// non-continuous current need: 125 % of the first and all of the second, NEC
// 210.19(A)(1) and 210.20(A). It is 0 where no rating up to 100 A does. The
// continuous part's factor is a percentage: 125, or 100 for assemblies so listed.
func NextRating(continuous, rest units.Amps, factorPercent float64, sys units.System) units.Amps {
	need := float64(continuous)*factorPercent/100 + float64(rest)
	list := iecRatings
	if sys == units.US {
		list = necRatings
	}
	for _, r := range list {
		if units.AtMost(need, float64(r)) {
			return r
		}
	}
	return 0
}
