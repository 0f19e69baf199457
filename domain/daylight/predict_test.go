package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	. "scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// workplace is a room of 4 by 6 by 3 m with a luminaire 2 m from its south wall, at 40 N
// 105 W, without summer time. Its load dims to 10 % of light at 20 % of power, without
// standby, for 500 lx.
func workplace() *domaintest.Builder {
	b := domaintest.Classroom()
	lat, lon := 40.0, -105.0
	b.P.Latitude, b.P.Longitude, b.P.Zone = &lat, &lon, "America/Phoenix"
	b.P.Limits = append(domain.Limits{{ID: domain.GlazedShare, Value: 100}, {ID: domain.GlassMaintenance, Value: 100}, {ID: domain.DimmedPower, Value: 20}, {ID: domain.StandbyDriver, Value: 0}, {ID: domain.OvercastDays, Value: 50}}, b.P.Limits...)
	b.R.Outline, b.R.Ceiling = geom.Rectangle(0, 0, 4, 6), 3
	b.R.Fixtures = []domain.Fixture{{ID: "f1", Load: "l3", At: geom.Pt(2, 2)}}
	b.Set("intents/i3/target_lx", "500 lx", "intents/i3/lowest", "10")
	b.R.Plan = &domain.Plan{ID: "s1"}
	return b
}

func window() domain.Wall {
	return domain.Wall{ID: "south", A: geom.Pt(0, 0), B: geom.Pt(4, 0), Kind: domain.FullWall, Thickness: 0.2, Openings: []domain.Opening{{ID: "o", Kind: domain.Window, At: 0.5, Width: 3, Sill: 0.9, Head: 2.7}}}
}

func lightIn(t require.TestingT, b *domaintest.Builder) *Light {
	l, err := NewLight(NewSpace(b.P, b.R, AssumedOf(b.P)), InteriorOf(b.P))
	require.NoError(t, err)
	return l
}

// bring sets the glass so that the load has a daylight factor: it is in proportion.
func bring(t require.TestingT, b *domaintest.Builder, percent float64) *Light {
	now := b.P.Limits.Value(domain.GlassTransmittance)
	b.P.Limits = append(domain.Limits{{ID: domain.GlassTransmittance, Value: now * percent / lightIn(t, b).Under("l3").Mean}}, b.P.Limits...)
	return lightIn(t, b)
}

func yearOf(t require.TestingT, b *domaintest.Builder, hours float64) *Year {
	y, err := YearOf(b.P, UseHours(hours))
	require.NoError(t, err)
	return &y
}

// A year of office hours at 40 N 105 W, 2025, reckoned by a program apart from this one
// (see TestYear): under an overcast sky through a window, under the others through a
// rooflight, for which the sky's level illuminance counts.
func TestPredict_referenceYear(t *testing.T) {
	type saved struct{ light, power, enough float64 }
	check := func(want saved, got Saved) {
		assert.InDelta(t, want.light, got.Light, 0.00001)
		assert.InDelta(t, want.power, got.Power, 0.00001)
		assert.InDelta(t, want.enough, got.Enough, 0.00001)
	}
	for _, c := range []struct {
		factor                 float64
		roof                   bool
		overcast, clear, mixed saved
	}{
		{5, false, saved{0.22770, 0.31351, 0.60613}, saved{}, saved{}},
		{2, false, saved{0.54073, 0.59176, 0}, saved{}, saved{}},
		{1, false, saved{0.77036, 0.79588, 0}, saved{}, saved{}},
		{5, true, saved{0.22770, 0.31351, 0.60613}, saved{0.16646, 0.25907, 0.74483}, saved{0.19734, 0.28653, 0.67548}},
	} {
		b := workplace()
		if c.roof {
			b.R.Plan.Rooflights = []domain.Rooflight{{ID: "r", At: geom.Pt(2, 3), Width: 1, Length: 1}}
		} else {
			b.R.Plan.Walls = []domain.Wall{window()}
		}
		got := Predict(b.P, b.R, bring(t, b, c.factor), yearOf(t, b, 2610), 300)
		require.Len(t, got, 1, "the other loads have no luminaire on the plan")
		assert.EqualValues(t, "l3", got[0].Load.ID)
		assert.True(t, got[0].Follows())
		assert.EqualValues(t, 500, got[0].Set)
		assert.InDelta(t, c.factor, got[0].Under.Mean, 1e-9)
		check(c.overcast, got[0].Overcast)
		if c.roof {
			check(c.clear, got[0].Clear)
			check(c.mixed, got[0].Mixed)
			assert.Empty(t, got[0].Facing)
		} else {
			require.Len(t, got[0].Facing, 1)
			assert.InDelta(t, 180, got[0].Facing[0].Azimuth, 1e-9)
		}
	}
}

