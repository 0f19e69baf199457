package edit_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// walled is a plan with a wall of 6 m and a door of 0.9 m from 1 m on.
func walled() *domain.Plan {
	return &domain.Plan{ID: "s1", Walls: []domain.Wall{{ID: "w1", Seq: 1, B: geom.Pt(6, 0), Kind: domain.FullWall, Thickness: 0.12,
		Openings: []domain.Opening{{ID: "o1", Seq: 1, Kind: domain.Door, At: 1, Width: 0.9, Head: 2.1}}}}}
}

func drawWalls(t require.TestingT, p *domain.Plan, g edit.Gesture) (*domain.Plan, string, error) {
	require.True(t, g.Walls())
	work := new(domain.Plan)
	require.NoError(t, json.Unmarshal([]byte(asJSON(t, p)), work))
	said, err := edit.Draw(&edit.Drawing{Project: &domain.Project{}, Storey: "s1", Plan: work}, g)
	return work, said, err
}

// Whatever a gesture does to walls, the difference leads back to the same bytes,
// every opening lies within its wall, and none lies in another.
func TestEveryWallGestureHasAnExactInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := walled()
		number := rapid.Float64Range(-50, 50)
		point := func() geom.Point { return geom.Pt(number.Draw(t, "x"), number.Draw(t, "y")) }
		for n := range rapid.IntRange(1, 6).Draw(t, "gestures") {
			id := domain.ID(fmt.Sprintf("new%d", n))
			some := things(t, rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"wall/w1", "opening/w1/o1", "wall/new0", "opening/w1/new1", "opening/gone/o1"}), 1, 2, rapid.ID[string]).Draw(t, "things")...)
			length := func() units.Metres { return units.Metres(rapid.Float64Range(-1, 7).Draw(t, "length")) }
			g := []edit.Gesture{
				edit.DrawWalls{IDs: []domain.ID{id}, Points: []geom.Point{point(), point()}, Kind: domain.Partition, Thickness: length()},
				edit.AddOpening{Wall: "w1", ID: id, Kind: domain.Window, At: length(), Width: length(), Sill: length(), Head: length()},
				edit.MoveThings{Things: some, By: point()}, edit.TakeOff{Things: some},
			}[rapid.IntRange(0, 3).Draw(t, "gesture")]
			before := asJSON(t, p)
			work, said, err := drawWalls(t, p, g)
			if err != nil {
				continue
			}
			require.NotEmpty(t, said)
			changes, err := delta.Diff(p, work)
			require.NoError(t, err)
			back := new(domain.Plan)
			require.NoError(t, json.Unmarshal([]byte(asJSON(t, work)), back))
			require.NoError(t, delta.Apply(back, changes.Inverse()))
			require.Equal(t, before, asJSON(t, back))
			for _, w := range work.Walls {
				for i, o := range w.Openings {
					require.GreaterOrEqual(t, float64(o.At), 0.0)
					require.LessOrEqual(t, float64(o.At+o.Width), w.A.Distance(w.B)+1e-3)
					for _, other := range w.Openings[:i] {
						require.False(t, o.At < other.At+other.Width-1e-3 && other.At < o.At+o.Width-1e-3, "openings overlap")
					}
				}
			}
			p = work
		}
	})
}

func TestDrawWalls_chainSharesItsCorners(t *testing.T) {
	p, said, err := drawWalls(t, walled(), edit.DrawWalls{IDs: []domain.ID{"a", "b"}, Points: []geom.Point{{}, {X: 4}, {X: 4, Y: 3}}, Kind: domain.FullWall, Thickness: 0.1})
	require.NoError(t, err)
	assert.Equal(t, "drew 2 walls", said)
	require.Len(t, p.Walls, 3)
	assert.Equal(t, p.Walls[1].B, p.Walls[2].A)
	assert.Equal(t, []int{1, 2, 3}, []int{p.Walls[0].Seq, p.Walls[1].Seq, p.Walls[2].Seq})
	for _, bad := range []edit.DrawWalls{
		{}, {IDs: []domain.ID{"a"}, Points: []geom.Point{{}, {X: 0.001}}, Kind: domain.FullWall},
		{IDs: []domain.ID{"a"}, Points: []geom.Point{{}, {X: 1}}, Kind: "glass"},
		{IDs: []domain.ID{"a"}, Points: []geom.Point{{}, {X: math.NaN()}}, Kind: domain.FullWall},
		{IDs: []domain.ID{"a"}, Points: []geom.Point{{}, {X: 1}}, Kind: domain.FullWall, Thickness: 6},
	} {
		_, _, err := drawWalls(t, walled(), bad)
		assert.Error(t, err, "%+v", bad)
	}
}

