package dxf

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/store/intake/building"
)

var withOpenings = Options{WallLayers: []string{"W"}, WindowLayers: []string{"GL"}, DoorLayers: []string{"D"}, PairWalls: true}

func (s *sketch) line(layer string, x1, y1, x2, y2 float64) *sketch {
	return s.add(0, "LINE", 8, layer, 10, x1, 20, y1, 11, x2, 21, y2)
}

func openingSketch() *sketch {
	return newSketch("AC1015", 6).layer("W", 7, 0).layer("GL", 7, 0).layer("D", 7, 0)
}

// gapped draws a wall of two lines, 0.2 m apart, from x 0 to 10 with a gap.
func gapped(from, to float64) *sketch {
	s := openingSketch()
	for _, y := range []float64{0, 0.2} {
		s.line("W", 0, y, from, y).line("W", to, y, 10, y)
	}
	return s
}

func onlyWall(t *testing.T, m *building.Model) building.Wall {
	t.Helper()
	require.Len(t, m.Storeys[0].Walls, 1, "%v", messages(m))
	return m.Storeys[0].Walls[0]
}

func TestOpenings_aWindowInAGapJoinsTheWall(t *testing.T) {
	s := gapped(4, 5.5).line("GL", 4, 0, 5.5, 0).line("GL", 4, 0.1, 5.5, 0.1).line("GL", 4, 0.2, 5.5, 0.2).line("GL", 4, 0, 4, 0.2).line("GL", 5.5, 0, 5.5, 0.2)
	m := read(t, s.bytes(), withOpenings)
	w := onlyWall(t, m)
	assert.InDelta(t, 10, w.A.Distance(w.B), 1e-9)
	assert.InDelta(t, 0.2, float64(w.Thickness), 1e-9)
	require.Len(t, w.Openings, 1)
	o := w.Openings[0]
	assert.Equal(t, building.Window, o.Kind)
	assert.InDelta(t, 1.5, o.A.Distance(o.B), 1e-9)
	assert.InDelta(t, 4, math.Min(o.A.X, o.B.X), 1e-9)
	assert.InDelta(t, 0.1, o.A.Y, 1e-9, "on the wall's middle")
	assert.Contains(t, m.Notes, "1 window and 0 doors found in walls. A plan shows no sills and heads: type them in the storey's table.")
}

func TestOpenings_aBlockInAWallThatGoesOn(t *testing.T) {
	s := openingSketch().line("W", 0, 0, 0, 8).line("W", 0.2, 0, 0.2, 8)
	s.block("WIN", 0, "LWPOLYLINE", 8, "0", 90, 4, 70, 1, 10, 0, 20, 0, 10, 2, 20, 0, 10, 2, 20, 0.2, 10, 0, 20, 0.2)
	s.add(0, "INSERT", 8, "GL", 2, "WIN", 10, 0.2, 20, 3, 50, 90).add(0, "INSERT", 8, "GL", 2, "WIN", 10, 0.2, 20, 5.5, 50, 90)
	w := onlyWall(t, read(t, s.bytes(), withOpenings))
	require.Len(t, w.Openings, 2)
	for _, o := range w.Openings {
		assert.InDelta(t, 2, o.A.Distance(o.B), 1e-9)
	}
}

// A door of 0.9 m: its leaf stands open at a right angle, the arc is a quarter
// circle of the same radius.
func TestOpenings_aDoorSwingsOutOfItsGap(t *testing.T) {
	for _, turn := range []int{0, 180} { // to either side of the wall
		s := gapped(4, 4.9).block("DOOR", 0, "LINE", 8, "0", 10, 0, 20, 0, 11, 0, 21, 0.9, 0, "ARC", 8, "0", 10, 0, 20, 0, 40, 0.9, 50, 0, 51, 90)
		x, y := 4.0, 0.2
		if turn == 180 {
			x, y = 4.9, 0
		}
		s.add(0, "INSERT", 8, "D", 2, "DOOR", 10, x, 20, y, 50, turn)
		// A partition ends where the leaf points: it must not take the door.
		s.line("W", 4, 2, 4, 5).line("W", 4.1, 2, 4.1, 5)
		m := read(t, s.bytes(), withOpenings)
		var doors []building.Opening
		for _, w := range m.Storeys[0].Walls {
			doors = append(doors, w.Openings...)
		}
		require.Len(t, doors, 1, "turned %d: %v", turn, messages(m))
		assert.Equal(t, building.Door, doors[0].Kind)
		assert.InDelta(t, 0.9, doors[0].A.Distance(doors[0].B), 1e-9)
	}
}

