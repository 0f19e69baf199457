package daylight_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	. "scopewright/domain/daylight"
)

var plains = Site{40, -105, time.FixedZone("MST", -7*3600)}

// A year of office hours at 40 N 105 W, 2025, reckoned by a program apart from this
// one: daylight factor times the IES sky's illuminance (1984, from memory), power by
// the EnergyPlus Engineering Reference with fLmin 0.1 and fPmin 0.2, 500 lx.
func TestYear(t *testing.T) {
	y := NewYear(plains, 2025, OfficeHours())
	assert.Len(t, y.Samples, 2610)
	assert.Equal(t, 103, y.Dark)
	weekend := NewYear(plains, 2025, Hours{Days: []time.Weekday{time.Saturday, time.Sunday}, Times: []int{12 * 60, 23 * 60}})
	assert.Len(t, weekend.Samples, 2*104)
	assert.Equal(t, 104, weekend.Dark)
	for _, c := range []struct {
		factor                    float64
		sky                       SkyOf
		light, power, off, enough float64
	}{
		{5, Always(Overcast), 0.22770, 0.31351, 0.17841, 0.60613},
		{5, Always(Clear), 0.16646, 0.25907, 0.09379, 0.74483},
		{5, Mixed(0.5), 0.19734, 0.28653, 0.13641, 0.67548},
		{2, Always(Overcast), 0.54073, 0.59176, 0.59176, 0},
		{2, Mixed(0.5), 0.54038, 0.59144, 0.59144, 0},
		{1, Always(Overcast), 0.77036, 0.79588, 0.79588, 0},
	} {
		o := y.Level(c.sky)
		n := Need{Factor: c.factor, Set: 500, Lamps: Dimming{LeastLight: 0.1, LeastPower: 0.2}}
		s := o.Saved(&n)
		assert.InDelta(t, c.light, s.Light, 0.00001, "%g %%", c.factor)
		assert.InDelta(t, c.power, s.Power, 0.00001)
		assert.InDelta(t, c.enough, s.Enough, 0.00001)
		n.Lamps.Off = true
		assert.InDelta(t, c.off, o.Saved(&n).Power, 0.00001)
	}
}

func TestMixed(t *testing.T) {
	count := func(share float64) (n int) {
		for day := 1; day <= 365; day++ {
			if Mixed(share)(day) == Overcast {
				n++
			}
		}
		return n
	}
	assert.Equal(t, Overcast, Mixed(0.5)(1))
	assert.Equal(t, Clear, Mixed(0.5)(2))
	assert.Equal(t, 183, count(0.5))
	assert.Equal(t, 365, count(1))
	assert.Zero(t, count(0))
	assert.Equal(t, 73, count(0.2))
}

// No published value: which way a window faces matters under a clear sky only, and
// north of the tropics the sun's side gets more of it. The same hours by a clock
// that keeps summer time fall elsewhere in the day.
func TestFacade(t *testing.T) {
	y := NewYear(plains, 2025, OfficeHours())
	n := Need{Factor: 2, Set: 500, Lamps: Dimming{LeastLight: 0.1, LeastPower: 0.2}}
	at := func(of SkyOf, facing float64) float64 { return y.Facade(of, facing).Saved(&n).Power }
	assert.InDelta(t, y.Level(Always(Overcast)).Saved(&n).Power, at(Always(Overcast), 180), 1e-12)
	assert.Less(t, at(Always(Clear), 180), at(Always(Clear), 0)-0.1)
	assert.Less(t, at(Always(Clear), 270), at(Always(Clear), 90), "six of the ten hours lie after noon")
	// Between the steps of the table it is read to within 2 % of the sum itself.
	for _, c := range []struct{ altitude, aside float64 }{{17.5, 22.5}, {42.5, 97.5}, {62.5, 172.5}} {
		want := ClearVertical(c.altitude, c.aside) / OvercastVertical
		one := Year{Samples: []Sample{{80, c.altitude, 180}}}
		got := one.Facade(Always(Clear), 180+c.aside).Saved(&Need{Factor: 100, Set: 1e6, Lamps: Dimming{}}).Light
		assert.InEpsilon(t, want, (1-got)*1e6/float64(SkyIlluminance(Clear, c.altitude)), 0.02, "%+v", c)
	}
	dst, err := time.LoadLocation("America/Denver")
	if err == nil {
		summer := NewYear(Site{40, -105, dst}, 2025, OfficeHours())
		assert.Len(t, summer.Samples, 2610)
		assert.NotEqual(t, y.Dark, summer.Dark)
	}
	dark := Outdoors{}
	assert.EqualValues(t, 1, dark.Saved(&n).Power)
}
