package energy_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
)

// Arithmetic for owners: every expected value is worked by hand from kWh = W h/1000.

// Ten hours open, 6.5 h occupied, eight absences of an hour each.
func TestHoursWithSensor(t *testing.T) {
	eight := []float64{1, 1, 1, 1, 1, 1, 1, 1}
	for delay, want := range map[float64]float64{20.0 / 60: 9.1667, 10.0 / 60: 7.8333, 5.0 / 60: 7.1667} {
		assert.InDelta(t, want, energy.HoursWithSensor(6.5, delay, eight), 5e-5)
	}
	assert.Equal(t, 6.75, energy.HoursWithSensor(6.5, 0.5, []float64{0.25}), "an absence shorter than the delay saves nothing")
}

// 456 W for 12 h on 261 weekdays are 1,428.192 kWh. Left on in one night of ten, and
// on one weekend day of twenty: 456 x 0.1 x 12 x 261 + 456 x 0.05 x 24 x 104 = 199,728 Wh
// more, 1,627.920 kWh in all.
func TestHabit_leftOn(t *testing.T) {
	p := energy.Profile{Day: 12 * 261}
	open := energy.Zone{Area: 1, Power: 456, Day: p.Day, Held: 1, People: 1, Sky: 1}
	use, err := open.Use()
	require.NoError(t, err)
	assert.InDelta(t, 1428.192, use.Lamps, 5e-4)
	left := energy.Habit{Evenings: 0.1, Weekend: 0.05}.LeftOn(456, p)
	assert.InDelta(t, 199.728, left, 5e-4)
	assert.InDelta(t, 1627.920, use.Lamps+left, 5e-4)

	every := energy.Profile{Day: 4380, Night: 4380}
	assert.Zero(t, energy.Habit{Evenings: 1, Weekend: 1}.LeftOn(456, every), "open day and night: nothing can be left on")
	assert.Equal(t, energy.Habit{Evenings: 0.1, Weekend: 0.05}, energy.HabitOf(&domain.Project{}))
}

// 12 drivers of 0.3 W whose lamps burn for 3,120 x 0.76 h: 23.000 kWh.
func TestStandbyKWh(t *testing.T) {
	assert.InDelta(t, 23.000, energy.StandbyKWh(12*0.3, 3120*0.76), 5e-4)
}

// Factors multiply: 1 - 0.76 x 0.72 = 45.28 %, which leaves 778.512 of 1,422.72 kWh;
// by the published average of several strategies, 38 %, 882.086 are left.
func TestTogether(t *testing.T) {
	assert.InDelta(t, 0.4528, energy.UpperTogether(), 1e-12)
	assert.InDelta(t, 778.512, 1422.72*(1-energy.UpperTogether()), 1e-3)
	shares := map[string]float64{}
	for _, p := range energy.PublishedAverages() {
		shares[p.Strategy] = p.Share
	}
	assert.Equal(t, map[string]float64{"occupancy (sensors, schedules)": 0.24, "daylighting": 0.28, "personal tuning": 0.31, "institutional tuning": 0.36, "several together": 0.38}, shares)
	assert.InDelta(t, 882.086, 1422.72*(1-shares["several together"]), 1e-3)
	assert.Less(t, shares["several together"], energy.UpperTogether())
}

// 621.208 kWh at 0.18 are 111.82, at 0.35 kg/kWh 217.42 kg.
func TestMoney(t *testing.T) {
	p := &domain.Project{Currency: "USD", Rates: []domain.Rate{{ID: "tariff", Value: 0.18}, {ID: "carbon", Value: 0.35}, {ID: "controls", Value: 1118.2}}}
	m := energy.MoneyOf(p)
	cost, stated := m.Cost(621.208)
	assert.True(t, stated)
	assert.InDelta(t, 111.82, cost, 5e-3)
	kg, stated := m.Emitted(621.208)
	assert.True(t, stated)
	assert.InDelta(t, 217.42, kg, 5e-3)
	years, pays := m.Payback(621.208)
	assert.True(t, pays)
	assert.InDelta(t, 10, years, 1e-3)
	for _, kWh := range []float64{0, -5} {
		_, pays = m.Payback(kWh)
		assert.False(t, pays, "%g kWh", kWh)
	}

	none := energy.MoneyOf(&domain.Project{})
	_, stated = none.Cost(100)
	assert.False(t, stated, "no tariff is built in")
	_, stated = none.Emitted(100)
	assert.False(t, stated)
	_, pays = none.Payback(100)
	assert.False(t, pays)
	p.Rates = p.Rates[:2]
	_, pays = energy.MoneyOf(p).Payback(100)
	assert.False(t, pays, "what the controls cost is not stated")
}

func TestSum(t *testing.T) {
	year := func(lamps, standby, byHand float64, area units.SquareMetres) *energy.Year {
		y := &energy.Year{LENI: energy.Result{Area: area, Lines: []energy.Line{{Watts: 100}}, Use: energy.Use{Lamps: lamps, Standby: standby}, ByHand: energy.Use{Lamps: byHand}}}
		y.Setting.Profile.Day = 12 * 261
		return y
	}
	var s energy.Sum
	s.Add(year(100, 10, 150, 10), energy.Habit{})
	played := year(200, 30, 300, 30)
	played.Played = &energy.Played{Lamps: 180, Standby: 31}
	s.Add(played, energy.Habit{Evenings: 0.1})
	s.Add(&energy.Year{Problem: "no area"}, energy.Habit{})
	s.Add(&energy.Year{LENI: energy.Result{Area: 50}}, energy.Habit{})
	assert.Equal(t, 2, s.Rooms)
	assert.Equal(t, 1, s.Weeks)
	assert.InDelta(t, 211, s.Played, 1e-9)
	assert.InDelta(t, 8.5, s.LENI(), 1e-9, "340 kWh on 40 m2")
	assert.InDelta(t, 110.0/450, s.Saved(), 1e-12)
	assert.InDelta(t, 100*0.1*12*261/1000.0, s.LeftOn, 1e-9)
	assert.Zero(t, energy.Sum{}.LENI())
	assert.Zero(t, energy.Sum{}.Saved())
}
