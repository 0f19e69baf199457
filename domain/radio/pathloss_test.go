package radio_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	. "scopewright/domain/radio"
	"scopewright/domain/units"
)

var distances = []units.Metres{5, 10, 20, 30}

// Computed apart from this program by a script from the formulas of ITU-R P.525
// and the log-distance model.
func TestFreeSpaceAndLogDistance(t *testing.T) {
	for _, row := range []struct {
		n    float64
		want [5]float64
	}{{2, [5]float64{40.23, 54.21, 60.23, 66.25, 69.77}}, {1.8, [5]float64{40.23, 52.81, 58.23, 63.65, 66.82}}, {3, [5]float64{40.23, 61.20, 70.23, 79.26, 84.54}}, {3.3, [5]float64{40.23, 63.30, 73.23, 83.17, 88.98}}} {
		for i, d := range []units.Metres{1, 5, 10, 20, 30} {
			assert.InDelta(t, row.want[i], LogDistance(d, 2450, row.n), 0.005, "n %g at %g m", row.n, d)
			if row.n == 2 {
				assert.InDelta(t, row.want[i], FreeSpace(d, 2450), 0.005)
			}
		}
	}
	assert.InDelta(t, 40.05, FreeSpace(1, 2400), 0.005)
	assert.Equal(t, FreeSpace(1, 2450), FreeSpace(0.2, 2450), "nearer than 1 m counts as 1 m")
	assert.InDelta(t, 20*math.Log10(10)+20*math.Log10(2450)-27.55, FreeSpace(10, 2450), 0.005, "the usual short form")
}

// ITU-R P.1238 up to edition 10 with the coefficients of 1.8 to 2 GHz: values
// computed by its formula, which an open network simulator holds alike.
func TestIndoor1238(t *testing.T) {
	for _, row := range []struct {
		s     Surroundings
		mhz   float64
		want  [4][3]float64
		sigma float64
	}{
		{Office, 2450, [4][3]float64{{60.8, 75.8, 79.8}, {69.8, 84.8, 88.8}, {78.8, 93.8, 97.8}, {84.1, 99.1, 103.1}}, 10},
		{Office, 2400, [4][3]float64{{60.6, 75.6, 79.6}, {69.6, 84.6, 88.6}, {78.6, 93.6, 97.6}, {83.9, 98.9, 102.9}}, 10},
		{Commercial, 2450, [4][3]float64{{55.2, 61.2, 64.2}, {61.8, 67.8, 70.8}, {68.4, 74.4, 77.4}, {72.3, 78.3, 81.3}}, 10},
		{Residential, 2450, [4][3]float64{{59.4, 63.4, 67.4}, {67.8, 71.8, 75.8}, {76.2, 80.2, 84.2}, {81.1, 85.1, 89.1}}, 8},
	} {
		for i, d := range distances {
			for floors := range 3 {
				got, sigma := Indoor1238(row.s, d, floors, row.mhz)
				assert.InDelta(t, row.want[i][floors], got, 0.051, "%s, %g MHz, %g m, %d floors", row.s, row.mhz, d, floors)
				assert.Equal(t, row.sigma, sigma)
			}
		}
	}
	for _, c := range []struct {
		s      Surroundings
		mhz    float64
		d      units.Metres
		floors int
		want   float64
	}{{Office, 2400, 10, 0, 69.60}, {Office, 2450, 20, 1, 93.81}, {Residential, 2450, 5, 0, 59.35}, {Commercial, 2450, 30, 2, 81.28}} {
		got, _ := Indoor1238(c.s, c.d, c.floors, c.mhz)
		assert.InDelta(t, c.want, got, 0.005)
	}
}

