package sun_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/sun"
)

// century draws an instant in the years for which the method holds.
func century(t *rapid.T) time.Time {
	from, to := time.Date(1901, 1, 1, 0, 0, 0, 0, time.UTC).Unix(), time.Date(2099, 12, 31, 0, 0, 0, 0, time.UTC).Unix()
	return time.Unix(rapid.Int64Range(from, to).Draw(t, "instant"), 0).UTC()
}

// The declination stays within the obliquity of the ecliptic, some 23.45 degrees in
// this century and the last, and the equation of time within 17 minutes (figures
// of any almanac; from memory).
func TestAt_staysWithinTheSky(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sun.At(century(t), rapid.Float64Range(-90, 90).Draw(t, "latitude"), rapid.Float64Range(-180, 180).Draw(t, "longitude"))
		require.LessOrEqual(t, math.Abs(p.Declination), 23.46)
		require.LessOrEqual(t, math.Abs(p.Equation), 17.0)
		require.LessOrEqual(t, math.Abs(p.Elevation), 90.0)
		require.GreaterOrEqual(t, p.Azimuth, 0.0)
		require.LessOrEqual(t, p.Azimuth, 360.0)
	})
}

// The same instant is told alike in every zone, and the places on one circle of
// latitude see the same sky one after another: 15 degrees an hour, but for what the
// sun moves among the stars in that hour, under 0.02 degrees of declination and a
// second of its clock.
func TestAt_turnsWithTheEarth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at, lat, lon := century(t), rapid.Float64Range(-80, 80).Draw(t, "latitude"), rapid.Float64Range(-150, 150).Draw(t, "longitude")
		here := sun.At(at, lat, lon)
		zone := time.FixedZone("", rapid.IntRange(-12, 14).Draw(t, "zone")*3600)
		require.Equal(t, here, sun.At(at.In(zone), lat, lon))
		there := sun.At(at.Add(time.Hour), lat, lon-15)
		require.InDelta(t, here.Elevation, there.Elevation, 0.025)
	})
}

// At the sun's noon it stands in the meridian, 90 degrees less what latitude and
// declination differ by.
func TestAt_noonIsHighest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := century(t).Truncate(24 * time.Hour)
		lat := rapid.Float64Range(-66, 66).Draw(t, "latitude")
		lon := rapid.Float64Range(-170, 170).Draw(t, "longitude")
		clock := 12*60 - 4*lon
		for range 3 {
			clock = 12*60 - 4*lon - sun.At(day.Add(time.Duration(clock*float64(time.Minute))), lat, lon).Equation
		}
		p := sun.At(day.Add(time.Duration(clock*float64(time.Minute))), lat, lon)
		require.InDelta(t, 90-math.Abs(lat-p.Declination), p.Elevation, 0.001)
	})
}

// Sunrise and sunset have the sun at -0.833 degrees (the definition of NOAA and of
// the almanacs), rise comes first, both lie around the noon of the day asked for,
// and the sun is up between and down outside of them.
func TestRiseAndSet_crossesTheHorizon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat, lon := rapid.Float64Range(-62, 62).Draw(t, "latitude"), rapid.Float64Range(-179, 179).Draw(t, "longitude")
		zone := time.FixedZone("", int(math.Round(lon/15))*3600)
		y, m, d := century(t).Date()
		day := time.Date(y, m, d, rapid.IntRange(0, 23).Draw(t, "hour"), 0, 0, 0, zone)
		rise, set, ok := sun.RiseAndSet(day, lat, lon)
		require.True(t, ok, "between the polar circles the sun rises every day")
		require.Equal(t, zone, rise.Location())
		require.InDelta(t, -0.833, sun.At(rise, lat, lon).Elevation, 0.001)
		require.InDelta(t, -0.833, sun.At(set, lat, lon).Elevation, 0.001)
		require.True(t, rise.Before(set))
		require.Less(t, set.Sub(rise), 24*time.Hour)
		noon := time.Date(y, m, d, 12, 0, 0, 0, zone)
		require.WithinDuration(t, noon, rise.Add(set.Sub(rise)/2), 50*time.Minute)
		require.Greater(t, sun.At(rise.Add(time.Minute), lat, lon).Elevation, -0.833)
		require.Less(t, sun.At(rise.Add(-time.Minute), lat, lon).Elevation, -0.833)
		require.Greater(t, sun.At(set.Add(-time.Minute), lat, lon).Elevation, -0.833)
		require.Less(t, sun.At(set.Add(time.Minute), lat, lon).Elevation, -0.833)
	})
}

// Where it is said that the sun does not cross the horizon, it stays on one side
// of it from the noon to the midnights around, but for days at the very edge.
func TestRiseAndSet_polarDaysAndNights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(66, 89).Draw(t, "latitude") * rapid.SampledFrom([]float64{1, -1}).Draw(t, "side")
		y, m, d := century(t).Date()
		noon := time.Date(y, m, d, 12, 0, 0, 0, time.UTC)
		_, _, ok := sun.RiseAndSet(noon, lat, 0)
		high, low := -90.0, 90.0
		for h := -12; h <= 12; h++ {
			e := sun.At(noon.Add(time.Duration(h)*time.Hour), lat, 0).Elevation
			high, low = max(high, e), min(low, e)
		}
		edge := min(math.Abs(high+0.833), math.Abs(low+0.833)) < 0.6 // a day moves the sun by up to 0.4 degrees
		require.True(t, edge || ok == (high > -0.833 && low < -0.833), "ok %v, from %.2f to %.2f degrees", ok, low, high)
	})
}

// The year has its longest day at the June solstice in the north and its shortest
// in the south, and some 12 h and a few minutes everywhere at the equinoxes.
func TestRiseAndSet_seasons(t *testing.T) {
	length := func(month time.Month, day int, lat float64) time.Duration {
		rise, set, ok := sun.RiseAndSet(time.Date(2025, month, day, 12, 0, 0, 0, time.UTC), lat, 0)
		require.True(t, ok)
		return set.Sub(rise)
	}
	for _, lat := range []float64{35, 51.5, 60} {
		for day := 1; day <= 30; day++ {
			require.LessOrEqual(t, length(time.June, day, lat), length(time.June, 21, lat)+time.Second)
			require.GreaterOrEqual(t, length(time.June, day, -lat), length(time.June, 21, -lat)-time.Second)
		}
		require.InDelta(t, 12*60+10, length(time.March, 20, lat).Minutes(), 8, "12 h, half the disc and the refraction at both ends")
	}
}
