// Package sun tells where the sun stands and when it rises and sets, by the
// low-precision method of NOAA after Meeus. Within 0.02 degrees of the NREL's
// solar position algorithm in this century, which is enough for lighting.
package sun

import (
	"math"
	"time"
)

// Position is where the sun stands, in degrees. Elevation is geometric, without
// refraction; Azimuth counts clockwise from north.
type Position struct {
	Elevation, Azimuth float64
	Declination        float64
	Equation           float64 // of time, minutes
}

const radians = math.Pi / 180

func sind(d float64) float64 { return math.Sin(d * radians) }
func cosd(d float64) float64 { return math.Cos(d * radians) }

// At gives the sun's position at an instant for a latitude and longitude in
// degrees, north and east above 0. Source: NOAA solar calculator after Meeus,
// Astronomical Algorithms (from memory; checked against published SPA cases).
// It holds from 1900 to 2100. With the sun in the zenith the azimuth means nothing.
func At(t time.Time, latitude, longitude float64) Position {
	utc := t.UTC()
	days := float64(utc.Unix())/86400 + float64(utc.Nanosecond())/86400e9 + 2440587.5 - 2451545
	p := parts(days / 36525)
	minutes := math.Mod(float64(utc.Unix())/60, 1440) + float64(utc.Nanosecond())/60e9
	hour := math.Mod((minutes+p.Equation+4*longitude)/4-180, 360)
	if hour < -180 {
		hour += 360
	}
	if hour > 180 {
		hour -= 360
	}
	cosz := sind(latitude)*sind(p.Declination) + cosd(latitude)*cosd(p.Declination)*cosd(hour)
	p.Elevation = 90 - math.Acos(max(-1, min(1, cosz)))/radians
	p.Azimuth = math.Mod(180+math.Atan2(sind(hour), cosd(hour)*sind(latitude)-math.Tan(p.Declination*radians)*cosd(latitude))/radians+360, 360)
	return p
}

// parts gives declination and equation of time at T Julian centuries of 2000.
func parts(t float64) (p Position) {
	l0 := math.Mod(280.46646+t*(36000.76983+0.0003032*t), 360)
	m := 357.52911 + t*(35999.05029-0.0001537*t)
	e := 0.016708634 - t*(0.000042037+1.267e-7*t)
	c := sind(m)*(1.914602-t*(0.004817+0.000014*t)) + sind(2*m)*(0.019993-0.000101*t) + 0.000289*sind(3*m)
	node := 125.04 - 1934.136*t
	lambda := l0 + c - 0.00569 - 0.00478*sind(node)
	eps := 23 + (26+(21.448-t*(46.815+t*(0.00059-0.001813*t)))/60)/60 + 0.00256*cosd(node)
	p.Declination = math.Asin(sind(eps)*sind(lambda)) / radians
	y := math.Pow(math.Tan(eps/2*radians), 2)
	p.Equation = 4 / radians * (y*sind(2*l0) - 2*e*sind(m) + 4*e*y*sind(m)*cosd(2*l0) - 0.5*y*y*sind(4*l0) - 1.25*e*e*sind(2*m))
	return p
}

// Refraction gives how much higher the sun seems than it stands, degrees, at sea
// level (NOAA; from memory).
func Refraction(elevation float64) float64 {
	switch tan := math.Tan(elevation * radians); {
	case elevation > 85:
		return 0
	case elevation > 5:
		return (58.1/tan - 0.07/math.Pow(tan, 3) + 0.000086/math.Pow(tan, 5)) / 3600
	case elevation > -0.575:
		return (1735 + elevation*(-518.2+elevation*(103.4+elevation*(-12.79+elevation*0.711)))) / 3600
	default:
		return -20.772 / tan / 3600
	}
}

// horizon is the elevation of the sun's center as it rises and sets: half of its
// disc and the refraction at the horizon, 50 arc minutes.
const horizon = -0.833

// RiseAndSet gives sunrise and sunset on a day of the place's own calendar, in
// the zone of that day. ok is false where the sun does not cross the horizon.
func RiseAndSet(day time.Time, latitude, longitude float64) (rise, set time.Time, ok bool) {
	noon := solarNoon(day, longitude)
	rise, up := crossing(noon, latitude, longitude, -1)
	set, down := crossing(noon, latitude, longitude, 1)
	return rise.In(day.Location()), set.In(day.Location()), up && down
}

// solarNoon gives the sun's noon on the calendar day of a time.
func solarNoon(day time.Time, longitude float64) time.Time {
	y, m, d := day.Date()
	noon := time.Date(y, m, d, 12, 0, 0, 0, time.UTC).Add(-minutes(4 * longitude))
	for range 2 {
		noon = time.Date(y, m, d, 12, 0, 0, 0, time.UTC).Add(-minutes(4*longitude + At(noon, 0, longitude).Equation))
	}
	return noon
}

func minutes(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

// crossing refines the hour angle of the horizon, cos H = (sin h - sin lat sin
// d)/(cos lat cos d), with the declination at the time itself.
func crossing(noon time.Time, latitude, longitude, side float64) (time.Time, bool) {
	t := noon
	for range 4 {
		p := At(t, latitude, longitude)
		cosH := (sind(horizon) - sind(latitude)*sind(p.Declination)) / (cosd(latitude) * cosd(p.Declination))
		if math.Abs(cosH) > 1 || math.IsNaN(cosH) {
			return noon, false
		}
		drift := At(noon, latitude, longitude).Equation - p.Equation
		t = noon.Add(minutes(side*4*math.Acos(cosH)/radians + drift))
	}
	return t, true
}