// ITU-R P.1238-11 table 2 and P.1238-13: values by the formula; the source of the
// latter prints 56.1, 63.3 and 70.5 dB at its band center of 2.437 GHz.
func TestRow1238(t *testing.T) {
	for _, c := range []struct {
		row  Row1238
		want [4]float64
	}{
		{OfficeInSight, [4]float64{52.73, 57.12, 61.52, 64.09}}, {OfficeBehindWalls11, [4]float64{55.99, 63.39, 70.80, 75.13}},
		{CorridorInSight, [4]float64{48.27, 53.18, 58.08, 60.95}}, {CorridorBehindWalls, [4]float64{58.28, 66.62, 74.96, 79.84}},
		{IndustrialInSight, [4]float64{48.68, 55.64, 62.59, 66.66}}, {IndustrialBehind, [4]float64{52.72, 64.12, 75.53, 82.21}},
		{OfficeBehindWalls, [4]float64{56.18, 63.37, 70.56, 74.77}},
	} {
		for i, d := range distances {
			got, _ := c.row.Loss(d, 2450)
			assert.InDelta(t, c.want[i], got, 0.0051, "%s at %g m", c.row.Name, d)
		}
	}
	for i, want := range []float64{56.12, 63.31, 70.51} {
		got, in := OfficeBehindWalls.Loss(distances[i], 2437)
		assert.InDelta(t, want, got, 0.005)
		assert.True(t, in)
	}
	for _, c := range []struct {
		row Row1238
		d   units.Metres
		in  bool
	}{{OfficeInSight, 27, true}, {OfficeInSight, 27.01, false}, {OfficeInSight, 2, true}, {OfficeInSight, 1.99, false}, {IndustrialBehind, 4.99, false}, {IndustrialBehind, 5, true}} {
		_, in := c.row.Loss(c.d, 2450)
		assert.Equal(t, c.in, in, "%s at %g m", c.row.Name, c.d)
	}
}

// COST 231 multi-wall, computed apart with floating-point exponents: whole-number
// division in the floor term is a known trap of copied code.
func TestMultiWall(t *testing.T) {
	for _, c := range []struct {
		d                    units.Metres
		light, heavy, floors int
		want                 float64
	}{{10, 0, 0, 0, 60.23}, {10, 2, 0, 0, 67.03}, {10, 0, 2, 0, 74.03}, {20, 1, 1, 0, 76.55}, {10, 0, 0, 1, 78.53}, {10, 0, 0, 2, 93.75}, {20, 2, 1, 1, 98.25}, {15, 3, 0, 3, 117.54}} {
		assert.InDelta(t, c.want, MultiWall(c.d, 2450, c.light, c.heavy, c.floors), 0.0051)
	}
	for floors, want := range []float64{0, 18.30, 33.52, 43.59, 51.05} {
		assert.InDelta(t, want, MultiWall(1, 2450, 0, 0, floors)-FreeSpace(1, 2450), 0.0051)
	}
}

// Fade margins: z of the normal distribution times sigma, computed apart.
func TestFadeMargin(t *testing.T) {
	for sigma, want := range map[float64][4]float64{3.76: {4.82, 6.18, 8.75, 11.62}, 5.01: {6.42, 8.24, 11.66, 15.48}, 8: {10.25, 13.16, 18.61, 24.72}, 10: {12.82, 16.45, 23.26, 30.90}} {
		for i, p := range []float64{0.9, 0.95, 0.99, 0.999} {
			assert.InDelta(t, want[i], FadeMargin(p, sigma), 0.0051)
		}
	}
	for _, c := range []struct{ m, sigma, want float64 }{{10, 5.01, 0.9770}, {10, 10, 0.8413}, {-5, 8, 0.2660}, {0, 8, 0.5}} {
		assert.InDelta(t, c.want, Up(c.m, c.sigma), 0.00005)
	}
	assert.True(t, math.IsNaN(FadeMargin(1, 5)))
	assert.Equal(t, 1.0, Up(0, 0))
	assert.Equal(t, 0.0, Up(-0.1, 0))
	rapid.Check(t, func(t *rapid.T) {
		p, sigma := rapid.Float64Range(0.001, 0.999).Draw(t, "p"), rapid.Float64Range(0.1, 20).Draw(t, "sigma")
		if got := Up(FadeMargin(p, sigma), sigma); math.Abs(got-p) > 1e-9 {
			t.Fatalf("%g comes back as %g", p, got)
		}
	})
}

// Budgets with the old office form, N 30 and sigma 10 at 2450 MHz, computed apart.
func TestMargin(t *testing.T) {
	plain, strong := Radio{0, 0, -95}, Radio{8, 0, -100}
	for _, c := range []struct {
		r        Radio
		d        units.Metres
		m, atTen float64
	}{{plain, 10, 25.22, 0.9942}, {plain, 20, 16.19, 0.9472}, {strong, 30, 23.90, 0.9916}} {
		loss, sigma := Indoor1238(Office, c.d, 0, 2450)
		m := Margin(c.r, c.r, loss)
		assert.InDelta(t, c.m, m, 0.0051)
		assert.InDelta(t, c.atTen, Up(m, sigma), 0.00005)
	}
	assert.InDelta(t, 10, Margin(strong, Radio{0, 0, -97}, 90), 1e-9, "15 down, 10 up: the worse counts")
	first := 20*math.Log10(2450) - 28
	assert.InDelta(t, 19.6, float64(Reach(plain, plain, FadeMargin(0.95, 10), first, 3)), 0.05)
	assert.InDelta(t, 53.2, float64(Reach(strong, strong, FadeMargin(0.95, 10), first, 3)), 0.05)
	assert.InDelta(t, 31.5, float64(Reach(strong, strong, FadeMargin(0.99, 10), first, 3)), 0.05)
	assert.InDelta(t, 0.9975, AnyUp(0.95, 0.95), 1e-9)
	assert.InDelta(t, 0.999875, AnyUp(0.95, 0.95, 0.95), 1e-9)
	assert.InDelta(t, 0.992, AnyUp(0.8, 0.8, 0.8), 1e-9)
}

