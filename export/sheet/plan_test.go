package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/export/sheet"
)

// drawnClassroom is the sound classroom with an outline, a device, a luminaire and a seat
// in their places.
func drawnClassroom() *domaintest.Builder {
	b := domaintest.Classroom()
	b.R.Room.Outline = geom.Rectangle(2, 3, 8, 5)
	b.R.Room.Fixtures = []domain.Fixture{{ID: "f", Load: "l1", At: geom.Pt(4, 5)}}
	b.R.Room.Sitting = []domain.Seat{{ID: "s", At: geom.Pt(5, 6)}}
	b.R.Design.Device("ps").At = &geom.Point{X: 6, Y: 5}
	b.R.Room.Design = b.R.Design
	return b
}

func drawings(sheets []sheet.Sheet) []sheet.NamedDrawing {
	return sheet.Document{Title: "t", Sheets: sheets}.Drawings()
}

func TestRoomScope_showsThePlanAfterTheFacts(t *testing.T) {
	sheets := sheet.RoomScope(open(t, input(drawnClassroom())))
	require.IsType(t, sheet.Facts{}, sheets[0].Blocks[0])
	d, ok := sheets[0].Blocks[1].(sheet.Drawing)
	require.True(t, ok)
	assert.Equal(t, "Plan of room 101 Room", d.Caption)
	assert.Equal(t, "5 devices and 17 luminaires have no place on the plan yet.", d.Note)
	assert.Contains(t, d.View.Words(), "PS-1")
	assert.Contains(t, d.View.Words(), "Luminaire, with its load")
	assert.NotContains(t, d.View.Words(), "ST-1", "which has no place")
	assert.Empty(t, drawings(sheet.RoomScope(open(t, input(domaintest.Classroom())))), "a room without an outline has no plan")
}

func TestPlanSheets_oneForEachDrawnStorey(t *testing.T) {
	s := demo.Scope()
	sheets := sheet.PlanSheets(open(t, inputOf(s)))
	require.Len(t, sheets, 3)
	for i, number := range []string{"EL-101", "EL-102", "EL-103"} {
		assert.Equal(t, number, sheets[i].Number)
		require.Len(t, drawings(sheets[i:i+1]), 1)
	}
	rooms := 0
	for _, d := range drawings(sheets) {
		words := d.Drawing.View.Words()
		for i := range s.Rooms {
			if s.Rooms[i].StoreyID != "" && !s.Rooms[i].Outline.Empty() {
				for _, w := range words {
					if w == s.Rooms[i].Number {
						rooms++
					}
				}
			}
		}
	}
	assert.Equal(t, len(s.Rooms), rooms, "each room stands on one plan")

	bare := sheet.PlanSheets(open(t, input(domaintest.Classroom())))
	require.Len(t, bare, 1)
	assert.Contains(t, printed(bare), "No storey has been drawn yet.")
	assert.Empty(t, sheet.StoreyPlans(open(t, input(domaintest.Classroom()))), "the set leaves them out")

	s.Rooms[0].Outline = geom.Polygon{}
	assert.Contains(t, drawings(sheet.PlanSheets(open(t, inputOf(s))))[0].Drawing.Note, "Not drawn: "+s.Rooms[0].Number+".")
}

func TestRoomContentHash_changesWithTheRoomsDrawing(t *testing.T) {
	before := hashOf(drawnClassroom())
	assert.NotEqual(t, hashOf(domaintest.Classroom()), before)
	changes := map[string]func(*domain.Resolved){
		"corner": func(r *domain.Resolved) { r.Outline.Outer[2].X += 0.001 },
		"hole": func(r *domain.Resolved) {
			r.Room.Outline.Holes = [][]geom.Point{{{X: 3, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 5}}}
		},
		"device moved":     func(r *domain.Resolved) { r.Design.Device("ps").At.Y += 0.001 },
		"device turned":    func(r *domain.Resolved) { r.Design.Device("ps").Turn = 90 },
		"device placed":    func(r *domain.Resolved) { r.Design.Device("st").At = &geom.Point{X: 3, Y: 4} },
		"device taken off": func(r *domain.Resolved) { r.Design.Device("ps").At = nil },
		"luminaire moved":  func(r *domain.Resolved) { r.Room.Fixtures[0].At.X++ },
		"luminaire's load": func(r *domain.Resolved) { r.Room.Fixtures[0].Load = "l2" },
		"luminaire turned": func(r *domain.Resolved) { r.Room.Fixtures[0].Turn = 45 },
		"seat moved":       func(r *domain.Resolved) { r.Room.Sitting[0].At.X++ },
		"seat added": func(r *domain.Resolved) {
			r.Room.Sitting = append(r.Room.Sitting, domain.Seat{ID: "z", At: geom.Pt(3, 3)})
		},
	}
	seen := map[string]string{before: "nothing"}
	for name, change := range changes {
		b := drawnClassroom()
		change(b.R)
		h := hashOf(b)
		assert.NotContains(t, seen, h, "%s gives the hash of %s", name, seen[h])
		seen[h] = name
	}
}

// A storey that is moved as a whole, or whose walls become known, asks for no new signature.
func TestRoomContentHash_staysForWhatBelongsToTheStorey(t *testing.T) {
	b := drawnClassroom()
	before, in := hashOf(b), input(b)
	in.Scope.Plans = []domain.Plan{{ID: "s1", North: 30, Walls: []domain.Wall{{ID: "w", A: geom.Pt(2, 3), B: geom.Pt(10, 3), Kind: domain.FullWall}}}}
	assert.Equal(t, before, sheet.RoomContentHash(in, b.R))

	by := geom.Pt(123.4567, -8.9)
	b.R.Room.Outline = b.R.Outline.Translate(by)
	at := b.R.Design.Device("ps").At.Add(by)
	b.R.Design.Device("ps").At = &at
	b.R.Room.Fixtures[0].At = b.R.Room.Fixtures[0].At.Add(by)
	b.R.Room.Sitting[0].At = b.R.Room.Sitting[0].At.Add(by)
	assert.Equal(t, before, hashOf(b))
}
