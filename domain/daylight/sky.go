package daylight

import (
	"math"

	"scopewright/domain/units"
)

// overcastHorizontal is the horizontal illuminance under an unobstructed overcast
// sky over its zenith luminance: 7 pi/9.
const overcastHorizontal = 7 * math.Pi / 9

// OvercastVertical is the illuminance of an unobstructed upright plane under the
// overcast sky, over that of a horizontal one, with black ground: (3 pi + 8)/(14 pi).
const OvercastVertical = (3*math.Pi + 8) / (14 * math.Pi)

// OvercastLuminance gives the luminance of the CIE standard overcast sky at an
// altitude in degrees, over that of the zenith: L = (1 + 2 sin g)/3, 0 below the
// horizon. Source: Moon and Spencer 1942, as the EnergyPlus Engineering Reference
// gives it.
func OvercastLuminance(altitude float64) float64 {
	if altitude < 0 {
		return 0
	}
	return (1 + 2*math.Sin(altitude*radians)) / 3
}

// OvercastZenith gives the zenith luminance in cd/m2 of the overcast sky that
// lights a horizontal plane with an illuminance: Lz = 9 E/(7 pi).
func OvercastZenith(horizontal units.Lux) float64 { return float64(horizontal) / overcastHorizontal }

// ClearLuminance gives the luminance of the CIE clear sky at an altitude of the
// sky point, above 0, over that of the zenith, for the sun's altitude and the
// angle between point and sun, all in degrees:
//
//	L = (0.91 + 10 exp(-3 x) + 0.45 cos2 x)(1 - exp(-0.32/sin g)) /
//	    (0.27385 (0.91 + 10 exp(-3 (pi/2 - gs)) + 0.45 sin2 gs))
//
// x and gs in radians. It is the sky alone, without the sun. Source: Kittler 1965,
// as the EnergyPlus Engineering Reference gives it.
func ClearLuminance(altitude, sun, between float64) float64 {
	if altitude <= 0 {
		return 0
	}
	return clearRelative(math.Sin(altitude*radians), math.Cos(between*radians), between*radians) / clearZenith(sun*radians)
}

func clearRelative(sinAltitude, cosBetween, between float64) float64 {
	return (0.91 + 10*math.Exp(-3*between) + 0.45*cosBetween*cosBetween) * (1 - math.Exp(-0.32/sinAltitude))
}

func clearZenith(sun float64) float64 {
	s := math.Sin(sun)
	return 0.27385 * (0.91 + 10*math.Exp(-3*(math.Pi/2-sun)) + 0.45*s*s)
}

// The rings and sectors by which the clear sky is summed.
const clearRings, clearSectors = 30, 72

// ClearVertical gives the illuminance of an unobstructed upright plane under the
// CIE clear sky over that of a horizontal one, both by the sky alone, with black
// ground. sun is the sun's altitude, 0 to 90 degrees, and aside the angle between
// the plane's outward normal and the sun's azimuth. It is summed over the sky.
// A plane that faces the sun gets several times what one that looks away gets;
// the overcast sky's OvercastVertical knows no orientation.
func ClearVertical(sun, aside float64) float64 { return clearUpright(sun, aside)[0] }

// clearUpright is ClearVertical for several planes under one sky.
func clearUpright(sun float64, asides ...float64) []float64 {
	sinSun, cosSun := math.Sincos(max(0, min(90, sun)) * radians)
	vertical, horizontal := make([]float64, len(asides)), 0.0
	for r := range clearRings {
		sin, cos := math.Sincos((float64(r) + 0.5) / clearRings * math.Pi / 2)
		for c := range clearSectors {
			turn := (float64(c) + 0.5) / clearSectors * 2 * math.Pi // from the sun
			cosBetween := max(-1, min(1, sin*sinSun+cos*cosSun*math.Cos(turn)))
			light := clearRelative(sin, cosBetween, math.Acos(cosBetween)) * cos
			horizontal += light * sin
			for k, aside := range asides {
				vertical[k] += light * cos * max(0, math.Cos(turn-aside*radians))
			}
		}
	}
	for k := range vertical {
		vertical[k] /= horizontal
	}
	return vertical
}
