package drawing_test

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// elementsOf lists all elements of a screen's drawing.
func elementsOf(s *drawing.Steady) []drawing.Element {
	var out []drawing.Element
	for _, p := range s.Pieces() {
		out = append(out, p.Elements...)
	}
	return out
}

var ids = regexp.MustCompile(`<g id="((?:room|name|wall|opening|device|fixture|seat|finding)-[^"]*)"`)

func TestSteady_drawsWhatAStoreyDraws(t *testing.T) {
	p, plan, rooms := classrooms(4, units.US)
	opt := drawing.Options{Findings: []drawing.Finding{{ID: "1", At: geom.Pt(4, 3), Severity: drawing.Error, Text: "x"}}}
	listed := func(markup string) []string {
		var out []string
		for _, m := range ids.FindAllStringSubmatch(markup, -1) {
			out = append(out, m[1])
		}
		return out
	}
	whole := svgOf(t, drawing.Storey(p, plan, rooms, opt), drawing.SVGOptions{Screen: true})
	s := drawing.NewSteady(p, plan, rooms, opt, nil)
	assert.Equal(t, listed(whole), listed(steadySVG(t, s)))
	assert.Len(t, elementsOf(s), len(listed(whole)))
	assert.InDelta(t, 0, math.Remainder(s.Picture.Origin.X+0.5, 4), 1e-9, "the frame stands on a grid, 5 mm of margin at 1:100 off")
}

// A moved device leaves all pieces as they are but its own room's.
func TestSteady_keepsThePiecesOfOtherRooms(t *testing.T) {
	p, plan, rooms := classrooms(6, units.SI)
	before := drawing.NewSteady(p, plan, rooms, drawing.Options{}, nil)
	moved := slices.Clone(rooms)
	moved[2] = &domain.Resolved{Room: rooms[2].Room, Design: rooms[2].Design.Clone()}
	at := rooms[2].Design.Devices[3].At.Add(geom.Pt(0.5, 0.2))
	moved[2].Design.Devices[3].At = &at
	after := drawing.NewSteady(p, plan, moved, drawing.Options{}, before)
	for i := range after.Rooms {
		if i == 2 {
			assert.NotSame(t, before.Rooms[i], after.Rooms[i])
		} else {
			assert.Same(t, before.Rooms[i], after.Rooms[i], "room %d", i)
		}
	}
	assert.Same(t, before.Walls, after.Walls)
	assert.Equal(t, elementsOf(drawing.NewSteady(p, plan, moved, drawing.Options{}, nil)), elementsOf(after), "the same as drawn anew")
}

// Labels of rooms beside a wall that moved find their places anew, others stay.
func TestSteady_drawsRoomsBesideAMovedWallAnew(t *testing.T) {
	p, plan, rooms := classrooms(12, units.SI)
	before := drawing.NewSteady(p, plan, rooms, drawing.Options{}, nil)
	other := &domain.Plan{ID: plan.ID, North: plan.North, Walls: slices.Clone(plan.Walls)}
	at := slices.IndexFunc(other.Walls, func(w domain.Wall) bool { return w.ID == "l0" })
	require.GreaterOrEqual(t, at, 0)
	other.Walls[at].A.X += 0.5
	other.Walls[at].B.X += 0.5
	after := drawing.NewSteady(p, other, rooms, drawing.Options{}, before)
	assert.NotSame(t, before.Rooms[0], after.Rooms[0])
	assert.Same(t, before.Rooms[10], after.Rooms[10])
	assert.Equal(t, elementsOf(drawing.NewSteady(p, other, rooms, drawing.Options{}, nil)), elementsOf(after))
	again := drawing.NewSteady(p, other, rooms, drawing.Options{}, after)
	for i := range again.Rooms {
		assert.Same(t, after.Rooms[i], again.Rooms[i])
	}
}

func TestSteady_aWallBeyondTheFrameDrawsAllAnew(t *testing.T) {
	p, plan, rooms := classrooms(2, units.SI)
	before := drawing.NewSteady(p, plan, rooms, drawing.Options{}, nil)
	far := &domain.Plan{ID: plan.ID, Walls: append(slices.Clone(plan.Walls), domain.Wall{ID: "far", A: geom.Pt(-9, 0), B: geom.Pt(-9, 4), Kind: domain.FullWall})}
	after := drawing.NewSteady(p, far, rooms, drawing.Options{}, before)
	assert.NotEqual(t, before.Picture.Origin, after.Picture.Origin)
	assert.Equal(t, elementsOf(drawing.NewSteady(p, far, rooms, drawing.Options{}, nil)), elementsOf(after))
}

func steadySVG(t *testing.T, s *drawing.Steady) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, s.SVG(&b, nil))
	return b.String()
}

func BenchmarkSteadyMovedDevice(b *testing.B) {
	p, plan, rooms := classrooms(300, units.SI)
	before := drawing.NewSteady(p, plan, rooms, drawing.Options{}, nil)
	other := &domain.Resolved{Room: rooms[7].Room, Design: rooms[7].Design.Clone()}
	for i := 0; b.Loop(); i++ {
		moved := slices.Clone(rooms)
		if i%2 == 0 {
			moved[7] = other
		}
		before = drawing.NewSteady(p, plan, moved, drawing.Options{}, before)
	}
}
