package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Figures in this file are worked out by hand beside the shapes.

func TestValidate(t *testing.T) {
	square := Rectangle(0, 0, 10, 10)
	with := func(holes ...[]Point) Polygon { return Polygon{Outer: square.Outer, Holes: holes} }
	for name, c := range map[string]struct {
		shape Polygon
		want  []FaultKind
	}{
		"sound":                   {hall(), nil},
		"clockwise is sound":      {Polygon{Outer: []Point{{0, 0}, {0, 5}, {5, 5}}}, nil},
		"two corners":             {Polygon{Outer: []Point{{0, 0}, {1, 1}}}, []FaultKind{TooFewPoints}},
		"nothing":                 {Polygon{}, []FaultKind{TooFewPoints}},
		"not a number":            {Polygon{Outer: []Point{{0, 0}, {math.NaN(), 1}, {2, 2}}}, []FaultKind{NotFinite}},
		"too far out":             {Polygon{Outer: []Point{{0, 0}, {2e7, 1}, {2, 2}}}, []FaultKind{NotFinite}},
		"repeated corner":         {Polygon{Outer: []Point{{0, 0}, {5, 0}, {5, 0}, {5, 5}}}, []FaultKind{ZeroLength}},
		"all on a line":           {Polygon{Outer: []Point{{0, 0}, {1, 0}, {2, 0}}}, []FaultKind{SelfCrossing}},
		"spike":                   {Polygon{Outer: []Point{{0, 0}, {5, 0}, {9, 0}, {5, 0.00000001}, {5, 5}}}, []FaultKind{SelfCrossing}},
		"eight through a corner":  {Polygon{Outer: []Point{{0, 0}, {2, 2}, {4, 4}, {4, 0}, {2, 2}, {0, 4}}}, []FaultKind{SelfCrossing}},
		"eight through an edge":   {Polygon{Outer: []Point{{0, 0}, {4, 4}, {4, 0}, {2, 2}, {0, 4}}}, []FaultKind{SelfCrossing}},
		"touches itself":          {Polygon{Outer: []Point{{0, 0}, {4, 0}, {2, 2}, {4, 4}, {0, 4}, {2, 2}}}, nil},
		"hole":                    {with([]Point{{1, 1}, {2, 1}, {2, 2}}), nil},
		"hole outside":            {with([]Point{{11, 1}, {12, 1}, {12, 2}}), []FaultKind{HoleOutside}},
		"hole through the edge":   {with([]Point{{9, 1}, {12, 1}, {12, 2}}), []FaultKind{SelfCrossing}},
		"hole in a hole":          {with([]Point{{1, 1}, {8, 1}, {1, 8}}, []Point{{2, 2}, {3, 2}, {2, 3}}), []FaultKind{HoleOutside}},
		"hole at a corner's edge": {with([]Point{{0, 5}, {2, 4}, {2, 6}}), nil},
	} {
		var got []FaultKind
		for _, f := range c.shape.Validate() {
			got = append(got, f.Kind)
			assert.NotEmpty(t, f.Message(), name)
		}
		assert.Equal(t, c.want, got, name)
	}
}

func TestContains_boundaryCountsWithinAMillimeter(t *testing.T) {
	room := Rectangle(0, 0, 4, 3)
	assert.True(t, room.Contains(Pt(4.0009, 1)))
	assert.False(t, room.Contains(Pt(4.0011, 1)))
	assert.False(t, Polygon{}.Contains(Pt(0, 0)))
}

func TestUnion_oneRoomFromTwoFloorsWithANarrowGap(t *testing.T) {
	parts, err := Union(Rectangle(0, 0, 4, 3), Rectangle(4.00005, 0, 2, 3))
	require.NoError(t, err)
	require.Len(t, parts, 1, "0.05 mm apart is touching")
	assert.InDelta(t, 18, parts[0].Area(), 1e-3)
	assert.Len(t, parts[0].Simplify(Coincident).Outer, 4)

	parts, err = Union(Rectangle(0, 0, 4, 3), Rectangle(4.01, 0, 2, 3))
	require.NoError(t, err)
	assert.Len(t, parts, 2, "a centimeter apart is not")
	assert.InDelta(t, 12, parts[0].Area(), 1e-9, "the largest first")
}

func TestUnion_understandsASlitToItsHole(t *testing.T) {
	slit := Polygon{Outer: []Point{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 5}, {4, 5}, {4, 6}, {6, 6}, {6, 4}, {4, 4}, {4, 5}, {0, 5}}}
	parts, err := Union(slit)
	require.NoError(t, err)
	require.Len(t, parts, 1)
	assert.InDelta(t, 96, parts[0].Area(), 1e-9)
	require.Len(t, parts[0].Holes, 1)
	assert.Positive(t, SignedArea(parts[0].Outer))
	assert.Negative(t, SignedArea(parts[0].Holes[0]))
}

