package electrical_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "scopewright/domain/electrical"
	"scopewright/domain/units"
)

// Whole division with its limits: 60 mA carry 29 and 30 drivers of 2 mA, not 31
// (IEC 60929 Annex E's 2 mA, from memory); 60/0.1 must give 600 in floating point.
func TestDriversPerOutput(t *testing.T) {
	each := []units.Milliamps{2, 1.5, 1, 0.5, 0.25, 0.1}
	for sink, want := range map[units.Milliamps][]int{
		60: {30, 40, 60, 120, 240, 600}, 100: {50, 66, 100, 200, 400, 1000}, 50: {25, 33, 50, 100, 200, 500}, 25: {12, 16, 25, 50, 100, 250}, 20: {10, 13, 20, 40, 80, 200}, 10: {5, 6, 10, 20, 40, 100},
	} {
		for i, ma := range each {
			assert.Equal(t, want[i], DriversPerOutput(sink, ma), "%g mA of %g", sink, ma)
		}
	}
	assert.Zero(t, DriversPerOutput(60, 0))
	assert.Equal(t, 29, DriversPerOutput(59.999, 2))
}

const feet = units.MetresPerFoot

// Rise in V at the end of a pair at 60 mA, all at the end and 30 drivers evenly
// spaced. Resistances: NFPA 70 chapter 9 table 8, as reproduced on reference
// sites; the arithmetic was done by a script apart from this program.
func TestPairRise(t *testing.T) {
	for wire, rows := range map[Wire]map[float64][2]float64{
		AWG18: {100: {0.0954, 0.0493}, 200: {0.1908, 0.0986}, 300: {0.2862, 0.1479}, 500: {0.4770, 0.2464}, 1000: {0.9540, 0.4929}},
		AWG16: {100: {0.0599, 0.0309}, 200: {0.1198, 0.0619}, 300: {0.1796, 0.0928}, 500: {0.2994, 0.1547}, 1000: {0.5988, 0.3094}},
		AWG14: {100: {0.0377, 0.0195}, 200: {0.0754, 0.0389}, 300: {0.1130, 0.0584}, 500: {0.1884, 0.0973}, 1000: {0.3768, 0.1947}},
	} {
		r, err := wire.Resistance()
		require.NoError(t, err)
		for ft, want := range rows {
			length := units.Metres(ft * feet)
			assert.InDelta(t, want[0], float64(PairRise(60, r, length, 0)), 0.5e-4*1.01, "%s %g ft", wire, ft)
			assert.InDelta(t, want[1], float64(PairRise(60, r, length, 30)), 0.5e-4*1.01, "%s %g ft, 30 drivers", wire, ft)
		}
	}
	for _, m := range []struct {
		wire      Wire
		length    units.Metres
		end, even float64
	}{{MM1, 100, 0.2172, 0.1122}, {MM075, 100, 0.2940, 0.1519}, {MM15, 150, 0.2178, 0.1125}} {
		r, err := m.wire.Resistance()
		require.NoError(t, err)
		assert.InDelta(t, m.end, float64(PairRise(60, r, m.length, 0)), 0.5e-4, string(m.wire))
		assert.InDelta(t, m.even, float64(PairRise(60, r, m.length, 30)), 0.5e-4*1.01, string(m.wire))
	}
	assert.InDelta(t, 2.74, RiseShare(0.2464), 0.005)
}

// Longest runs for 1 % of the span, 0.09 V (same source).
func TestLongestRun(t *testing.T) {
	for wire, want := range map[Wire][2]float64{AWG18: {94.3, 182.6}, AWG16: {150.3, 290.9}, AWG14: {238.9, 462.3}} {
		r, err := wire.Resistance()
		require.NoError(t, err)
		assert.InDelta(t, want[0], float64(LongestRun(0.09, 60, r, 0))/feet, 0.051)
		assert.InDelta(t, want[1], float64(LongestRun(0.09, 60, r, 30))/feet, 0.051)
	}
	assert.True(t, math.IsInf(float64(LongestRun(0.09, 0, 0.02, 0)), 1))
}

