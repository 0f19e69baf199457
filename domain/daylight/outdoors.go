package daylight

import (
	"math"

	"scopewright/domain/units"
)

// Sky is a class of skies.
type Sky string

// The classes.
const (
	Overcast Sky = "overcast"
	Partly   Sky = "partly cloudy"
	Clear    Sky = "clear"
)

// SkyIlluminance gives the horizontal illuminance of the sky alone, without the
// sun, for the sun's altitude in degrees, s = sin a:
//
//	overcast 300 + 21,000 s, partly cloudy 300 + 45,000 s, clear 800 + 15,500 s^0.5 lx
//
// 0 with the sun down. Actual instants under one class can be half or double of
// it. Source: IES recommended practice for daylight availability, 1984, from
// memory; the overcast one is Krochmann's.
func SkyIlluminance(sky Sky, altitude float64) units.Lux {
	if altitude <= 0 {
		return 0
	}
	s := math.Sin(min(altitude, 90) * radians)
	switch sky {
	case Partly:
		return units.Lux(300 + 45000*s)
	case Clear:
		return units.Lux(800 + 15500*math.Sqrt(s))
	}
	return units.Lux(300 + 21000*s)
}

// Extraterrestrial gives the sun's illuminance outside of the air on a day of the
// year, 1 to 366: 127,500 (1 + 0.034 cos(2 pi (n - 2)/365)) lx. Source as for
// SkyIlluminance; other works differ by 0.4 %.
func Extraterrestrial(day int) units.Lux {
	return units.Lux(127500 * (1 + 0.034*math.Cos(2*math.Pi*float64(day-2)/365)))
}

// SunNormal gives the illuminance of a plane that faces the sun, by the sun alone:
// Eext exp(-c m), m = 1/sin a, c = 0.21 for a clear sky and 0.80 for a partly
// cloudy one; none under an overcast sky. Source as for SkyIlluminance.
func SunNormal(sky Sky, altitude float64, day int) units.Lux {
	if altitude <= 0 || sky == Overcast {
		return 0
	}
	c := 0.21
	if sky == Partly {
		c = 0.80
	}
	return Extraterrestrial(day) * units.Lux(math.Exp(-c/math.Sin(min(altitude, 90)*radians)))
}

// SunHorizontal gives what the sun alone adds on a horizontal plane: SunNormal sin a.
func SunHorizontal(sky Sky, altitude float64, day int) units.Lux {
	return SunNormal(sky, altitude, day) * units.Lux(math.Sin(max(0, min(altitude, 90))*radians))
}

// AirMass gives how much more air than from the zenith the sun's light passes, for
// an altitude of 0 to 90 degrees: 1/(s + 0.50572 (a + 6.07995)^-1.6364). It is
// good to the horizon, where 1/s is not. Source: Kasten and Young 1989.
func AirMass(altitude float64) float64 {
	a := max(0, min(altitude, 90))
	return 1 / (math.Sin(a*radians) + 0.50572*math.Pow(a+6.07995, -1.6364))
}

// GlobalIrradiance gives the irradiance of a horizontal plane in W/m2 for the sun's
// altitude in degrees and the eighths of the sky that clouds cover, 0 to 8:
// (910 s - 30)(1 - 0.75 (N/8)^3.4), not under 0. Source: Kasten and Czeplak 1980,
// from memory.
func GlobalIrradiance(altitude, eighths float64) float64 {
	clear := max(0, 910*math.Sin(max(0, min(altitude, 90))*radians)-30)
	return clear * (1 - 0.75*math.Pow(max(0, min(eighths, 8))/8, 3.4))
}

// Luminous efficacy of daylight in lm/W, from memory: the rough figures for sun and
// sky together and for the sky alone.
const (
	GlobalEfficacy  = 110.0
	DiffuseEfficacy = 120.0
)

// FromIrradiance gives the illuminance of an irradiance in W/m2.
func FromIrradiance(w, efficacy float64) units.Lux { return units.Lux(w * efficacy) }