func TestUnion_closesTJunctionsOfTurnedRooms(t *testing.T) {
	// Three rooms around a T, turned by 17 degrees and rounded to a tenth of a
	// millimeter as a file holds them; no sliver may be left between them.
	turned := func(p Polygon) Polygon {
		return p.Rotate(Pt(0, 0), 17*math.Pi/180).Map(func(q Point) Point {
			return Pt(math.Round(q.X*1e4)/1e4, math.Round(q.Y*1e4)/1e4)
		})
	}
	parts, err := Union(turned(Rectangle(0, 0, 8, 3)), turned(Rectangle(0, 3, 3.3, 4)), turned(Rectangle(3.3, 3, 4.7, 4)))
	require.NoError(t, err)
	require.Len(t, parts, 1)
	assert.Empty(t, parts[0].Holes)
	assert.InDelta(t, 56, parts[0].Area(), 0.01)
}

func TestUnion_keepsDigitsOfSurveyCoordinates(t *testing.T) {
	far := Pt(4_500_000, 5_800_000)
	parts, err := Union(Rectangle(0, 0, 4, 3).Translate(far), Rectangle(4, 0, 2, 3).Translate(far))
	require.NoError(t, err)
	require.Len(t, parts, 1)
	assert.InDelta(t, 18, parts[0].Area(), 1e-6)
}

func TestUnion_nothing(t *testing.T) {
	parts, err := Union()
	require.NoError(t, err)
	assert.Empty(t, parts)
	parts, err = Intersection(Polygon{}, Rectangle(0, 0, 1, 1))
	require.NoError(t, err)
	assert.Empty(t, parts)
	parts, err = Difference(Rectangle(0, 0, 1, 1), Polygon{Outer: []Point{{0, 0}, {0, 0}, {0, 0}}})
	require.NoError(t, err)
	assert.InDelta(t, 1, TotalArea(parts), 1e-9)
}

func TestUnion_refusesATangle(t *testing.T) {
	// 300 long strips across 300 others: 360,000 crossings.
	var strips []Polygon
	for i := range 300 {
		strips = append(strips, Rectangle(0, float64(i), 300, 0.5), Rectangle(float64(i), 0, 0.5, 300))
	}
	_, err := Union(strips...)
	assert.ErrorIs(t, err, ErrTangled)
}

func TestOverlapArea_touchingRoomsShareNothing(t *testing.T) {
	area, err := OverlapArea(Rectangle(0, 0, 4, 3), Rectangle(4, -2, 4, 8))
	require.NoError(t, err)
	assert.Zero(t, area)
}

func TestSimplify(t *testing.T) {
	messy := Polygon{
		Outer: []Point{{2, 0}, {4, 0}, {4, 0}, {4, 3}, {4, 7}, {4, 3.00001}, {2, 3.0004}, {0, 3}, {0, 1}, {0, 0}},
		Holes: [][]Point{{{1, 1}, {2, 1}, {3, 1}}},
	}
	got := messy.Simplify(1e-3)
	assert.Empty(t, got.Holes, "a hole on a line is none")
	assert.Len(t, got.Outer, 4)
	assert.InDelta(t, 12, got.Area(), 2e-3)
	assert.True(t, Polygon{Outer: []Point{{0, 0}, {1, 0}, {2, 0}}}.Simplify(1e-3).Empty())
}

func TestSplitByLine(t *testing.T) {
	u := Polygon{Outer: []Point{{0, 0}, {12, 0}, {12, 8}, {10, 8}, {10, 2}, {2, 2}, {2, 8}, {0, 8}}}
	left, right, err := u.SplitByLine(Pt(0, 4), Pt(1, 4))
	require.NoError(t, err)
	require.Len(t, left, 2, "both arms of the U")
	assert.InDelta(t, 8, left[0].Area(), 1e-9)
	assert.InDelta(t, 8, left[1].Area(), 1e-9)
	require.Len(t, right, 1)
	assert.InDelta(t, 12*2+2*2*2, right[0].Area(), 1e-9)

	left, right, err = u.SplitByLine(Pt(0, 20), Pt(5, 20))
	require.NoError(t, err)
	assert.Empty(t, left)
	assert.InDelta(t, u.Area(), TotalArea(right), 1e-9)

	_, _, err = u.SplitByLine(Pt(1, 1), Pt(1, 1))
	assert.ErrorContains(t, err, "two different points")
}

func TestSplitByPath(t *testing.T) {
	room := Rectangle(0, 0, 10, 6)
	parts, err := room.SplitByPath(Pt(0, 4), Pt(3, 4), Pt(3, 6)) // a closet in the corner
	require.NoError(t, err)
	require.Len(t, parts, 2)
	assert.InDelta(t, 54, parts[0].Area(), 1e-9)
	assert.InDelta(t, 6, parts[1].Area(), 1e-9)

	parts, err = room.SplitByPath(Pt(0, 4), Pt(3, 4)) // ends in the room
	require.NoError(t, err)
	require.Len(t, parts, 1)
	assert.InDelta(t, 60, parts[0].Area(), 1e-9)

	parts, err = hall().SplitByPath(Pt(-5, 6), Pt(30, 6)) // through both columns
	require.NoError(t, err)
	assert.Len(t, parts, 2)
	assert.InDelta(t, 272.5, TotalArea(parts), 1e-6)
}

