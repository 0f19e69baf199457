package coverage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	. "scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// besideCorridor is a room of 6 by 4 m with a door from x 4 to 4.9 in its wall
// at y 0, and a corridor 2 m wide below.
func besideCorridor(t equipment.Type, kind domain.OpeningKind, at geom.Point) *domaintest.Builder {
	walls := walled(domain.FullWall, 0, geom.Pt(-10, 0), geom.Pt(16, 0), geom.Pt(6, 0), geom.Pt(6, 4), geom.Pt(6, 4), geom.Pt(0, 4), geom.Pt(0, 4), geom.Pt(0, 0), geom.Pt(-10, -2), geom.Pt(16, -2))
	walls[0].Openings = []domain.Opening{{ID: "d", Kind: kind, At: 14, Width: 0.9}}
	return roomOf(room(6, 4), t, 0.25, walls, at)
}

// What a sensor sees of the corridor through its door: 2.7000 m2, of it 1.2892
// within 3.845 m, by GEOS.
func TestLeaks_corridor(t *testing.T) {
	b := besideCorridor(cone(3.84525), domain.Door, geom.Pt(3, 2))
	got := NewRoom(b.P, b.R).Leaks()
	require.Len(t, got, 1)
	assert.InDelta(t, 1.2892, got[0].Area, 5e-5)
	assert.Equal(t, domain.ID("d"), got[0].Opening)
	assert.True(t, got[0].Door)
	assert.InDelta(t, got[0].Area, geom.TotalArea(got[0].Parts), 0.002, "the shape to draw has chords for the arc")
	b = besideCorridor(cone(30), domain.Gap, geom.Pt(3, 2))
	got = NewRoom(b.P, b.R).Leaks()
	require.Len(t, got, 1)
	assert.InDelta(t, 2.7, got[0].Area, 1e-4)
	assert.False(t, got[0].Door)
	assert.InDelta(t, 2.7, geom.TotalArea(got[0].Parts), 1e-4)
	b = besideCorridor(cone(30), domain.Window, geom.Pt(3, 2))
	assert.Empty(t, NewRoom(b.P, b.R).Leaks(), "glass stops infrared")
	b = besideCorridor(cone(2.2), domain.Door, geom.Pt(3, 2))
	assert.Empty(t, NewRoom(b.P, b.R).Leaks(), "the door is 2.236 m away")
}

// A leak of a wedge that looks away is none; beside a full wall before the door
// neither; a shut door across the corridor stays shut.
func TestLeaks_whatStopsThem(t *testing.T) {
	wedge := cone(8)
	wedge.Angle = 90
	b := besideCorridor(wedge, domain.Door, geom.Pt(3, 2))
	for turn, some := range map[float64]bool{90: false, 180: false, -45: true} {
		b.R.Design.Devices[0].Turn = turn
		assert.Equal(t, some, len(NewRoom(b.P, b.R).Leaks()) > 0, "turned by %g", turn)
	}
	b = besideCorridor(cone(30), domain.Door, geom.Pt(3, 2))
	b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: "x", A: geom.Pt(3.4, 0.4), B: geom.Pt(6, 0.4), Kind: domain.FullWall})
	assert.Empty(t, NewRoom(b.P, b.R).Leaks())
	b = besideCorridor(cone(30), domain.Door, geom.Pt(3, 2))
	b.R.Plan.Walls[4].Openings = []domain.Opening{{ID: "o", Kind: domain.Door, At: 10, Width: 8}}
	assert.InDelta(t, 2.7, NewRoom(b.P, b.R).Leaks()[0].Area, 1e-4)
	b.R.Plan.Walls[4].Openings[0].Kind = domain.Gap
	assert.Greater(t, NewRoom(b.P, b.R).Leaks()[0].Area, 10.0, "a gap across is open")
}

// Against counting cells of 4 cm that the sensor sees beyond the door: slivers
// are counted with too few of them to be told better.
func TestLeaks_againstCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom([]units.Metres{2, 3, 4.5, 8}).Draw(t, "radius")
		typ := cone(r)
		typ.Angle = rapid.SampledFrom([]float64{0, 0, 60, 120, 220}).Draw(t, "angle")
		b := besideCorridor(typ, domain.Gap, geom.Pt(rapid.Float64Range(0.1, 5.9).Draw(t, "x"), rapid.Float64Range(0.1, 3.9).Draw(t, "y")))
		b.R.Design.Devices[0].Turn = rapid.Float64Range(0, 360).Draw(t, "turn")
		for range rapid.IntRange(0, 2).Draw(t, "walls") {
			w := domain.Wall{ID: "x", A: geom.Pt(rapid.Float64Range(0, 8).Draw(t, "wx"), rapid.Float64Range(-1.9, -0.1).Draw(t, "wy")), Kind: domain.FullWall}
			w.B = w.A.Add(geom.Pt(rapid.Float64Range(-1, 1).Draw(t, "dx"), rapid.Float64Range(-1, 1).Draw(t, "dy")))
			b.R.Plan.Walls = append(b.R.Plan.Walls, w)
		}
		room := NewRoom(b.P, b.R)
		got := 0.0
		for _, l := range room.Leaks() {
			got += l.Area
		}
		s := room.Sensors[0]
		g := NewGrid(geom.Rectangle(-10, -2, 26, 2).Bounds(), 0.04)
		walls := Walls(b.R.Plan, false)
		want := float64(g.Seen(Sensor{At: s.At, Height: s.Height, Radius: s.Walk, Facing: s.Facing, Span: s.Span}, 1.6, walls, nil).Count()) * g.Step * g.Step
		if math.Abs(want-got) > 0.06+0.02*want {
			t.Fatalf("%g m2, by cells %g", got, want)
		}
	})
}
