package edit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

func TestAlignThings_ontoTheOutermostOrTheMiddle(t *testing.T) {
	p, r := drawnRoom() // luminaires at 2,5 and 6,5, a seat at 4,4, a device at 2,2
	id := string(r.ID)
	all := things(t, "fixture/"+id+"/f1", "fixture/"+id+"/f2", "seat/"+id+"/s1", "device/"+id+"/"+string(r.Design.Devices[0].ID))
	for to, want := range map[edit.Alignment]geom.Point{
		edit.AlignLeft: {X: 2, Y: 4}, edit.AlignRight: {X: 6, Y: 4}, edit.AlignTop: {X: 4, Y: 5}, edit.AlignBottom: {X: 4, Y: 2},
		edit.AlignColumn: {X: 4, Y: 4}, edit.AlignRow: {X: 4, Y: 3.5},
	} {
		work, _, said, err := draw(t, p, r, edit.AlignThings{Things: all, To: to})
		require.NoError(t, err)
		assert.Equal(t, "aligned 4 things on the plan", said)
		assert.Equal(t, want, work.Sitting[0].At, "%s", to)
	}
	for says, g := range map[string]edit.AlignThings{
		"select at least 2":   {Things: all[:1], To: edit.AlignLeft},
		"cannot be aligned":   {Things: all, To: "askew"},
		"named twice":         {Things: append(all, all[0]), To: edit.AlignLeft},
		"a room does not":     {Things: append(all, edit.Thing{Kind: edit.RoomThing, Room: r.ID}), To: edit.AlignLeft},
		"no longer in this":   {Things: append(all, edit.Thing{Kind: edit.SeatThing, Room: r.ID, ID: "gone"}), To: edit.AlignLeft},
		"a wall does not al":  {Things: append(all, edit.Thing{Kind: edit.WallThing, ID: "w"}), To: edit.AlignLeft},
		"has no place on the": {Things: append(all, edit.Thing{Kind: edit.DeviceThing, Room: r.ID, ID: r.Design.Devices[1].ID}), To: edit.AlignLeft},
	} {
		_, _, _, err := draw(t, p, r, g)
		assert.ErrorContains(t, err, says)
	}
}

func TestDistributeThings_leavesEqualGaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, r := drawnRoom()
		r.Sitting = nil
		n := rapid.IntRange(3, 8).Draw(t, "seats")
		var names []string
		for i := range n {
			id := domain.ID("q" + string(rune('a'+i)))
			r.Sitting = append(r.Sitting, domain.Seat{ID: id, At: geom.Pt(rapid.Float64Range(0, 8).Draw(t, "x"), float64(i))})
			names = append(names, "seat/"+string(r.ID)+"/"+string(id))
		}
		work, _, _, err := draw(t, p, r, edit.DistributeThings{Things: things(t, names...)})
		if err != nil {
			require.ErrorContains(t, err, "nothing to distribute")
			return
		}
		box, _ := geom.BoundsOf(func() (out []geom.Point) {
			for _, s := range r.Sitting {
				out = append(out, s.At)
			}
			return
		}()...)
		gap := box.Width() / float64(n-1)
		for _, a := range work.Sitting {
			steps := (a.At.X - box.Min.X) / gap
			require.InDelta(t, float64(int(steps+0.5)), steps, 3e-4/gap, "on a multiple of the gap")
		}
		for i, a := range work.Sitting {
			require.InDelta(t, r.Sitting[i].At.Y, a.At.Y, 1e-4, "only along x")
			for j, b := range work.Sitting {
				require.False(t, r.Sitting[i].At.X < r.Sitting[j].At.X && a.At.X > b.At.X+1e-4, "the order stays")
			}
		}
	})
}