// Bit and frame errors of IEEE 802.15.4 O-QPSK, computed apart from the formula.
func TestFrames(t *testing.T) {
	for _, c := range []struct{ sinr, ber, p20, p22, p133 float64 }{
		{-4, 3.9163e-2, 9.983e-1, 9.991e-1, 1}, {-3, 1.6419e-2, 9.293e-1, 9.457e-1, 1}, {-2, 5.1970e-3, 5.656e-1, 6.003e-1, 9.961e-1}, {-1, 1.1489e-3, 1.680e-1, 1.832e-1, 7.057e-1},
		{0, 1.6153e-4, 2.552e-2, 2.803e-2, 1.579e-1}, {0.5, 4.9391e-5, 7.872e-3, 8.655e-3, 5.120e-2}, {1, 1.2912e-5, 2.064e-3, 2.270e-3, 1.364e-2},
		{2, 5.1314e-7, 8.210e-5, 9.031e-5, 5.458e-4}, {3, 8.5972e-9, 1.376e-6, 1.513e-6, 9.147e-6},
	} {
		assert.InEpsilon(t, c.ber, BitErrors(c.sinr), 1e-4)
		assert.InEpsilon(t, c.p20, FrameErrors(c.sinr, 20), 6e-4)
		assert.InEpsilon(t, c.p22, FrameErrors(c.sinr, 22), 6e-4)
		assert.InEpsilon(t, c.p133, FrameErrors(c.sinr, 133), 6e-4)
	}
	for _, c := range []struct{ m, p22, p133 float64 }{{-3, 0.850, 1}, {-1, 9.28e-2, 0.445}, {0, 1.10e-2, 6.47e-2}, {1, 6.78e-4, 4.09e-3}, {2, 1.94e-5, 1.18e-4}, {3, 2.2e-7, 1.3e-6}} {
		assert.InEpsilon(t, c.p22, LostAt(c.m, 22), 0.03)
		assert.InEpsilon(t, c.p133, LostAt(c.m, 133), 0.03)
	}
	assert.InDelta(t, 0.01, FrameErrors(0.403, 20), 5e-5)
	assert.InDelta(t, -110.9649, NoiseFloor(2e6, 0), 1e-3)
	assert.InDelta(t, -106.99, NoiseFloor(5e6, 0), 0.01)
	for nf, want := range map[float64]float64{6: -104.56, 10: -100.56, 15: -95.56} {
		assert.InDelta(t, want, NoiseFloor(2e6, nf)+0.403, 0.006)
	}
	for octets, want := range map[int]float64{16: 0.704, 20: 0.832, 127: 4.256} {
		assert.InDelta(t, want, AirTime(octets), 1e-9)
	}
}

// Example profiles: judgement, worked apart.
func TestBatteryLife(t *testing.T) {
	for _, c := range []struct {
		b         Battery
		bursts    []Burst
		ua, years float64
	}{
		{Battery{3000, 0.9, 0.01, 3}, []Burst{{12, 25, 200}, {6, 8, 1440}}, 7.917, 38.9},
		{Battery{220, 0.85, 0.01, 1.2}, []Burst{{15, 40, 40}}, 1.729, 12.34},
		{Battery{2500, 0.8, 0.03, 5}, []Burst{{6, 5, 172800}}, 73.556, 3.10},
		{Battery{1500, 0.85, 0.01, 4}, []Burst{{18, 30, 300}, {6, 6, 11520}}, 12.386, 11.74},
	} {
		ua, years := c.b.Life(c.bursts...)
		assert.InDelta(t, c.ua, ua, 0.001)
		assert.InDelta(t, c.years, years, 0.05)
	}
	assert.InDelta(t, 0.694, Burst{12, 25, 200}.Current(), 0.0005)
}
