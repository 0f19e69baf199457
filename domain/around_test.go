package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

func wallAt(x float64) domain.Wall {
	return domain.Wall{ID: "w", Seq: 1, A: geom.Pt(x, -1), B: geom.Pt(x, 5), Kind: domain.FullWall, Openings: []domain.Opening{{ID: "o", Kind: domain.Door, At: 1, Width: 0.9}}}
}

func TestOnPlan_takesTheWallsAround(t *testing.T) {
	room := &domain.Resolved{Room: &domain.Room{ID: "r", Outline: geom.Rectangle(0, 0, 6, 4)}}
	plan := &domain.Plan{ID: "s1", North: 30, Walls: []domain.Wall{wallAt(6), wallAt(16), wallAt(16.01)}}
	got := room.OnPlan(plan)
	require.NotNil(t, got.Plan)
	assert.Equal(t, plan.Walls[:2], got.Plan.Walls, "10 m from the room is around it, farther is not")
	assert.Equal(t, 30.0, got.Plan.North)
	assert.Nil(t, room.Plan, "the room itself is as it was")

	at := geom.Pt(7, 1)
	room.Design.Devices = []domain.Device{{ID: "d", At: &at}}
	assert.Len(t, room.OnPlan(plan).Plan.Walls, 3, "a device outside of its room counts to it")
}

func TestOnPlan_keepsARoomThatNothingChangedAround(t *testing.T) {
	room := (&domain.Resolved{Room: &domain.Room{ID: "r", Outline: geom.Rectangle(0, 0, 6, 4)}}).OnPlan(&domain.Plan{ID: "s1", Walls: []domain.Wall{wallAt(6), wallAt(40)}})
	assert.Same(t, room, room.OnPlan(&domain.Plan{ID: "s1", Walls: []domain.Wall{wallAt(6), wallAt(50)}}))

	for name, change := range map[string]func(*domain.Wall){
		"moved":     func(w *domain.Wall) { w.B.X = 5 },
		"material":  func(w *domain.Wall) { w.Material = domain.Brick110 },
		"kind":      func(w *domain.Wall) { w.Kind = domain.Partition },
		"height":    func(w *domain.Wall) { w.Height = 1.5 },
		"thickness": func(w *domain.Wall) { w.Thickness = 0.2 },
		"door":      func(w *domain.Wall) { w.Openings = []domain.Opening{{ID: "o", Kind: domain.Door, At: 2, Width: 0.9}} },
		"no door":   func(w *domain.Wall) { w.Openings = nil },
	} {
		w := wallAt(6)
		change(&w)
		got := room.OnPlan(&domain.Plan{ID: "s1", Walls: []domain.Wall{w}})
		assert.NotSame(t, room, got, name)
		assert.Equal(t, []domain.Wall{w}, got.Plan.Walls, name)
	}
	assert.NotSame(t, room, room.OnPlan(&domain.Plan{ID: "s1", North: 5, Walls: room.Plan.Walls}), "turned")
	assert.Nil(t, room.OnPlan(nil).Plan)
	assert.Nil(t, room.OnPlan(&domain.Plan{ID: "s1", Walls: []domain.Wall{wallAt(40)}}).Plan)
	bare := &domain.Resolved{Room: &domain.Room{ID: "r"}}
	assert.Same(t, bare, bare.OnPlan(&domain.Plan{ID: "s1", Walls: []domain.Wall{wallAt(0)}}), "nothing is drawn of the room")
}

func TestOnPlan_takesTheRooflightsOver(t *testing.T) {
	room := &domain.Resolved{Room: &domain.Room{ID: "r", Outline: geom.Rectangle(0, 0, 6, 4)}}
	plan := &domain.Plan{ID: "s1", Rooflights: []domain.Rooflight{{ID: "in", At: geom.Pt(3, 2), Width: 1, Length: 1}, {ID: "next", At: geom.Pt(7, 2), Width: 4, Length: 1}}}
	over := room.OnPlan(plan)
	require.NotNil(t, over.Plan)
	assert.Equal(t, plan.Rooflights[:1], over.Plan.Rooflights)
	assert.Same(t, over, over.OnPlan(plan))
	plan.Rooflights = []domain.Rooflight{{ID: "in", At: geom.Pt(3, 2), Width: 1, Length: 1, Glass: 0.5}}
	assert.NotSame(t, over, over.OnPlan(plan), "other glass")
	assert.Nil(t, over.OnPlan(&domain.Plan{ID: "s1"}).Plan)
}

func TestRooflight_box(t *testing.T) {
	l := domain.Rooflight{At: geom.Pt(5, 5), Width: 2, Length: 4, Turn: 90}
	b := l.Box().Bounds()
	assert.InDelta(t, 3, b.Min.X, 1e-12)
	assert.InDelta(t, 7, b.Max.X, 1e-12)
	assert.InDelta(t, 4, b.Min.Y, 1e-12)
	assert.InDelta(t, 6, b.Max.Y, 1e-12)
}
