package geom

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The figures in this file were printed by GEOS 3.11.1 (its command geosop, six
// digits) for the shapes written beside them.

// A hall with two columns: a five-cornered outline, a square and a triangle.
func hall() Polygon {
	return Polygon{
		Outer: []Point{{0, 0}, {20, 0}, {24, 9}, {11, 15}, {-3, 10}},
		Holes: [][]Point{{{5, 4}, {5, 8}, {9, 8}, {9, 4}}, {{14, 5}, {17, 9}, {18, 4}}},
	}
}

func wing() Polygon { return Polygon{Outer: []Point{{2, 2}, {21, 3}, {16, 12}, {7, 11}}} }

func TestArea_agreesWithGEOS(t *testing.T) {
	assert.InDelta(t, 272.5, hall().Area(), 1e-9)
	var holes float64
	for _, hole := range hall().Holes {
		holes += Polygon{Outer: hole}.Perimeter()
	}
	assert.InDelta(t, 99.6952, hall().Perimeter()+holes, 5e-5) // GEOS counts the holes' edges
	assert.InDelta(t, 69.4731, hall().Perimeter(), 5e-5)
}

func TestCentroid_agreesWithGEOS(t *testing.T) {
	c := hall().Centroid()
	assert.InDelta(t, 10.209174312, c.X, 1e-9)
	assert.InDelta(t, 6.63058104, c.Y, 1e-8)

	bracket := Polygon{Outer: []Point{{0, 0}, {12, 0}, {12, 2}, {2, 2}, {2, 8}, {12, 8}, {12, 10}, {0, 10}}}
	assert.InDelta(t, 5, bracket.Centroid().X, 1e-9)
	assert.InDelta(t, 5, bracket.Centroid().Y, 1e-9)
	assert.False(t, bracket.Contains(bracket.Centroid()), "the centroid of a C lies outside it")
	assert.True(t, bracket.Contains(bracket.LabelPoint()))
}

func TestContains_agreesWithGEOSCovers(t *testing.T) {
	for p, want := range map[Point]bool{
		{0, 0}: true, {5, 6}: true, {7, 6}: false, {9, 5}: true, {16, 6}: false, {24, 9}: true,
		{24.1, 9}: false, {10, 0}: true, {22, 4.5}: true, {1, 1}: true, {16, 8}: true, {14, 5}: true,
	} {
		assert.Equal(t, want, hall().Contains(p), "%v", p)
	}
}

func TestOverlays_agreeWithGEOS(t *testing.T) {
	l := Polygon{Outer: []Point{{0, 0}, {10, 0}, {10, 6}, {6, 6}, {6, 10}, {0, 10}}}
	box := Rectangle(4, 3, 10, 5)
	for name, c := range map[string]struct {
		a, b                Polygon
		both, either, first float64
	}{
		"hall and wing":   {hall(), wing(), 100.6, 297.9, 171.9},
		"L and rectangle": {l, box, 22, 112, 62},
	} {
		shared, err := OverlapArea(c.a, c.b)
		require.NoError(t, err)
		assert.InDelta(t, c.both, shared, 5e-4, name)
		union, err := Union(c.a, c.b)
		require.NoError(t, err)
		assert.InDelta(t, c.either, TotalArea(union), 5e-4, name)
		rest, err := Difference(c.a, c.b)
		require.NoError(t, err)
		assert.InDelta(t, c.first, TotalArea(rest), 5e-4, name)
	}
}

func TestIntersect_agreesWithGEOS(t *testing.T) {
	at, ok := Segment{Pt(0, 0), Pt(10, 3)}.Intersect(Segment{Pt(2, 5), Pt(7, -4)})
	require.True(t, ok)
	assert.InDelta(t, 4.095238095238, at.X, 1e-12)
	assert.InDelta(t, 1.228571428571, at.Y, 1e-12)

	near, _ := Segment{Pt(0, 0), Pt(10, 0)}.Nearest(Pt(3, 4))
	assert.Equal(t, Pt(3, 0), near)
}

// GEOS makes the bow-tie valid as the triangles 0,3 - 12/7,12/7 - 0,0 and
// 4,0 - 12/7,12/7 - 4,4.
func TestRepair_bowTieGivesBothTrianglesTheLargerFirst(t *testing.T) {
	bowTie := []Point{{0, 0}, {4, 4}, {4, 0}, {0, 3}}
	parts, err := Repair(bowTie)
	require.NoError(t, err)
	require.Len(t, parts, 2)
	assert.InDelta(t, (4-12.0/7)*4/2, parts[0].Area(), 1e-6)
	assert.InDelta(t, 12.0/7*3/2, parts[1].Area(), 1e-6)

	faults := Polygon{Outer: bowTie}.Validate()
	require.Len(t, faults, 1)
	assert.Equal(t, SelfCrossing, faults[0].Kind)
	assert.InDelta(t, 12.0/7, faults[0].At.X, 1e-9)
	assert.Equal(t, "the outline crosses itself near (1.71, 1.71) m", faults[0].Message())
}

// Both shapes come from cutting one ring and touch at one corner; GEOS gives
// POINT (1.665289698325684 2.224518755058662) as what they share.
func TestIntersection_touchingAtACornerOfACollinearEdge(t *testing.T) {
	a := Polygon{Outer: []Point{{0, 0}, {2.3438943911266352, 1.0935115798378647}, {2.4193559533375, 0.9677423813350003}, {10, 4}, {4, 5},
		{1.7633144854946328, 2.204143106868291}, {1.665289698325684, 2.224518755058662}, {1.7142862739150269, 2.142857842393784},
		{1.7076004853570383, 2.1345006066962977}, {0, 2}, {1.6, 2}}}
	b := Polygon{Outer: []Point{{0.000000000026, 5}, {1.2279281616210938, 2.3154296875}, {1.665289698325684, 2.224518755058662}}}
	shared, err := OverlapArea(a, b)
	require.NoError(t, err)
	assert.Zero(t, shared)
	union, err := Union(a, b)
	require.NoError(t, err)
	assert.InDelta(t, a.Area()+b.Area(), TotalArea(union), 1e-9)
}
