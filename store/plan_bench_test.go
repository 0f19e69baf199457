package store

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// storeyOf300 holds 300 drawn rooms of ten placed devices on one storey, and a
// plan of 1,000 walls.
func storeyOf300(b *testing.B) *Store {
	scope := invented(600, 10)
	plan := domain.Plan{ID: "s1"}
	for i := range 1000 {
		plan.Walls = append(plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprintf("w%04d", i)), Seq: i + 1, A: geom.Pt(float64(i), 0), B: geom.Pt(float64(i), 4), Kind: domain.FullWall,
			Openings: []domain.Opening{{ID: "o1", Kind: domain.Door, At: 1, Width: 0.9}}})
	}
	scope.Plans = []domain.Plan{plan}
	for i := range scope.Rooms {
		r := &scope.Rooms[i]
		r.Outline = geom.Rectangle(float64(i)*8, 0, 8, 5)
		for j := range r.Design.Devices {
			at := geom.Pt(float64(i)*8+float64(j)/2, 2)
			r.Design.Devices[j].At = &at
		}
	}
	return open(b, scope)
}

func BenchmarkStoreyOf300Rooms(b *testing.B) {
	s := storeyOf300(b)
	b.Run("cold", func(b *testing.B) {
		for b.Loop() {
			s.cache = newCache(defaultCacheSize)
			rooms, err := s.StoreyRooms(ctx, projectID, "s1")
			require.NoError(b, err)
			require.Len(b, rooms, 300)
		}
	})
	b.Run("warm", func(b *testing.B) {
		for b.Loop() {
			_, err := s.StoreyRooms(ctx, projectID, "s1")
			require.NoError(b, err)
		}
	})
	b.Run("plan", func(b *testing.B) {
		for b.Loop() {
			_, _, err := s.Plan(ctx, projectID, "s1")
			require.NoError(b, err)
		}
	})
	b.Run("move a wall", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			_, err := s.Edit(ctx, Request{ProjectID: projectID, Scope: PlanSubject("s1")}, func(tx *Tx) (string, error) {
				p, err := tx.Plan("s1")
				if err != nil {
					return "", err
				}
				p.Walls[500].B.Y = float64(i%7 + 1)
				return "moved a wall", tx.PutPlan(p)
			})
			require.NoError(b, err)
		}
	})
}
