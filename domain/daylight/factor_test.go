package daylight_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Corner rectangles: Walsh 1961 (by Tregenza and Sharples, Daylight Algorithms
// 2.32), each equal to the integral to 8 digits, done apart from this program.
func TestSkyComponent_corners(t *testing.T) {
	for _, c := range []struct{ w, h, d, sc, sf float64 }{
		{1, 1, 1, 4.525138, 5.573420}, {2, 1, 1, 5.458554, 6.869730}, {1, 2, 1, 8.816429, 9.506794},
		{3, 1.5, 3, 1.406169, 2.112144}, {0.5, 2, 4, 0.269476, 0.394204}, {1e8, 1e8, 1, 25, 25},
	} {
		assert.InDelta(t, c.sc, SkyComponent(c.w, c.h, c.d), 6e-7)
		assert.InDelta(t, c.sf, SkyFactor(c.w, c.h, c.d), 6e-7)
	}
}

// Transmittance by angle over the nominal one, Rivero 1958 (from memory); of evenly
// diffuse light 0.8786 of the nominal one comes in: 1.018 x 2 (1/3 + pi/32).
func TestAngleFactor(t *testing.T) {
	for i, want := range map[float64]float64{0: 1.018, 30: 0.9918, 40: 0.9869, 50: 0.9485, 60: 0.8396, 70: 0.6371, 80: 0.3456} {
		assert.InDelta(t, want, AngleFactor(i), 0.00005, "%g degrees", i)
	}
	sum := 0.0
	for i := range 9000 {
		a := (float64(i) + 0.5) / 100
		sum += AngleFactor(a) * math.Sin(2*a*degree) * 0.01 * degree
	}
	assert.InDelta(t, 0.8786, sum, 0.00005)
}

// roomA is 4 m wide, 6 m deep and 3 m high, with a window of 3.0 by 1.8 m in the
// middle of the wall along y = 0.
func roomA(glass Glass) Space {
	w := southWindow(0.5, 3.5, 2.7)
	w.Glass = glass
	return Space{Outline: geom.Rectangle(0, 0, 4, 6), Ceiling: 3, Windows: []Window{w}}
}

func lit(t require.TestingT, s *Space) *Light {
	l, err := NewLight(s, UsualInterior())
	require.NoError(t, err)
	return l
}

var bare, pane068, rivero068 = Glass{Transmittance: 1, Net: 1, Maintenance: 1}, Glass{Transmittance: 0.68, Net: 1, Maintenance: 1}, Glass{Transmittance: 0.68, Net: 1, Maintenance: 1, ByAngle: true}

// Sky component in a room 6 by 4 by 3 m at points from its window's wall and off
// its center line, percent: unglazed, with constant transmittance and with that of
// Rivero 1958 (from memory). Numeric integrals done apart from this program.
func TestLight_skyComponent(t *testing.T) {
	for _, c := range []struct{ from, off, bare, constant, rivero float64 }{
		{0.5, 0, 32.7899, 22.2971, 18.1592}, {1, 0, 19.8804, 13.5186, 12.5332}, {2, 0, 6.9932, 4.7554, 4.6993},
		{3, 0, 2.7789, 1.8896, 1.8777}, {4, 0, 1.2894, 0.8768, 0.8733}, {5, 0, 0.6800, 0.4624, 0.4619}, {5.5, 0, 0.5132, 0.3489, 0.3491},
		{2, 1.75, 3.9681, 2.6983, 2.6186}, {4, 1.75, 0.9827, 0.6682, 0.6637},
	} {
		for i, glass := range []Glass{bare, pane068, rivero068} {
			s := roomA(glass)
			for _, side := range []float64{1, -1} {
				f := lit(t, &s).At(geom.Pt(2+side*c.off, c.from))
				assert.InDelta(t, []float64{c.bare, c.constant, c.rivero}[i], f.Sky, 0.00011, "%g m from the wall, %g off, glass %d", c.from, c.off, i)
				assert.Zero(t, f.Facing)
			}
		}
	}
}

// Average daylight factor and split flux of the same room. Surfaces by hand; the
// average by Tregenza and Sharples 2.12, the reflected one by Hopkinson,
// Petherbridge and Longmore 1954 (from memory).
func TestReflected(t *testing.T) {
	s := roomA(pane068)
	l := lit(t, &s)
	faces := l.Surfaces()
	assert.InDelta(t, 108, float64(faces.All), 1e-9)
	assert.InDelta(t, 0.457778, faces.Reflectance, 5e-7)
	for theta, want := range map[float64]float64{90: 3.8713, 65: 2.7959, 50: 2.1507} {
		assert.InDelta(t, want, MeanFactor(0.68, 5.4, theta, 108, faces.Reflectance), 0.00005)
	}
	assert.InDelta(t, 3.8713, l.Mean(), 0.00005)
	ratio, most := DepthRatio(6, 4, 2.7, 0.5)
	assert.InDelta(t, 3.7222, ratio, 0.00005)
	assert.InDelta(t, 4, most, 1e-12)

	rfw, rcw := 0.363636, 0.611111
	for c, want := range map[float64]float64{39: 1.0809, 31: 0.8985, 25: 0.7616, 14: 0.5108} {
		assert.InDelta(t, want, SplitFlux(0.68, 5.4, 108, faces.Reflectance, c, 5, rfw, rcw), 0.00005)
	}
	assert.InDelta(t, 1.3511, SplitFlux(0.85, 5.4, 108, faces.Reflectance, 39, 5, rfw, rcw), 0.00005)
	// The room's own: C is 39.62 by integration where the table says 39.
	assert.InDelta(t, SplitFlux(0.68, 5.4, 108, faces.Reflectance, 39.6177, 5, rfw, rcw), l.Reflected(), 0.0001)
	for r, want := range map[float64]float64{0.2: 0.54, 0.3: 0.54, 0.4: 0.67, 0.45: 0.725, 0.5: 0.78, 0.6: 0.85, 0.9: 0.85} {
		assert.InDelta(t, want, LeastReflected(r), 1e-9)
	}
}

// C by the altitude of what stands outside: the sky's part and with the obstruction
// at 0.1 of the mean sky (integrals done apart from this program). From 20 degrees
// on the table of the Building Research Establishment (from memory) lies between.
func TestDownLight(t *testing.T) {
	for _, c := range []struct{ altitude, table, sky, with float64 }{
		{0, 39, 39.62, 39.62}, {10, 35, 35.35, 36.22}, {20, 31, 30.16, 31.87}, {30, 25, 24.36, 26.86}, {40, 20, 18.33, 21.54},
		{50, 14, 12.53, 16.36}, {60, 10, 7.42, 11.75}, {70, 7, 3.42, 8.12}, {80, 5, 0.87, 5.80},
	} {
		assert.InDelta(t, c.sky, DownLight(c.altitude, 0), 0.0051)
		assert.InDelta(t, c.with, DownLight(c.altitude, 0.1), 0.0051)
		if c.altitude >= 20 {
			assert.GreaterOrEqual(t, c.table, DownLight(c.altitude, 0))
			assert.LessOrEqual(t, c.table, DownLight(c.altitude, 0.1))
		}
	}
}

// Daylight factors on the center line, as the sky component and a reflected one of
// 1.0809 % (C 39), in percent and in lx under 10,000 lx outdoors; same sources.
func TestLight_factor(t *testing.T) {
	s := roomA(pane068)
	l := lit(t, &s)
	for _, c := range []struct{ from, df, lx float64 }{
		{0.5, 23.3780, 2338}, {1, 14.5995, 1460}, {2, 5.8363, 584}, {3, 2.9705, 297}, {4, 1.9577, 196}, {5, 1.5433, 154}, {5.5, 1.4298, 143},
	} {
		f := l.At(geom.Pt(2, c.from))
		f.Inside = 1.0809
		assert.InDelta(t, c.df, f.Total(), 0.00012)
		assert.InDelta(t, c.lx, f.Total()*100, 0.51)
	}
}

// What stands outside takes the sky that it hides and gives a fifth of it (BRE,
// from memory): a thing far away by its altitude, one near by its height, which are
// the same seen along the line between their tops. Checked with the corner formula.
func TestLight_outside(t *testing.T) {
	s := roomA(pane068)
	free := lit(t, &s).At(geom.Pt(2, 3)).Sky
	s.Windows[0].Outside = Outside{Altitude: 20}
	z := 3 * math.Tan(20*degree) // height over the work plane up to which the glass shows it
	above := func(z0 float64) float64 { return 0.68 * 2 * (SkyComponent(1.5, 1.85, 3) - SkyComponent(1.5, z0, 3)) }
	f := lit(t, &s).At(geom.Pt(2, 3))
	assert.InDelta(t, above(z), f.Sky, 1e-9)
	assert.InDelta(t, 0.2*(free-f.Sky), f.Facing, 1e-9)
	s.Windows[0].Outside = Outside{Top: units.Metres(0.85 + 12*math.Tan(20*degree)), Distance: 9}
	near := lit(t, &s).At(geom.Pt(2, 3))
	assert.InDelta(t, f.Sky, near.Sky, 1e-9)
	s.Windows[0].Outside = Outside{Altitude: 89}
	assert.Zero(t, lit(t, &s).At(geom.Pt(2, 3)).Sky)
	// The whole window sees 62 degrees of sky over a thing of 28 degrees.
	s.Windows[0].Outside = Outside{Altitude: 28}
	assert.InDelta(t, 3.8713*62/90, lit(t, &s).Mean(), 0.0001)
}

// A wall to the ceiling hides what is behind it, a partition what is under the line
// of sight over its top; both by the corner formula for what is left.
func TestLight_insideTheRoom(t *testing.T) {
	s := roomA(pane068)
	at := geom.Pt(2, 4)
	half := 0.68 * (SkyComponent(1.5, 1.85, 4) - SkyComponent(1.5, 0.05, 4))
	assert.InDelta(t, 2*half, lit(t, &s).At(at).Sky, 1e-9)
	s.Obstructions = []Obstruction{screen(2, 2, 4, 2, units.Metres(math.Inf(1)))}
	assert.InDelta(t, half, lit(t, &s).At(at).Sky, 1e-9, "half of the glass")
	s.Obstructions = []Obstruction{screen(0, 2, 4, 2, 1.65)} // 0.8 over the work plane at half way: 1.6 at the glass
	assert.InDelta(t, 2*0.68*(SkyComponent(1.5, 1.85, 4)-SkyComponent(1.5, 1.6, 4)), lit(t, &s).At(at).Sky, 1e-9)
	s.Obstructions[0].Height = 0.85
	assert.InDelta(t, 2*half, lit(t, &s).At(at).Sky, 1e-9, "no higher than the work plane")
	s.Obstructions[0].Height, s.Obstructions[0].Clear = 2, true
	assert.InDelta(t, 2*half, lit(t, &s).At(at).Sky, 1e-9, "glass")
	// A slanted one: against a sum over elements of the glass, each seen or not.
	s.Obstructions = []Obstruction{screen(0.7, 1, 3.1, 2.6, 1.5)}
	assert.InDelta(t, element(at, s.Obstructions[0]), lit(t, &s).At(at).Sky, 0.004)
	// Round an inner corner: from behind it only half of the glass is in sight.
	ell := Space{Outline: geom.Polygon{Outer: []geom.Point{{}, {X: 4}, {X: 4, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 6}, {Y: 6}}}, Ceiling: 3, Windows: s.Windows}
	seen := lit(t, &ell).At(geom.Pt(1, 4)) // the corner at 2, 2 hides the glass from x = 3 on
	want := 0.68 * (SkyComponent(0.5, 1.85, 4) + SkyComponent(2, 1.85, 4) - SkyComponent(0.5, 0.05, 4) - SkyComponent(2, 0.05, 4))
	assert.InDelta(t, want, seen.Sky, 1e-9)
}

// element sums the window of room A over small elements past a partition.
func element(at geom.Point, o Obstruction) (sum float64) {
	const n = 400
	da := 3.0 / n * 1.8 / n
	for i := range n {
		x := 0.5 + (float64(i)+0.5)*3/n
		sight := geom.Segment{A: at, B: geom.Pt(x, 0)}
		hit, hits := sight.Intersect(o.Line)
		for j := range n {
			z := 0.05 + (float64(j)+0.5)*1.8/n
			if hits && z*at.Distance(hit)/at.Distance(sight.B) < float64(o.Height)-0.85 {
				continue
			}
			r := math.Sqrt((x-at.X)*(x-at.X) + at.Y*at.Y + z*z)
			sum += 100 * 0.68 * 9 / (7 * math.Pi) * (1 + 2*z/r) / 3 * z / r * at.Y / (r * r * r) * da
		}
	}
	return sum
}

// Rooflights: a whole roof of glass is the sky itself, 100 %; a small one by the
// formula for one element, 9/(7 pi) (1 + 2)/3 A/h2 straight above.
func TestLight_rooflights(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 4, 6), Ceiling: 3.85, Rooflights: []Rooflight{{At: geom.Pt(2, 3), Width: 0.02, Length: 0.02, Turn: 30, Glass: bare}}}
	assert.InEpsilon(t, 100*9/(7*math.Pi)*0.0004/9, lit(t, &s).At(geom.Pt(2, 3)).Sky, 1e-3)
	s.Rooflights[0].Width, s.Rooflights[0].Length = 600, 600
	assert.InDelta(t, 100, lit(t, &s).At(geom.Pt(2, 3)).Sky, 0.05)
	// Four corner cases of a window, laid flat, by their own integral.
	s.Rooflights[0].Width, s.Rooflights[0].Length, s.Rooflights[0].Turn = 2, 2, 0
	flat := 0.0
	for i := range 400 * 400 {
		x, y := (float64(i%400)+0.5)/200-1, (float64(i/400)+0.5)/200-1
		r2 := x*x + y*y + 9
		flat += 100 * 9 / (7 * math.Pi) * (1 + 6/math.Sqrt(r2)) / 3 * 9 / (r2 * r2) / 200 / 200
	}
	assert.InDelta(t, flat, lit(t, &s).At(geom.Pt(2, 3)).Sky, 1e-4*flat)
}

