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

// What rectangles measure must be what polygons measure: areas of each zone, and the
// share of each luminaire in it. Rooms stand turned on the sheet; windows overlap,
// meet in corners and lie one above the other.
func TestMeasured_asByPolygons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		wide, deep, turn := draw("wide", 1, 15), draw("deep", 1, 15), rapid.SampledFrom([]float64{0, math.Pi / 2, math.Pi, 0.5, 3.8}).Draw(t, "turn")
		at := geom.Pt(draw("x", -50, 50), draw("y", -50, 50))
		put := func(p geom.Point) geom.Point { return p.Rotate(geom.Point{}, turn).Add(at) }
		corners := []geom.Point{put(geom.Pt(0, 0)), put(geom.Pt(wide, 0)), put(geom.Pt(wide, deep)), put(geom.Pt(0, deep))}
		s := Space{Outline: geom.Polygon{Outer: corners}, Ceiling: 3}
		for range rapid.IntRange(0, 5).Draw(t, "windows") {
			side := rapid.IntRange(0, 3).Draw(t, "side")
			a, b := corners[side], corners[(side+1)%4]
			from, to := draw("from", 0, 1), draw("to", 0, 1)
			edge := geom.Segment{A: a, B: b}
			s.Windows = append(s.Windows, Window{A: edge.At(min(from, to)), B: edge.At(max(from, to)), Sill: 0.9, Head: units.Metres(draw("head", 0.8, 3.4))})
		}
		rules := rulesOf(t, rapid.SampledFrom([]string{ashrae2013, ashrae2010, iecc2018, california, losAngeles}).Draw(t, "code"))
		want, err := rules.Zones(&s)
		require.NoError(t, err)
		got, err := rules.Measured(&s)
		require.NoError(t, err)
		lamp := Luminaire{At: put(geom.Pt(draw("lx", 0, wide), draw("ly", 0, deep))), Length: 1.2, Width: 0.3, Turn: draw("lt", 0, 180)}
		a, b := want.Stands(&lamp), got.Stands(&lamp)
		for name, pair := range map[string][2]float64{
			"primary": {float64(want.Primary.Area), float64(got.Primary.Area)}, "secondary": {float64(want.Secondary.Area), float64(got.Secondary.Area)},
			"share of primary": {a.Primary, b.Primary}, "share of secondary": {a.Secondary, b.Secondary},
		} {
			require.InDelta(t, pair[0], pair[1], 0.002, name)
		}
		require.Equal(t, want.Primary.Cut || want.Secondary.Cut, got.Primary.Cut || got.Secondary.Cut)
	})
}

// The check cases of the sidelit areas, by rectangles (see TestZones_sidelitAreas).
func TestMeasured_cases(t *testing.T) {
	s := hall()
	z, err := rulesOf(t, ashrae2013).Measured(&s)
	require.NoError(t, err)
	assert.InDelta(t, 25.92, float64(z.Primary.Area), 1e-9)
	assert.InDelta(t, 25.92, float64(z.Secondary.Area), 1e-9)
	assert.Len(t, z.Primary.Parts, 2)
	corner := Space{Outline: geom.Rectangle(0, 0, 6, 6), Ceiling: 3, Windows: []Window{southWindow(1, 5, 2.7), {A: geom.Pt(0, 5), B: geom.Pt(0, 1), Sill: 0.9, Head: 2.7}}}
	z, err = rulesOf(t, ashrae2013).Measured(&corner)
	require.NoError(t, err)
	assert.InDelta(t, 25.11, float64(z.Primary.Area), 1e-9)
	assert.InDelta(t, 10.53, float64(z.Secondary.Area), 1e-9)
	screened := hall()
	screened.Obstructions = []Obstruction{screen(0, 1.8, 12, 1.8, 1.6)}
	z, err = rulesOf(t, ashrae2013).Measured(&screened)
	require.NoError(t, err)
	assert.True(t, z.Primary.Cut, "what stands in the room is left to polygons")
	_, err = rulesOf(t, ashrae2013).Measured(&Space{})
	assert.ErrorContains(t, err, "no sound outline")
}