// A rise of 0.2464 V shifts the light: 10 % becomes 12.46 % at a driver that
// goes to 10 %, and 1 % becomes 3.71 % at one that goes to 1 %.
func TestLevelShift(t *testing.T) {
	for _, c := range []struct{ lowest, asked, shown units.Level }{{10, 10, 12.46}, {10, 50, 52.46}, {10, 90, 92.46}, {1, 1, 3.71}, {1, 12, 14.71}} {
		got := LevelAt(ControlAt(c.asked, c.lowest)+0.2464, c.lowest)
		assert.InDelta(t, float64(c.shown), float64(got), 0.005, "%g %% of a driver to %g %%", c.asked, c.lowest)
	}
	assert.EqualValues(t, 100, LevelAt(11, 10))
	assert.EqualValues(t, 10, LevelAt(0, 10))
	rapid.Check(t, func(t *rapid.T) {
		lowest := units.Level(rapid.Float64Range(0, 99).Draw(t, "lowest"))
		asked := lowest + units.Level(rapid.Float64Range(0, 1).Draw(t, "asked"))*(100-lowest)
		if got := LevelAt(ControlAt(asked, lowest), lowest); math.Abs(float64(got-asked)) > 1e-9 {
			t.Fatalf("%g %% comes back as %g %%", asked, got)
		}
	})
}

// At 20 C copper has 0.8223 of its resistance at 75 C (computed; a reference
// site says about 82 %), and the 20 C wire table agrees within half a percent.
func TestResistanceAt(t *testing.T) {
	for wire, at20 := range map[Wire]float64{AWG18: 6.505, AWG16: 4.091, AWG14: 2.573} {
		hot, err := wire.Resistance()
		require.NoError(t, err)
		cold, err := wire.ResistanceAt(20)
		require.NoError(t, err)
		assert.InDelta(t, 0.8223, cold/hot, 0.00005)
		assert.InEpsilon(t, at20, cold*304.8, 0.006, "stranded wire is up to 2 %% longer than the solid one of the table")
	}
	_, err := AWG18.ResistanceAt(101)
	assert.ErrorContains(t, err, "-20 to 100")
	_, err = AWG18.ResistanceAt(100)
	assert.NoError(t, err)
	_, err = Wire("3 twigs").Resistance()
	assert.ErrorContains(t, err, "not in the table")
	for _, w := range Wires() {
		assert.True(t, w.Known())
		assert.NotEmpty(t, w.Source())
	}
}

// I = P/(V pf), worked apart from this program.
func TestCurrent(t *testing.T) {
	assert.InDelta(t, 2.0217, float64(Current(14*38, 277, 0.95)), 5e-5)
	assert.InDelta(t, 11.3043, float64(Current(24*52, 120, 0.92)), 5e-5)
	assert.InDelta(t, 5.4920, float64(Current(40*30, 230, 0.95)), 5e-5)
	assert.InDelta(t, 17.0068, float64(Current(20*100, 120, 0.98)), 5e-5)
	assert.Zero(t, Current(100, 0, 1))
}

// Ratings at 80 % (NEC 210.19(A)(1), 210.20(A)): one below, at and above.
func TestMostLuminaires(t *testing.T) {
	assert.Equal(t, 19, MostLuminaires(38, 120, 0.95, 8, 80))
	assert.Equal(t, 44, MostLuminaires(38, 277, 0.95, 8, 80))
	assert.Equal(t, 48, MostLuminaires(38, 120, 0.95, 20, 80), "48 draw 16 A exactly: equal passes")
	assert.Equal(t, 110, MostLuminaires(38, 277, 0.95, 20, 80))
	assert.Zero(t, MostLuminaires(0, 120, 1, 20, 80))
	for _, row := range []struct {
		v    units.Volts
		a    units.Amps
		want [2]float64
	}{{120, 15, [2]float64{1296, 1368}}, {120, 20, [2]float64{1728, 1824}}, {277, 15, [2]float64{2991.6, 3157.8}}, {277, 20, [2]float64{3988.8, 4210.4}}, {347, 15, [2]float64{3747.6, 3955.8}},
		{230, 10, [2]float64{1656, 1748}}, {230, 16, [2]float64{2649.6, 2796.8}}, {120, 8, [2]float64{691.2, 729.6}}, {277, 8, [2]float64{1595.5, 1684.2}}} {
		assert.InDelta(t, row.want[0], float64(MostWatts(row.v, row.a, 0.9, 80)), 0.06)
		assert.InDelta(t, row.want[1], float64(MostWatts(row.v, row.a, 0.95, 80)), 0.06)
	}
}

// 18 A x 1.25 = 22.5 A: 25 A is a standard rating of NEC 240.6 (from memory);
// a transport department's manual works the sum. 16 A ask for 20, 16.01 for more.
func TestNextRating(t *testing.T) {
	assert.EqualValues(t, 25, NextRating(18, 0, 125, units.US))
	assert.EqualValues(t, 20, NextRating(16, 0, 125, units.US))
	assert.EqualValues(t, 25, NextRating(16.01, 0, 125, units.US))
	assert.EqualValues(t, 20, NextRating(12, 5, 125, units.US))
	assert.EqualValues(t, 20, NextRating(20, 0, 100, units.US))
	assert.EqualValues(t, 16, NextRating(12.8, 0, 125, units.SI))
	assert.Zero(t, NextRating(81, 0, 125, units.US))
}

