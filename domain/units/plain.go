package units

import "math"

// nearEnough is how far a printed value may lie from one that was stated in the
// other system: half a percent.
const nearEnough = 0.005

// PlainLength prints a length as a person would have typed it. One that is round to
// a hundredth of an inch or to a millimeter is printed as it is; one that was stated
// in the other system is rounded to the coarsest step within half a percent:
// 0.9 m is 2 ft 11.5 in, 8 in are 0.203 m.
func PlainLength(m Metres, sys System) string {
	if sys != US {
		return Length(Metres(plain(float64(m), 1000, 1, 0.1, 0.01, 0.001)), sys)
	}
	return Length(Metres(plain(float64(m)/MetresPerInch, 100, 12, 1, 0.5, 0.25, 0.1))*MetresPerInch, sys)
}

// PlainArea prints an area in the same way, with hundredths at most.
func PlainArea(a SquareMetres, sys System) string {
	v, unit := AreaIn(a, sys)
	return Trim(plain(v, 100, 100, 10, 1, 0.5, 0.1), 2) + " " + unit
}

// plain gives v where it is a whole number of parts of one, else the nearest
// multiple of the first step that lies near enough; v where none does.
func plain(v, parts float64, steps ...float64) float64 {
	if math.Abs(v*parts-math.Round(v*parts)) < 1e-6*parts {
		return v
	}
	for _, step := range steps {
		if near := math.Round(v/step) * step; math.Abs(near-v) <= nearEnough*math.Abs(v) {
			return near
		}
	}
	return v
}
