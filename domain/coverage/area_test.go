package coverage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "scopewright/domain/coverage"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Radii by mounting height under both rules, worked by a script apart.
func TestPattern_radius(t *testing.T) {
	for _, c := range []struct {
		rule       HeightRule
		r0, h0, ht units.Metres
		h, want    []float64
	}{
		{OnTarget, 3.845, 2.7, 1.1, []float64{2.4, 3.0, 3.6}, []float64{3.1241, 4.5659, 6.0078}},
		{OnTarget, 3.845, 2.44, 0.75, []float64{2.7}, []float64{4.4365}},
		{OnTarget, 6, 3, 0, []float64{4}, []float64{8}},
		{OnFloor, 3.845, 2.7, 0, []float64{2.4, 3.0, 3.6}, []float64{3.4178, 4.2722, 5.1267}},
		{OnFloor, 3.845, 2.7, 1.1, []float64{2.4, 2.7, 3.0, 3.6}, []float64{1.8513, 2.2785, 2.7057, 3.5602}},
		{OnFloor, 3.845, 2.7, 0.75, []float64{2.4, 2.7, 3.0, 3.6}, []float64{2.3497, 2.7769, 3.2042, 4.0586}},
		{OnFloor, 3.84525, 2.7, 0.914, []float64{2.7}, []float64{2.5436}},
	} {
		p := Pattern{Major: c.r0, StatedAt: c.h0, Rule: c.rule}
		for i, h := range c.h {
			got, err := p.Radius(Major, units.Metres(h), c.ht)
			require.NoError(t, err)
			assert.InDelta(t, c.want[i], float64(got), 0.00005)
		}
	}
	p := Pattern{Major: 3.845, Minor: 2, StatedAt: 2.7, Rule: OnFloor, Lowest: 2.1, Highest: 3.6, MostRadius: 4}
	for h, ok := range map[units.Metres]bool{2.09: false, 2.1: true, 3.6: true, 3.61: false} {
		_, err := p.Radius(Major, h, 1.1)
		assert.Equal(t, ok, err == nil, "%g m", h)
	}
	most, err := p.Radius(Major, 3.6, 0)
	require.NoError(t, err)
	assert.EqualValues(t, 4, most, "never beyond what the type states")
	low, err := p.Radius(Major, 2.1, 2.1)
	require.NoError(t, err)
	assert.Zero(t, low, "a target at the sensor's height")
	small, err := p.Radius(Minor, 2.7, 0)
	require.NoError(t, err)
	assert.EqualValues(t, 2, small)
	_, err = Pattern{Major: 4}.Radius(Major, 2.7, 0)
	assert.Error(t, err)
}

func room(w, h float64) geom.Polygon { return geom.Rectangle(0, 0, w, h) }

var ell = geom.Polygon{Outer: []geom.Point{geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(10, 5), geom.Pt(5, 5), geom.Pt(5, 10), geom.Pt(0, 10)}}

// One disc in a room. GEOS with 65,536 segments a quarter circle and integration
// of chords to 1e-12 agree on these to six decimals.
func TestDiscIn(t *testing.T) {
	for _, c := range []struct {
		w, h, x, y, r, want float64
	}{
		{10, 10, 5, 5, 5, 78.539816}, {10, 10, 5, 5, 4, 50.265482}, {9, 7.5, 4.5, 3.75, 3.845, 46.229659}, {6, 4, 3, 2, 3.845, 24}, {6, 4, 3, 2, 3, 22.079370},
		{6, 4, 0, 0, 4, 12.566371}, {8, 5, 2, 2.5, 3, 22.926074}, {12, 3, 6, 1.5, 4, 23.424995}, {9, 7.5, 0, 0, 7.5, 44.178647}, {9, 7.5, 0, 0, 10, 64.270727}, {6, 4, 0, 0, 6, 22.079370},
	} {
		assert.InDelta(t, c.want, DiscIn(room(c.w, c.h), geom.Pt(c.x, c.y), c.r), 1e-6, "%+v", c)
	}
	assert.InDelta(t, 47.8306, DiscIn(ell, geom.Pt(2.5, 2.5), 5), 5e-5)
	wedge, err := SectorIn(room(9, 7.5), geom.Pt(0, 3.75), 8, 0, 110)
	require.NoError(t, err)
	assert.InDelta(t, 47.87727, wedge, 1e-5)
	whole, err := SectorIn(geom.Rectangle(-20, -20, 40, 40), geom.Pt(0, 0), 8, 0, 110)
	require.NoError(t, err)
	assert.InDelta(t, 61.43559, whole, 1e-5)
	holed := geom.Polygon{Outer: room(10, 10).Outer, Holes: [][]geom.Point{geom.Rectangle(4, 4, 2, 2).Outer}}
	assert.InDelta(t, 78.539816-4, DiscIn(holed, geom.Pt(5, 5), 5), 1e-6)
}