// 25 A and 200 us: 0.09375 A2s; 53 A and 260 us: 0.54775 A2s (computed apart).
func TestPulseEnergy(t *testing.T) {
	assert.InDelta(t, 0.09375, PulseEnergy(25, 200, 1), 1e-9)
	assert.InDelta(t, 0.547755, PulseEnergy(53, 260, 1), 1e-9)
	assert.InDelta(t, 9*0.09375, PulseEnergy(25, 200, 3), 1e-9)
	// The closed form against the integral of the pulse itself.
	const n, width, peak = 200000, 1.5 * 200e-6, 25.0
	sum := 0.0
	for i := range n {
		s := peak * math.Sin(math.Pi*(float64(i)+0.5)/n)
		sum += s * s * width / n
	}
	assert.InDelta(t, sum, PulseEnergy(25, 200, 1), 1e-9)
}

// Drivers per breaker by inrush at K 1 and 4, computed apart; trips of IEC 60898
// from memory.
func TestDriversPerBreaker(t *testing.T) {
	for _, row := range []struct {
		trip       Trip
		in         units.Amps
		k          float64
		peak       float64
		of25, of53 int
	}{
		{TripC, 10, 1, 70.7, 2, 1}, {TripC, 10, 4, 282.8, 11, 5}, {TripB, 16, 1, 67.9, 2, 1}, {TripB, 16, 4, 271.5, 10, 5}, {TripC, 16, 1, 113.1, 4, 2},
		{TripC, 16, 4, 452.5, 18, 8}, {TripC, 20, 1, 141.4, 5, 2}, {TripC, 20, 4, 565.7, 22, 10}, {TripD, 16, 1, 226.3, 9, 4}, {TripD, 16, 4, 905.1, 36, 17},
	} {
		assert.InDelta(t, row.peak, float64(AllowedPeak(row.in, row.trip, row.k)), 0.06)
		_, n, ok := DriversPerBreaker(row.in, row.trip, row.k, 80, 0.18307, 25)
		assert.True(t, ok)
		assert.Equal(t, row.of25, n)
		_, n, _ = DriversPerBreaker(row.in, row.trip, row.k, 80, 0.18307, 53)
		assert.Equal(t, row.of53, n)
	}
	byCurrent, byInrush, ok := DriversPerBreaker(16, TripC, 4, 80, 0.18307, 25)
	assert.Equal(t, []any{69, 18, true}, []any{byCurrent, byInrush, ok}, "inrush rules, not the current")
	_, _, ok = DriversPerBreaker(16, TripC, 4, 80, 0.18307, 0)
	assert.False(t, ok, "without data it is not checked")
}

// Supplies and inputs: 6 sensors of 0.9 W or 1 W on 6 W, not 7; 22 AWG over
// 1,000 ft at 20 mA drops 0.66 V; exactly 8 V is not high (common practice).
func TestSupply(t *testing.T) {
	assert.Equal(t, 6, SensorsPerSupply(6, 0.9))
	assert.Equal(t, 6, SensorsPerSupply(6, 1))
	assert.Equal(t, 60, SensorsPerSupply(6, 0.1))
	assert.Zero(t, SensorsPerSupply(6, 0))
	const r = 16.5 / 304.8
	length := units.Metres(1000 * feet)
	assert.InDelta(t, 11.34, float64(InputVoltage(12, 20, r, length)), 1e-9)
	assert.True(t, ReadsHigh(InputVoltage(9, 20, r, length)))
	assert.False(t, ReadsHigh(InputVoltage(8.66, 20, r, length)), "8.00 V is not high")
	assert.True(t, ReadsHigh(8.001))
	assert.False(t, ReadsHigh(7.999))
}

func TestPhaseCut(t *testing.T) {
	for _, c := range []struct {
		n                 LoadNature
		forward, backward Fitness
	}{{Resistive, Fits, Fits}, {Inductive, AsRated, Unfit}, {Capacitive, AsRated, Fits}, {LEDDriver, AsRated, AsRated}, {SignalDimmed, Unfit, Unfit}} {
		f, _ := PhaseCut(c.n, true)
		b, why := PhaseCut(c.n, false)
		assert.Equal(t, c.forward, f, string(c.n))
		assert.Equal(t, c.backward, b, string(c.n))
		assert.Equal(t, c.n == Resistive || c.n == Capacitive, why == "")
	}
}