func TestFaces_roomsBetweenWalls(t *testing.T) {
	// A 10 x 8 outline, walls across at x = 4 (overshooting) and y = 5, a free
	// standing 2 x 2 shaft in the lower right room, and a loose end.
	var walls []Segment
	walls = append(walls, Rectangle(0, 0, 10, 8).Edges()...)
	walls = append(walls, Rectangle(6, 1, 2, 2).Edges()...)
	walls = append(walls, Segment{Pt(4, -1), Pt(4, 9)}, Segment{Pt(0, 5), Pt(10, 5)}, Segment{Pt(1, 1), Pt(2, 2)})
	faces, err := Faces(walls, Coincident)
	require.NoError(t, err)
	var areas []float64
	for _, f := range faces {
		areas = append(areas, math.Round(f.Area()*1e6)/1e6)
	}
	assert.Equal(t, []float64{6*5 - 4, 4 * 5, 6 * 3, 4 * 3, 4}, areas)
	assert.Len(t, faces[0].Holes, 1)
	assert.Empty(t, faces[0].Validate())
}

func TestFaces_gapWithinToleranceIsClosed(t *testing.T) {
	walls := []Segment{{Pt(0, 0), Pt(5, 0)}, {Pt(5.04, 0), Pt(5, 4)}, {Pt(5, 4), Pt(0, 4)}, {Pt(0, 3.97), Pt(0, 0)}}
	faces, err := Faces(walls, 0.05)
	require.NoError(t, err)
	require.Len(t, faces, 1)
	assert.InDelta(t, 20, faces[0].Area(), 0.2)
	faces, err = Faces(walls, 0.01)
	require.NoError(t, err)
	assert.Empty(t, faces)
}

func TestOffset(t *testing.T) {
	out, err := Rectangle(0, 0, 10, 4).Offset(0.5)
	require.NoError(t, err)
	assert.InDelta(t, 55, out.Area(), 1e-9)

	l := Polygon{Outer: []Point{{0, 0}, {10, 0}, {10, 6}, {6, 6}, {6, 10}, {0, 10}}}
	in, err := l.Offset(-1)
	require.NoError(t, err)
	assert.InDelta(t, 84-40+4, in.Area(), 1e-9) // area - perimeter + 4 (5 sharp corners, 1 inner)

	court := Polygon{Outer: Rectangle(0, 0, 10, 10).Outer, Holes: [][]Point{Rectangle(4, 4, 2, 2).Outer}}
	in, err = court.Offset(-1)
	require.NoError(t, err)
	assert.InDelta(t, 64-16, in.Area(), 1e-9)

	_, err = Rectangle(0, 0, 10, 1.8).Offset(-1)
	assert.ErrorIs(t, err, ErrNoOffset)
}

func TestOverlap_sharedStretchOfWalls(t *testing.T) {
	shared, ok := Segment{Pt(0, 0), Pt(10, 0)}.Overlap(Segment{Pt(14, 0.0005), Pt(6, 0)}, OnEdge)
	require.True(t, ok)
	assert.InDelta(t, 4, shared.Length(), 1e-9)
	_, ok = Segment{Pt(0, 0), Pt(10, 0)}.Overlap(Segment{Pt(10, 0), Pt(14, 0)}, OnEdge)
	assert.False(t, ok, "end to end is no stretch")
	_, ok = Segment{Pt(0, 0), Pt(10, 0)}.Overlap(Segment{Pt(0, 0), Pt(10, 1)}, OnEdge)
	assert.False(t, ok)
}

func TestIntersect_parallelAndApart(t *testing.T) {
	for _, o := range []Segment{{Pt(0, 1), Pt(10, 1)}, {Pt(11, -1), Pt(11, 1)}, {Pt(5, 5), Pt(5, 5)}} {
		_, ok := Segment{Pt(0, 0), Pt(10, 0)}.Intersect(o)
		assert.False(t, ok, "%v", o)
	}
	at, ok := Segment{Pt(0, 0), Pt(10, 0)}.Intersect(Segment{Pt(10, -1), Pt(10, 1)})
	assert.True(t, ok, "an end on the other counts")
	assert.Equal(t, Pt(10, 0), at)
}

func TestGrid(t *testing.T) {
	assert.Equal(t, Pt(1.5, -0.5), Grid{Step: 0.5}.Snap(Pt(1.3, -0.6)))
	assert.Equal(t, Pt(1.3, 2), Grid{}.Snap(Pt(1.3, 2)))
	// A grid at 45 degrees has a crossing at (step*sqrt(2), 0).
	got := Grid{Origin: Pt(1, 1), Step: 1, Angle: math.Pi / 4}.Snap(Pt(2.3, 1.1))
	assert.InDelta(t, 1+math.Sqrt2, got.X, 1e-9)
	assert.InDelta(t, 1, got.Y, 1e-9)
}