func TestAddOpening_isKeptWithinItsWallAndClearOfOthers(t *testing.T) {
	p, _, err := drawWalls(t, walled(), edit.AddOpening{Wall: "w1", ID: "o2", Kind: domain.Window, At: 5.9, Width: 1.2, Sill: 0.9, Head: 2.1})
	require.NoError(t, err)
	assert.InDelta(t, 4.8, float64(p.Walls[0].Openings[1].At), 1e-9, "moved in from the end: 6 m less 1.2 m")
	_, _, err = drawWalls(t, p, edit.AddOpening{Wall: "w1", ID: "o3", Kind: domain.Window, At: 2, Width: 1, Head: 2})
	assert.ErrorContains(t, err, "a door in this place already")
	_, _, err = drawWalls(t, p, edit.AddOpening{Wall: "w1", ID: "o3", Kind: domain.Window, At: 2, Width: 6.1, Head: 2})
	assert.ErrorContains(t, err, "does not fit")
	_, _, err = drawWalls(t, p, edit.AddOpening{Wall: "w1", ID: "o3", Kind: domain.Window, At: 3, Width: 1, Sill: 2, Head: 1})
	assert.ErrorContains(t, err, "above its sill")
}

func TestMoveThings_openingSlidesAlongItsWall(t *testing.T) {
	p, said, err := drawWalls(t, walled(), edit.MoveThings{Things: things(t, "opening/w1/o1"), By: geom.Pt(2, 5)})
	require.NoError(t, err)
	assert.Equal(t, "moved a door", said)
	assert.InDelta(t, 3, float64(p.Walls[0].Openings[0].At), 1e-9)
	p, _, err = drawWalls(t, p, edit.MoveThings{Things: things(t, "opening/w1/o1"), By: geom.Pt(-99, 0)})
	require.NoError(t, err)
	assert.InDelta(t, 0, float64(p.Walls[0].Openings[0].At), 1e-9)
}

func TestDrawInside_takesTheShapeBetweenWalls(t *testing.T) {
	p, r := drawnRoom()
	plan := &domain.Plan{ID: "s1"}
	for i, w := range [][2]geom.Point{{{}, {X: 6}}, {{X: 6}, {X: 6, Y: 4}}, {{X: 6, Y: 4}, {Y: 4}}, {{Y: 4.03}, {}}, {{X: 3}, {X: 3, Y: 4}}} {
		plan.Walls = append(plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprintf("w%d", i)), A: w[0], B: w[1], Kind: domain.FullWall})
	}
	d := &edit.Drawing{Project: p, Storey: "s1", Plan: plan, Rooms: []*domain.Resolved{copied(r)}}
	_, err := edit.Draw(d, edit.DrawInside{At: geom.Pt(1, 1), ID: "new", Number: "120"})
	require.NoError(t, err)
	require.Len(t, d.Added, 1)
	assert.InDelta(t, 12, d.Added[0].Outline.Area(), 0.1, "3 by 4 m, the wall between cuts it off")
	_, err = edit.Draw(d, edit.DrawInside{At: geom.Pt(20, 1), Room: r.ID})
	assert.ErrorContains(t, err, "no walls enclose")
}