func TestPlaceGrid_fillsTheRoomEvenly(t *testing.T) {
	p, r := drawnRoom() // 8 by 10 m
	r.Fixtures, r.Sitting = nil, nil
	work, _, said, err := draw(t, p, r, edit.PlaceGrid{Room: r.ID, Load: "l1", Across: 2, Down: 5, Turn: 90, New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, "placed 10 luminaires of L1 in 101", said)
	require.Len(t, work.Fixtures, 10)
	assert.Equal(t, geom.Pt(2, 9), work.Fixtures[0].At, "half a spacing of 4 by 2 m from the edges, from the top left")
	assert.Equal(t, geom.Pt(6, 1), work.Fixtures[9].At)
	assert.InDelta(t, 90, work.Fixtures[0].Turn, 0)

	work, _, said, err = draw(t, p, r, edit.PlaceGrid{Room: r.ID, Across: 3, Down: 2, StepX: 0.6, StepY: 1.2, New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, "placed 6 seats in 101", said)
	assert.Equal(t, geom.Pt(3.4, 5.6), work.Sitting[0].At, "around the middle, 4, 5")
	assert.Equal(t, geom.Pt(4.6, 4.4), work.Sitting[5].At)

	r.Outline = geom.Polygon{Outer: []geom.Point{{}, {X: 8}, {X: 8, Y: 5}, {X: 4, Y: 5}, {X: 4, Y: 10}, {Y: 10}}} // an L
	work, _, said, err = draw(t, p, r, edit.PlaceGrid{Room: r.ID, Across: 4, Down: 4, New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, "placed 12 seats in 101", said, "a quarter of the box is no part of the room")
	for _, s := range work.Sitting {
		assert.True(t, r.Outline.Contains(s.At))
	}
	for says, g := range map[string]edit.PlaceGrid{
		"of the 9 places lie outside room 101": {Across: 3, Down: 3, StepX: 3, StepY: 3},
		"at least 1 column":                    {Across: 0, Down: 3},
		"at most 500":                          {Across: 100, Down: 6},
		"a spacing lies between":               {Across: 2, Down: 2, StepX: units.Metres(-1)},
	} {
		g.Room, g.New = r.ID, counter("n")
		_, _, _, err := draw(t, p, r, g)
		assert.ErrorContains(t, err, says)
	}
}

func TestCorners_moveAddRemoveAndType(t *testing.T) {
	p, r := drawnRoom()
	work, _, said, err := draw(t, p, r, edit.MoveCorner{Room: r.ID, Corner: 2, To: geom.Pt(8, 12)})
	require.NoError(t, err)
	assert.Equal(t, "changed the outline of room 101", said)
	assert.InDelta(t, 88, work.Outline.Area(), 1e-9) // 80 m2 and a triangle of 8 by 2 m
	work, _, _, err = draw(t, p, r, edit.AddCorner{Room: r.ID, After: 3, At: geom.Pt(-2, 5)})
	require.NoError(t, err)
	assert.InDelta(t, 90, work.Outline.Area(), 1e-9) // and one of 10 by 2 m
	work, _, _, err = draw(t, p, work, edit.RemoveCorner{Room: r.ID, Corner: 4})
	require.NoError(t, err)
	assert.Equal(t, r.Outline, work.Outline)
	work, _, _, err = draw(t, p, r, edit.SetCorner{Room: r.ID, Corner: 1, Field: "x", Text: "9 m"})
	require.NoError(t, err)
	assert.Equal(t, geom.Pt(9, 0), work.Outline.Outer[1])
	work, _, _, err = draw(t, p, r, edit.SetCorner{Room: r.ID, Corner: 1, Field: "y", Text: " "})
	require.NoError(t, err)
	assert.Len(t, work.Outline.Outer, 3, "emptied, it goes")
	for says, g := range map[string]edit.Gesture{
		"no corner 5":      edit.MoveCorner{Room: r.ID, Corner: 4},
		"no corner 0":      edit.RemoveCorner{Room: r.ID, Corner: -1},
		"crosses itself":   edit.MoveCorner{Room: r.ID, Corner: 0, To: geom.Pt(9, 5)},
		"there is no fiel": edit.SetCorner{Room: r.ID, Field: "z", Path: "corner/1/z"},
	} {
		_, _, _, err := draw(t, p, r, g)
		assert.ErrorContains(t, err, says)
	}
	_, _, _, err = draw(t, p, triangle(r), edit.RemoveCorner{Room: r.ID, Corner: 0})
	assert.ErrorContains(t, err, "three corners")
	r.Outline.Holes = [][]geom.Point{{{X: 1, Y: 1}, {X: 1, Y: 2}, {X: 2, Y: 1}}}
	_, _, _, err = draw(t, p, r, edit.MoveCorner{Room: r.ID, Corner: 0, To: geom.Pt(4, 4)})
	assert.Error(t, err, "a hole may not lie outside")
}

func triangle(r *domain.Resolved) *domain.Resolved {
	out := copied(r)
	out.Outline = geom.Polygon{Outer: []geom.Point{{}, {X: 8}, {Y: 10}}}
	return out
}
