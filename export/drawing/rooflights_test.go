package drawing_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// toplit is a storey of two rooms with a rooflight of 1 by 2 m over the first,
// turned by a right angle, so that it is 2 m across and 1 m up.
func toplit(sys units.System) (*domain.Project, *domain.Plan, []*domain.Resolved) {
	p, plan, rooms := classrooms(2, sys)
	plan.Rooflights = []domain.Rooflight{{ID: "r1", Seq: 1, At: rooms[0].Outline.LabelPoint(), Width: 1, Length: 2, Turn: 90}}
	return p, plan, rooms
}

func itemsOf(pic *drawing.Picture, class string) (out []drawing.Item) {
	for _, i := range pic.Items {
		if i.Class == class {
			out = append(out, i)
		}
	}
	return out
}

func TestRooflights_areADashedRectangleWithACross(t *testing.T) {
	p, plan, rooms := toplit(units.SI)
	pic := drawing.Storey(p, plan, rooms, drawing.Options{})
	items := itemsOf(pic, "rooflight")
	require.Len(t, items, 1)
	assert.Equal(t, "rooflight-r1", items[0].ID)
	assert.Equal(t, drawing.LayerWalls, items[0].Layer)
	assert.Equal(t, "Rooflight, 1 m x 2 m", items[0].Title)
	require.Len(t, items[0].Shapes, 6, "four sides and two diagonals")
	lengths := map[float64]int{}
	for _, s := range items[0].Shapes {
		l, ok := s.(drawing.Line)
		require.True(t, ok)
		assert.Positive(t, l.Style.Look().Dash, "the sign does not rest on color")
		lengths[math.Round(l.Points[0].Distance(l.Points[1])*100)/100]++
	}
	assert.Equal(t, map[float64]int{10: 2, 20: 2, 22.36: 2}, lengths, "at 1:100; the diagonal is 10 times the root of 5")
	box, _ := geom.BoundsOf(corners(items[0])...)
	assert.InDelta(t, 20, box.Width(), 1e-6, "turned by a right angle")
	assert.Contains(t, pic.Legend, drawing.LegendEntry{Name: "rooflight", Meaning: "Rooflight in the ceiling"})

	without := drawing.Storey(p, plan, rooms, drawing.Options{Layers: drawing.Without(drawing.LayerWalls)})
	assert.Empty(t, itemsOf(without, "rooflight"))
	plan.Rooflights[0].Width = 0
	assert.Empty(t, itemsOf(drawing.Storey(p, plan, rooms, drawing.Options{}), "rooflight"), "one of no size is not drawn")
}

func corners(i drawing.Item) (out []geom.Point) {
	for _, s := range i.Shapes {
		out = append(out, s.(drawing.Line).Points...)
	}
	return out
}

func TestRooflights_ofARoomAreThoseOverIt(t *testing.T) {
	p, plan, rooms := toplit(units.SI)
	assert.Len(t, itemsOf(drawing.Room(p, plan, rooms[0], rooms, drawing.Options{}), "rooflight"), 1)
	plan.Rooflights[0].At.X += 1000
	assert.Empty(t, itemsOf(drawing.Room(p, plan, rooms[0], rooms, drawing.Options{}), "rooflight"))
}

// A rooflight beyond all rooms is still in the picture.
func TestRooflights_countForTheFrame(t *testing.T) {
	p, plan, rooms := toplit(units.SI)
	before := drawing.Storey(p, plan, rooms, drawing.Options{})
	plan.Rooflights[0].At = geom.Pt(60, 0)
	after := drawing.Storey(p, plan, rooms, drawing.Options{})
	assert.Greater(t, after.Width, before.Width)
}

func TestSteady_rooflightsAreOfTheWallsPiece(t *testing.T) {
	p, plan, rooms := toplit(units.SI)
	first := drawing.NewSteady(p, plan, rooms, drawing.Options{}, nil)
	moved := *plan
	moved.Rooflights = []domain.Rooflight{plan.Rooflights[0]}
	moved.Rooflights[0].At.X += 0.5
	second := drawing.NewSteady(p, &moved, rooms, drawing.Options{}, first)
	find := func(s *drawing.Steady) string {
		for _, e := range s.Walls.Elements {
			if e.ID == "rooflight-r1" {
				return e.Markup
			}
		}
		return ""
	}
	assert.Contains(t, find(first), `class="p-rooflight"`)
	assert.NotEqual(t, find(first), find(second))
	for i := range first.Rooms {
		assert.Same(t, first.Rooms[i], second.Rooms[i], "rooms are not drawn anew")
	}
}

func TestDXF_rooflightsHaveALayerOfTheirOwn(t *testing.T) {
	for sys, unit := range map[units.System]float64{units.SI: 1, units.US: 0.0254} {
		p, plan, rooms := toplit(sys)
		entities, _, text := readDXF(t, drawing.StoreyView(p, plan, rooms, drawing.Options{}))
		found := rings(t, entities, "ROOFLIGHTS")
		require.Len(t, found, 1)
		box, _ := geom.BoundsOf(found[0]...)
		assert.InDelta(t, 2/unit, box.Width(), 1e-3)
		assert.InDelta(t, 1/unit, box.Height(), 1e-3)
		lines := 0
		for _, e := range entities {
			if e.kind == "LINE" && e.values[8] == "ROOFLIGHTS" {
				lines++
			}
		}
		assert.Equal(t, 2, lines, "the cross")
		assert.Equal(t, 1, strings.Count(text, "\r\n  2\r\nROOFLIGHTS\r\n"), "in the table of layers")
	}
}
