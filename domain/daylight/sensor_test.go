package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "scopewright/domain/daylight"
	"scopewright/domain/units"
)

// Two-point calibration of an open loop, arithmetic by hand.
func TestOpenLoop(t *testing.T) {
	o, err := CalibrateOpen(500, 550, 8000, 300, 0.1)
	require.NoError(t, err)
	assert.InDelta(t, 0.90909, o.Night, 0.000005)
	assert.InDelta(t, 6.81818e-5, o.Slope, 5e-11)
	assert.InDelta(t, 0.36364, o.Level(8000), 0.000005)
	assert.InDelta(t, 11866.7, float64(o.ReadingAt(0.1)), 0.05)
	assert.InDelta(t, 13333.3, float64(o.ReadingAt(0)), 0.05)
	for s, want := range map[float64]float64{0: 0.90909, 2000: 0.77273, 11000: 0.15909, 20000: 0.1} {
		assert.InDelta(t, want, o.Level(units.Lux(s)), 0.000005, "%g lx", s)
	}
	for _, c := range []struct {
		set, full, reading, task units.Lux
		says                     string
	}{
		{500, 550, 0, 300, "no daylight"}, {500, 550, 8000, 0, "measure it by day"}, {500, 550, 8000, -1, "measure it by day"}, {0, 550, 8000, 300, "above 0"},
		{500, 499, 8000, 300, "cannot reach"}, {500, 550, 8000, 1000, "patch of sun"},
	} {
		_, err := CalibrateOpen(c.set, c.full, c.reading, c.task, 0.1)
		assert.ErrorContains(t, err, c.says)
	}
	_, err = CalibrateOpen(500, 500, 8000, 999, 0.1)
	assert.NoError(t, err)
}

// Closed loop, proportional: the sensor reads 100 at night; by day 150 of daylight
// while the task gets 300 of 500 lx. Held at 500 lx while the ratio stays. Arithmetic
// by hand.
func TestClosedLoop(t *testing.T) {
	c, err := CalibrateClosed(100, 500, 150, 300, 0.1)
	require.NoError(t, err)
	assert.InDelta(t, -0.00666667, c.Gain, 5e-9)
	for day, want := range map[float64]float64{0: 1.0, 75: 0.7, 150: 0.4, 225: 0.1} {
		level := c.Level(units.Lux(day))
		assert.InDelta(t, want, level, 1e-9)
		assert.InDelta(t, 500, float64(TaskLight(500, level, units.Lux(day*2))), 1e-6)
		signal := day + level*100
		assert.InDelta(t, level, 1+c.Gain*(signal-100), 1e-9, "the loop stands still")
	}
	assert.InDelta(t, 0.1, c.Level(300), 1e-12)
	for _, bad := range []struct {
		night, set, day, task units.Lux
		says                  string
	}{{0, 500, 150, 300, "at night"}, {100, 0, 150, 300, "at night"}, {100, 500, 0, 300, "by day"}, {100, 500, 150, 0, "by day"}, {100, 500, 150, 500, "less than the target"}, {100, 500, 60, 300, "no more than at night"}} {
		_, err := CalibrateClosed(bad.night, bad.set, bad.day, bad.task, 0.1)
		assert.ErrorContains(t, err, bad.says)
	}
	_, err = CalibrateClosed(100, 500, 60.1, 300, 0.1)
	assert.NoError(t, err)
}

// Integral reset leaves the same task too dark: 275 and 350 lx of 500. By hand.
func TestReset(t *testing.T) {
	l := ResetLevel(100, 75, 0.1)
	assert.InDelta(t, 0.25, l, 1e-12)
	assert.InDelta(t, 275, float64(TaskLight(500, l, 150)), 1e-9)
	l = ResetLevel(100, 150, 0.1)
	assert.InDelta(t, 0.1, l, 1e-12)
	assert.InDelta(t, 350, float64(TaskLight(500, l, 300)), 1e-9)
	assert.EqualValues(t, 1, ResetLevel(0, 10, 0.1))
}

// Common practice, no published source: a dead band of 5 %, a fade of 1 % a second
// from 100 to 40 % in 60 s, reports every 15 s.
func TestBands(t *testing.T) {
	assert.True(t, Holds(0.5, 0.549, 0.05))
	assert.False(t, Holds(0.5, 0.55, 0.05))
	assert.False(t, Holds(0.5, 0.449, 0.05))
	assert.EqualValues(t, 60, FadeTime(1, 0.4, 0.01))
	assert.Zero(t, FadeTime(1, 0.4, 0))
	assert.EqualValues(t, 4, ChangesPerMinute(15))
	on, off := SwitchBand(500, 300, 50)
	assert.EqualValues(t, 500, on)
	assert.EqualValues(t, 850, off)
	assert.False(t, Hunts(on, off, 300))
	assert.True(t, Hunts(500, 800, 300))
	assert.False(t, Hunts(500, 801, 300))
}

// Power by wanted light: EnergyPlus Engineering Reference, arithmetic apart from
// this program.
func TestPower(t *testing.T) {
	third := 1.0 / 3
	lights := []float64{0.05, 0.10, 0.25, 0.50, 0.55, 0.75, 1}
	for d, row := range map[Dimming][]float64{
		{LeastLight: 0.1, LeastPower: 0.2}: {0.20000, 0.20000, 0.33333, 0.55556, 0.60000, 0.77778, 1},
		{LeastLight: 0.2, LeastPower: 0.3}: {0.30000, 0.30000, 0.34375, 0.56250, 0.60625, 0.78125, 1},
		{Steps: 3}:                         {third, third, third, 2 * third, 2 * third, 1, 1},
	} {
		for i, want := range row {
			assert.InDelta(t, want, d.Power(lights[i]), 0.000005, "%+v at %g", d, lights[i])
		}
	}
	off := Dimming{LeastLight: 0.1, LeastPower: 0.2, Off: true, Standby: 0.02}
	assert.EqualValues(t, 0.02, off.Power(0.0999))
	assert.InDelta(t, 0.2, off.Power(0.1), 1e-12)
	steps := Dimming{Steps: 3, Standby: 0.01}
	assert.EqualValues(t, 0.01, steps.Power(0))
	assert.InDelta(t, 0.4, WantedLight(500, 300, 500), 1e-12)
	assert.Zero(t, WantedLight(500, 600, 500))
	assert.EqualValues(t, 1, WantedLight(500, 0, 400))
	assert.Zero(t, WantedLight(500, 0, 0))
	assert.InDelta(t, 0.8, HighestWanted(500, 500, 300, 100, 900), 1e-12)
	assert.InDelta(t, 0.1, (&Dimming{LeastLight: 0.1}).Light(0.03), 1e-12)
	assert.Zero(t, off.Light(0.03))
	assert.InDelta(t, 2.0/3, steps.Light(0.4), 1e-12)
	assert.Zero(t, steps.Light(0))
}