func TestDuplicateThings_copiesWithPlacesOfTheirOwn(t *testing.T) {
	p, r := drawnRoom()
	id := string(r.ID)
	first := r.Design.Devices[0]
	some := things(t, "device/"+id+"/"+string(first.ID), "fixture/"+id+"/f1", "seat/"+id+"/s1")
	work, _, said, err := draw(t, p, r, edit.DuplicateThings{Things: some, IDs: []domain.ID{"n1", "n2", "n3"}, By: geom.Pt(0.5, 0)})
	require.NoError(t, err)
	assert.Equal(t, "copied 3 things on the plan", said)
	twin := work.Design.Device("n1")
	require.NotNil(t, twin)
	assert.Equal(t, geom.Pt(2.5, 2), *twin.At)
	assert.NotEqual(t, first.Tag, twin.Tag)
	assert.Equal(t, geom.Pt(2, 2), *work.Design.Devices[0].At, "the first stays")
	assert.Len(t, work.Fixtures, 3)
	assert.Len(t, work.Sitting, 2)
	_, d, _, err := draw(t, p, r, edit.DuplicateThings{Things: things(t, "room/"+id, "seat/"+id+"/s1"), IDs: []domain.ID{"n1", "n2"}, By: geom.Pt(10, 0)})
	require.NoError(t, err)
	require.Len(t, d.Added, 1, "the seat comes with its room")
	assert.Equal(t, "101 copy", d.Added[0].Number)
	assert.Equal(t, geom.Rectangle(10, 0, 8, 10), d.Added[0].Outline)
	assert.Equal(t, geom.Pt(14, 4), d.Added[0].Sitting[0].At)
	assert.Len(t, d.Added[0].Design.Devices, len(r.Design.Devices))
	assert.Empty(t, d.Added[0].Design.Loads[0].Circuit, "a circuit is each room's own")

	plan, _, err := drawWalls(t, walled(), edit.DuplicateThings{Things: things(t, "wall/w1"), IDs: []domain.ID{"w2"}, By: geom.Pt(0, 3)})
	require.NoError(t, err)
	require.Len(t, plan.Walls, 2)
	assert.Equal(t, geom.Pt(6, 3), plan.Walls[1].B)
	assert.NotEqual(t, plan.Walls[0].Openings[0].ID, plan.Walls[1].Openings[0].ID)
}

func TestSetWall_setsNumbersOfWallsAndOpenings(t *testing.T) {
	set := func(p *domain.Plan, thing, field, text string) (*domain.Plan, error) {
		work, _, err := drawWalls(t, p, edit.SetWall{Thing: things(t, thing)[0], Field: field, Text: text, Path: thing + "/" + field})
		return work, err
	}
	p, err := set(walled(), "wall/w1", "by", "-2 m")
	require.NoError(t, err)
	assert.Equal(t, geom.Pt(6, -2), p.Walls[0].B)
	p, err = set(p, "opening/w1/o1", "width", "36 in")
	require.NoError(t, err)
	assert.InDelta(t, 0.9144, float64(p.Walls[0].Openings[0].Width), 1e-9)
	p, err = set(p, "opening/w1/o1", "at", "100 m")
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(40)-0.9144, float64(p.Walls[0].Openings[0].At), 1e-3, "kept within its wall")
	p, err = set(p, "wall/w1", "material", "Brick 215 mm")
	require.NoError(t, err)
	assert.Equal(t, domain.Brick215, p.Walls[0].Material)
	p, err = set(p, "wall/w1", "material", "")
	require.NoError(t, err)
	assert.Empty(t, p.Walls[0].Material)
	p.Walls[0].Kind = domain.Boundary
	_, err = set(p, "wall/w1", "material", "metal")
	assert.ErrorContains(t, err, "boundary")
	for _, c := range [][3]string{
		{"wall/w1", "material", "straw"}, {"wall/gone", "material", "metal"}, {"opening/w1/o1", "material", "metal"},
		{"wall/w1", "bx", "0"}, {"wall/w1", "bx", "1.5 m"}, {"wall/w1", "thickness", "9 m"}, {"wall/w1", "color", "1"}, {"wall/gone", "ax", "1"},
		{"opening/w1/o1", "width", "7 m"}, {"opening/w1/o1", "sill", "3 m"}, {"opening/w1/gone", "at", "1"}, {"wall/w1", "ax", "wide"},
	} {
		_, err := set(walled(), c[0], c[1], c[2])
		var field *edit.FieldError
		require.ErrorAs(t, err, &field, "%v", c)
		assert.Equal(t, c[0]+"/"+c[1], field.Path)
	}
}
