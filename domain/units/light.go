package units

// LuxPerFootcandle is 1 lm/ft2 in lx: 1/0.3048^2.
const LuxPerFootcandle = 1 / SquareMetresPerSquareFoot

var lightFactors = map[string]float64{"lx": 1, "lux": 1, "fc": LuxPerFootcandle, "footcandle": LuxPerFootcandle, "footcandles": LuxPerFootcandle}

// Light prints an illuminance: footcandles to a tenth in US units, whole lx in SI.
func Light(e Lux, sys System) string {
	if sys != US {
		return Trim(float64(e), 0) + " lx"
	}
	return Trim(float64(e)/LuxPerFootcandle, 1) + " fc"
}

// ParseLight reads "300 lx" or "30 fc"; a bare number is in the unit that Light prints.
func ParseLight(text string, sys System) (Lux, error) {
	fallback := "lx"
	if sys == US {
		fallback = "fc"
	}
	v, err := In(text, fallback, lightFactors)
	return Lux(v), err
}