// Two discs: lenses and spacings, by formula and checked with GEOS.
func TestLens(t *testing.T) {
	assert.InDelta(t, 6.194964, LensArea(3, 3, 4), 1e-6)
	assert.InDelta(t, 13.931787, LensArea(3.845, 3.845, 4.5), 1e-6)
	assert.Zero(t, LensArea(2.5, 2.5, 5))
	assert.InDelta(t, math.Pi*4, LensArea(2, 5, 1), 1e-12)
	assert.InDelta(t, 5.716, float64(SpacingFor(3.84525, 0.15)), 0.0005)
	assert.InDelta(t, 5.284, float64(SpacingFor(3.84525, 0.20)), 0.0005)
	assert.InDelta(t, 7.0812, float64(CorridorSpacing(3.84525, 3)), 0.00005)
	assert.InDelta(t, 4.8108, float64(CorridorSpacing(3.84525, 6)), 0.00005)
	assert.Zero(t, CorridorSpacing(3, 6))
	assert.InDelta(t, 46.4515, float64(DiscArea(3.84525)), 0.0005)
}

var yoo = geom.Polygon{Outer: []geom.Point{geom.Pt(0, 0), geom.Pt(12, 0), geom.Pt(12, 8), geom.Pt(8, 8), geom.Pt(8, 3), geom.Pt(4, 3), geom.Pt(4, 8), geom.Pt(0, 8)}}

// What a point sees of an L and a U, and that cut by a disc: GEOS.
func TestVisible(t *testing.T) {
	for _, c := range []struct {
		room      geom.Polygon
		x, y      float64
		area, in5 float64
	}{{ell, 9, 1, 62.5, 27.5577}, {ell, 2.5, 2.5, 75, 47.8306}, {ell, 7.5, 4.5, 52.5, 34.4669}, {ell, 1, 9, 62.5, 27.5577}, {yoo, 6, 1.5, 48, 0}, {yoo, 2, 7, 34.25, 0}, {yoo, 10, 7, 34.25, 0}} {
		seen := Visible(c.room, geom.Pt(c.x, c.y), nil)
		assert.InDelta(t, c.area, seen.Area(), 1e-6, "from %g, %g", c.x, c.y)
		if c.in5 > 0 {
			assert.InDelta(t, c.in5, DiscIn(seen, geom.Pt(c.x, c.y), 5), 5e-5)
		}
	}
	assert.InDelta(t, 40.3018, DiscIn(ell, geom.Pt(7.5, 4.5), 5), 5e-5, "without sight lines")
	assert.True(t, Visible(ell, geom.Pt(8, 8), nil).Empty(), "outside sees nothing")
}

// A sensor that looks through a door gap into a corridor of 2 m: GEOS.
func TestVisible_throughADoor(t *testing.T) {
	both := geom.Polygon{Outer: []geom.Point{geom.Pt(-10, -2), geom.Pt(16, -2), geom.Pt(16, 0), geom.Pt(6, 0), geom.Pt(6, 4), geom.Pt(0, 4), geom.Pt(0, 0), geom.Pt(-10, 0)}}
	walls := []geom.Segment{{A: geom.Pt(0, 0), B: geom.Pt(4, 0)}, {A: geom.Pt(4.9, 0), B: geom.Pt(6, 0)}}
	seen := Visible(both, geom.Pt(3, 2), walls)
	strips, err := geom.Intersection(seen, geom.Rectangle(-10, -2, 26, 2))
	require.NoError(t, err)
	require.Len(t, strips, 1)
	assert.InDelta(t, 2.7, strips[0].Area(), 1e-4)
	assert.InDelta(t, 1.2892, DiscIn(strips[0], geom.Pt(3, 2), 3.84525), 5e-5)
}

// Properties: what is seen is never more than the room, and turning all leaves it.
func TestVisible_properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := geom.Pt(rapid.Float64Range(0.1, 11.9).Draw(t, "x"), rapid.Float64Range(0.1, 2.9).Draw(t, "y"))
		var walls []geom.Segment
		for range rapid.IntRange(0, 4).Draw(t, "walls") {
			p := func() geom.Point {
				return geom.Pt(rapid.Float64Range(0, 12).Draw(t, "wx"), rapid.Float64Range(0, 8).Draw(t, "wy"))
			}
			w := geom.Segment{A: p(), B: p()}
			if w.Distance(at) > 0.05 && w.Length() > 0.01 {
				walls = append(walls, w)
			}
		}
		seen := Visible(yoo, at, walls).Area()
		if seen > yoo.Area()+1e-6 || seen <= 0 {
			t.Fatalf("sees %g of %g m2", seen, yoo.Area())
		}
		angle := rapid.Float64Range(-3, 3).Draw(t, "angle")
		turned := make([]geom.Segment, len(walls))
		for i, w := range walls {
			turned[i] = geom.Segment{A: w.A.Rotate(geom.Pt(0, 0), angle), B: w.B.Rotate(geom.Pt(0, 0), angle)}
		}
		again := Visible(yoo.Rotate(geom.Pt(0, 0), angle), at.Rotate(geom.Pt(0, 0), angle), turned).Area()
		if math.Abs(again-seen) > 1e-3 {
			t.Fatalf("%g m2 become %g when all is turned", seen, again)
		}
	})
}
