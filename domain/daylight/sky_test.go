package daylight_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	. "scopewright/domain/daylight"
	"scopewright/domain/units"
)

const degree = math.Pi / 180

// CIE standard overcast sky (Moon and Spencer 1942): zenith three times the
// horizon; Eh = 7 pi Lz/9; an upright plane gets (3 pi + 8)/(14 pi) of that. The
// last two by integrals done apart from this program.
func TestOvercastSky(t *testing.T) {
	assert.InDelta(t, 1.0/3, OvercastLuminance(0), 1e-12)
	assert.InDelta(t, 1, OvercastLuminance(90), 1e-12)
	assert.Zero(t, OvercastLuminance(-1))
	assert.InDelta(t, 2.4434610, 1/OvercastZenith(1), 1e-7)
	for lx, want := range map[float64]float64{5000: 2046.28, 10000: 4092.56, 20000: 8185.11} {
		assert.InDelta(t, want, OvercastZenith(units.Lux(lx)), 0.005)
	}
	assert.InDelta(t, 0.3961771, OvercastVertical, 5e-8)
	// Midpoint rule over 18 azimuths and 8 altitudes: 2.457002 Lz, 0.554 % too much;
	// the EnergyPlus Engineering Reference says that these steps are good to 1 %.
	sum := 0.0
	for i := range 8 {
		g := (float64(i) + 0.5) / 8 * 90
		sum += OvercastLuminance(g) * math.Sin(g*degree) * math.Cos(g*degree) * math.Pi / 16 * 2 * math.Pi
	}
	assert.InDelta(t, 2.457002, sum, 5e-7)
}

// CIE clear sky: the formula gives 1 at the zenith by its own definition, since
// 0.27385 is 1 - exp(-0.32); it is brightest by the sun and darkest about a right
// angle from it (Kittler 1965). The upright plane is checked against the same
// integral in other coordinates, and by symmetry.
func TestClearSky(t *testing.T) {
	for _, sun := range []float64{10, 30, 60, 85} {
		assert.InEpsilon(t, 1, ClearLuminance(90, sun, 90-sun), 2e-5, "zenith, sun at %g", sun)
		assert.Greater(t, ClearLuminance(sun, sun, 0), ClearLuminance(sun, sun, 40))
		assert.Greater(t, ClearLuminance(20, sun, 40), ClearLuminance(20, sun, 90))
	}
	assert.Zero(t, ClearLuminance(0, 30, 30))
	for _, c := range []struct{ sun, aside float64 }{{5, 0}, {20, 90}, {40, 30}, {60, 180}, {90, 77}} {
		assert.InEpsilon(t, uprightByHand(c.sun, c.aside), ClearVertical(c.sun, c.aside), 0.005, "sun at %g, %g aside", c.sun, c.aside)
		assert.InDelta(t, ClearVertical(c.sun, c.aside), ClearVertical(c.sun, -c.aside), 1e-9)
	}
	assert.Greater(t, ClearVertical(20, 0), 3*ClearVertical(20, 180))
}

// uprightByHand sums points that lie evenly on the sky, as on a sunflower's head.
func uprightByHand(sun, aside float64) float64 {
	const n = 400_000
	golden := math.Pi * (3 - math.Sqrt(5))
	sx, sy, sz := math.Cos(sun*degree)*math.Cos(aside*degree), math.Cos(sun*degree)*math.Sin(aside*degree), math.Sin(sun*degree)
	var v, h float64
	for i := range n {
		z := (float64(i) + 0.5) / n
		x, y := math.Sqrt(1-z*z)*math.Cos(golden*float64(i)), math.Sqrt(1-z*z)*math.Sin(golden*float64(i))
		between := math.Acos(max(-1, min(1, x*sx+y*sy+z*sz))) / degree
		l := ClearLuminance(math.Asin(z)/degree, sun, between)
		v, h = v+l*max(0, x), h+l*z
	}
	return v / h
}

// Outdoor illuminance in klx by sun altitude, IES recommended practice 1984 (from
// memory), and air mass by Kasten and Young 1989.
func TestOutdoors(t *testing.T) {
	for _, c := range []struct{ a, overcast, partly, clear, normal, horizontal, clearTotal, partlyTotal float64 }{
		{5, 2.130, 4.222, 5.376, 11.545, 1.006, 6.382, 4.223},
		{10, 3.947, 8.114, 7.259, 38.338, 6.657, 13.916, 8.337},
		{20, 7.482, 15.691, 9.865, 69.531, 23.781, 33.646, 19.928},
		{30, 10.800, 22.800, 11.760, 84.418, 42.209, 53.969, 35.770},
		{45, 15.149, 32.120, 13.834, 95.468, 67.506, 81.340, 61.427},
		{60, 18.487, 39.271, 15.224, 100.815, 87.308, 102.533, 83.447},
		{90, 21.300, 45.300, 16.300, 104.144, 104.144, 120.444, 103.030},
	} {
		klx := func(want float64, got ...float64) {
			sum := 0.0
			for _, x := range got {
				sum += x / 1000
			}
			assert.InDelta(t, want, sum, 0.00051, "sun at %g", c.a)
		}
		sky := func(s Sky) float64 { return float64(SkyIlluminance(s, c.a)) }
		klx(c.overcast, sky(Overcast))
		klx(c.partly, sky(Partly))
		klx(c.clear, sky(Clear))
		klx(c.normal, float64(SunNormal(Clear, c.a, 80)))
		klx(c.horizontal, float64(SunHorizontal(Clear, c.a, 80)))
		klx(c.clearTotal, sky(Clear), float64(SunHorizontal(Clear, c.a, 80)))
		klx(c.partlyTotal, sky(Partly), float64(SunHorizontal(Partly, c.a, 80)))
	}
	assert.InDelta(t, 128480, float64(Extraterrestrial(80)), 0.5)
	for a, want := range map[float64]float64{5: 10.306, 10: 5.586, 30: 1.994} {
		assert.InDelta(t, want, AirMass(a), 0.0005)
	}
	assert.Zero(t, SkyIlluminance(Clear, 0))
	assert.Zero(t, SunNormal(Overcast, 40, 80))
	assert.Zero(t, SunHorizontal(Clear, -3, 80))
}

// Kasten and Czeplak 1980 (from memory), arithmetic by hand: 910 sin 30 - 30 = 425
// W/m2, a quarter of it under a covered sky.
func TestIrradiance(t *testing.T) {
	assert.InDelta(t, 425, GlobalIrradiance(30, 0), 1e-9)
	assert.InDelta(t, 106.25, GlobalIrradiance(30, 8), 1e-9)
	assert.InDelta(t, 880*(1-0.75*math.Pow(0.5, 3.4)), GlobalIrradiance(90, 4), 1e-9)
	assert.Zero(t, GlobalIrradiance(1, 0))
	assert.InDelta(t, 46750, float64(FromIrradiance(GlobalIrradiance(30, 0), GlobalEfficacy)), 1e-6)
	assert.InDelta(t, 12750, float64(FromIrradiance(GlobalIrradiance(30, 8), DiffuseEfficacy)), 1e-6)
}