func TestOpenings_whatIsNotPlainIsLeftOutAndListed(t *testing.T) {
	lines := func(s *sketch) *sketch { return s.line("GL", 4, 0.1, 5.5, 0.1) }
	unpaired := withOpenings
	unpaired.PairWalls = false
	m := read(t, lines(gapped(4, 5.5)).bytes(), unpaired)
	assert.Contains(t, messages(m), "A window near (4.75, 0.10) m was left out: more than one wall could hold it; where two lines draw one wall, say so.")
	assert.Len(t, m.Storeys[0].Walls, 4, "walls stay as they are")

	m = read(t, lines(gapped(2, 7)).bytes(), withOpenings)
	assert.Contains(t, messages(m), "A window near (4.75, 0.10) m was left out: no wall of the chosen layers holds it.", "the gap is 5 m, the window 1.5 m")
	m = read(t, gapped(4, 5.5).line("GL", 4, 3, 5.5, 3).bytes(), withOpenings)
	assert.Contains(t, messages(m), "no wall of the chosen layers holds it")
	m = read(t, gapped(4, 5.5).line("GL", 4, 0.1, 5.5, 0.1).line("D", 4, 0.1, 5.5, 0.1).bytes(), withOpenings)
	assert.Contains(t, messages(m), "another lies in the same place")
	m = read(t, gapped(4, 5.5).line("GL", 4, -1, 5.5, 1).bytes(), withOpenings)
	assert.Contains(t, messages(m), "no wall of the chosen layers holds it", "a line that crosses the wall is no window")
	none := withOpenings
	none.WindowLayers, none.DoorLayers = []string{"W2"}, nil
	m = read(t, gapped(4, 5.5).layer("W2", 7, 0).bytes(), none)
	assert.Contains(t, messages(m), "Nothing is drawn on the chosen layers of windows and doors.")
}

// Wherever a window lies in a wall of any direction, it comes with its width at
// its place, and the wall keeps its ends.
func TestOpenings_holdInWallsOfAnyDirection(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		turn := rapid.Float64Range(0, 360).Draw(rt, "turn")
		from := rapid.Float64Range(0.5, 6).Draw(rt, "from")
		width := rapid.Float64Range(0.4, 3).Draw(rt, "width")
		s := openingSketch()
		s.block("ALL", 0, "LINE", 8, "W", 10, 0, 20, 0, 11, 10, 21, 0, 0, "LINE", 8, "W", 10, 0, 20, 0.2, 11, 10, 21, 0.2,
			0, "INSERT", 8, "GL", 2, "WIN", 10, from, 20, 0)
		s.block("WIN", 0, "LWPOLYLINE", 8, "0", 90, 4, 70, 1, 10, 0, 20, 0, 10, width, 20, 0, 10, width, 20, 0.2, 10, 0, 20, 0.2)
		s.add(0, "INSERT", 8, "0", 2, "ALL", 10, 50, 20, -30, 50, turn)
		m := read(t, s.bytes(), withOpenings)
		walls := m.Storeys[0].Walls
		if len(walls) != 1 || len(walls[0].Openings) != 1 {
			rt.Fatalf("%d walls: %v", len(walls), messages(m))
		}
		o := walls[0].Openings[0]
		if d := o.A.Distance(o.B); math.Abs(d-width) > 1e-6 {
			rt.Fatalf("width %g, want %g", d, width)
		}
		if d := math.Min(walls[0].A.Distance(o.A), walls[0].A.Distance(o.B)); math.Abs(d-from) > 1e-6 && math.Abs(d-(10-from-width)) > 1e-6 {
			rt.Fatalf("at %g, want %g", d, from)
		}
	})
}

func TestOpenings_thousandsStayBounded(t *testing.T) {
	s := openingSketch()
	for i := range 6000 {
		y := float64(i)
		s.line("W", 0, y, 10, y).add(0, "LINE", 8, "GL", 10, 4, 20, y, 11, fmt.Sprint(5), 21, y)
	}
	m := read(t, s.bytes(), Options{WallLayers: []string{"W"}, WindowLayers: []string{"GL"}, Unit: "m"})
	held := 0
	for _, w := range m.Storeys[0].Walls {
		held += len(w.Openings)
	}
	assert.Equal(t, maxSigns, held)
	assert.Contains(t, messages(m), "more than 5,000 windows and doors; 1,000 were left out")
}

// Lines are drawn from either end; the walls lie where the lines do all the same.
func TestPairWalls_whicheverWayLinesWereDrawn(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := openingSketch()
		for i, y := range []float64{3, 3.2, 7, 7.2} {
			if rapid.Bool().Draw(rt, fmt.Sprint("reversed ", i)) {
				s.line("W", 9, y, 2, y)
			} else {
				s.line("W", 2, y, 9, y)
			}
		}
		for _, w := range read(t, s.bytes(), withOpenings).Storeys[0].Walls {
			if math.Abs(math.Min(w.A.X, w.B.X)-2) > 1e-9 || math.Abs(math.Max(w.A.X, w.B.X)-9) > 1e-9 || math.Abs(w.A.Y-3.1) > 1e-9 && math.Abs(w.A.Y-7.1) > 1e-9 {
				rt.Fatalf("wall from %v to %v", w.A, w.B)
			}
		}
	})
}