// No published value: what a load without an intent or a sensor would do is told apart
// from what it does.
func TestPredict_whoFollows(t *testing.T) {
	b := workplace()
	b.R.Plan.Walls = []domain.Wall{window()}
	b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: "f2", Load: "l1", At: geom.Pt(2, 5)})
	got := Predict(b.P, b.R, lightIn(t, b), yearOf(t, b, 2610), 300)
	require.Len(t, got, 2)
	assert.Nil(t, got[0].Intent)
	assert.False(t, got[0].Follows())
	assert.EqualValues(t, 300, got[0].Set, "no intent: the usual target")
	assert.True(t, got[1].Follows())
	b.Link("ds", 0, "", "l3", "-")
	got = Predict(b.P, b.R, lightIn(t, b), nil, 300)
	assert.False(t, got[1].Follows(), "no sensor acts on it")
	assert.Equal(t, Saved{Light: 1, Power: 1}, got[1].Mixed, "no year: nothing is saved")
	assert.Positive(t, got[1].Under.Mean)
}

// The mixed year lies between its two skies, whatever the share of overcast days, and
// equals one of them at either end.
func TestPredict_mixedBetween(t *testing.T) {
	b := workplace()
	b.R.Plan.Walls = []domain.Wall{window()}
	l, y := lightIn(t, b), yearOf(t, b, 2610)
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.OneOf(rapid.Just(0.0), rapid.Just(100.0), rapid.Float64Range(0, 100)).Draw(t, "overcast days")
		b.P.Limits = append(domain.Limits{{ID: domain.OvercastDays, Value: days}}, domain.GenericLimits()...)
		x := Predict(b.P, b.R, l, y, 500)[0]
		least, most := min(x.Overcast.Power, x.Clear.Power), max(x.Overcast.Power, x.Clear.Power)
		switch days {
		case 0:
			require.Equal(t, x.Clear, x.Mixed)
		case 100:
			require.Equal(t, x.Overcast, x.Mixed)
		default:
			require.True(t, x.Mixed.Power > least-0.03 && x.Mixed.Power < most+0.03, "which days are overcast shifts it by little")
		}
	})
}

func TestUseHours(t *testing.T) {
	assert.Equal(t, OfficeHours(), UseHours(2610))
	assert.Len(t, UseHours(1).Times, 1)
	assert.Equal(t, []int{13 * 60}, UseHours(261).Times)
	assert.Nil(t, UseHours(16*261).Days)
	assert.Len(t, UseHours(16*261).Times, 16)
	assert.Len(t, UseHours(16*261+1).Days, 7)
	assert.Len(t, UseHours(8760).Times, 24)
	assert.Equal(t, 30, UseHours(8760).Times[0])
	assert.Len(t, UseHours(99999).Times, 24)
}

func TestYearOf(t *testing.T) {
	b := workplace()
	assert.Equal(t, 103, yearOf(t, b, 2610).Dark, "as reckoned apart from this program, MST without summer time")
	b.P.Zone = ""
	assert.Equal(t, 103, yearOf(t, b, 2610).Dark, "105 W is in the zone 7 h behind")
	b.P.Zone = "Nowhere/Land"
	_, err := YearOf(b.P, UseHours(2610))
	assert.ErrorContains(t, err, "time zone")
	b.P.Longitude = nil
	_, err = YearOf(b.P, UseHours(2610))
	assert.ErrorContains(t, err, "latitude and longitude")
}

// What the intent and the luminaire say: the higher of their lowest levels, power as
// the limit says but not under the share of light; drivers of 0.4 W at 38 W each.
func TestLampsOf(t *testing.T) {
	b := domaintest.Classroom()
	load, in := b.R.Design.Load("l3"), &b.R.Design.Intents[2]
	require.Equal(t, domain.ByDaylight, in.Kind)
	of := func(lowest units.Level, off bool) Dimming {
		in.Lowest, in.MayOff = lowest, off
		return LampsOf(b.P, load, in)
	}
	standby := 0.4 / 38
	assert.Equal(t, Dimming{LeastLight: 0.1, LeastPower: 0.2, Standby: standby}, of(5, false), "the luminaire dims to 10 %")
	assert.Equal(t, Dimming{LeastLight: 0.1, LeastPower: 0.2, Standby: standby}, LampsOf(b.P, load, nil))
	assert.Equal(t, Dimming{LeastLight: 0.11, LeastPower: 0.2, Off: true, Standby: standby}, of(11, true))
	assert.Equal(t, Dimming{LeastLight: 0.3, LeastPower: 0.3, Standby: standby}, of(30, false))
	load.Dimming = "switched"
	assert.Equal(t, Dimming{LeastLight: 1, LeastPower: 1, Standby: standby}, of(10, false))
	d := of(10, true)
	assert.Equal(t, []float64{standby, 1, 1}, []float64{d.Power(0), d.Power(0.01), d.Power(1)})
}