// The grid's numbers; a zone of it; and that more is never less.
func TestGrid(t *testing.T) {
	s := roomA(pane068)
	g := lit(t, &s).Grid(1)
	require.Len(t, g.Cells, 24)
	all := g.Spread()
	assert.Equal(t, 24, all.Points)
	assert.InDelta(t, all.Least/all.Mean, all.Uniformity, 1e-12)
	assert.Less(t, all.Least, all.Median)
	back := g.In([]geom.Polygon{geom.Rectangle(0, 4, 4, 2)})
	assert.Equal(t, 8, back.Points)
	assert.Less(t, back.Most, all.Median)
	assert.InDelta(t, float64(8)/24, 1-g.ShareOver(back.Most+1e-9), 1e-9)
	// A finer grid sees more of the steep fall at the glass, and the mean moves little.
	assert.InDelta(t, all.Mean, lit(t, &s).Grid(0.25).Spread().Mean, 0.15*all.Mean)
	_, err := NewLight(&Space{Outline: s.Outline, Ceiling: 0.85}, UsualInterior())
	assert.ErrorContains(t, err, "ceiling")
	_, err = NewLight(&Space{Ceiling: 3}, UsualInterior())
	assert.ErrorContains(t, err, "outline")
}

// A higher window, a lower partition or a free view never makes a point darker, and
// both ways of summing glass agree.
func TestLight_properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		s := roomA(pane068)
		s.Obstructions = []Obstruction{screen(f("x0", 0, 4), f("y0", 0, 6), f("x1", 0, 4), f("y1", 0, 6), units.Metres(f("top", 0, 3.2)))}
		at := geom.Pt(f("x", 0.1, 3.9), f("y", 0.1, 5.9))
		one := lit(t, &s).At(at)
		require.False(t, math.IsNaN(one.Total()))
		require.GreaterOrEqual(t, one.Sky, 0.0)
		open := roomA(pane068)
		require.LessOrEqual(t, one.Sky, lit(t, &open).At(at).Sky+1e-9)
		s.Windows[0].Outside = Outside{Altitude: f("altitude", 0, 85)}
		dim := lit(t, &s).At(at)
		require.LessOrEqual(t, dim.Sky+dim.Facing, one.Sky+1e-9)
		s.Windows[0].Glass = rivero068
		require.LessOrEqual(t, lit(t, &s).At(at).Sky, 1.018*dim.Sky+1e-9)
	})
}
