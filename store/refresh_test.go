package store

import (
	"errors"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

func TestRefreshFollowsANewJudgement(t *testing.T) {
	var calls atomic.Int64
	judgedBy := func(name string, errors int) func(*Options) {
		return func(o *Options) {
			o.Judgement = func() string { return name }
			o.Summarize = func(p *domain.Project, r *domain.Resolved) Summary {
				calls.Add(1)
				sum := CountOnly(p, r)
				sum.Errors, sum.Rules = errors, []string{name}
				return sum
			}
		}
	}
	s := open(t, invented(450, 2), judgedBy("rules-1", 1))
	n, err := s.Refresh(ctx)
	require.NoError(t, err)
	assert.Equal(t, 450, n, "the first time nobody knows who judged")
	calls.Store(0)
	n, err = s.Refresh(ctx)
	require.NoError(t, err)
	assert.Zero(t, n)
	assert.Zero(t, calls.Load())
	require.NoError(t, s.Close())

	s = reopen(t, s.Path(), judgedBy("rules-2", 2))
	assert.Equal(t, 1, line(t, s, roomID(2)).Errors)
	revision := room(t, s, roomID(2)).Revision
	n, err = s.Refresh(ctx)
	require.NoError(t, err)
	assert.Equal(t, 450, n)
	for _, i := range []int{0, 2, 449} {
		l := line(t, s, roomID(i))
		assert.Equal(t, 2, l.Errors)
		assert.Equal(t, []string{"rules-2"}, l.Rules)
	}
	assert.Equal(t, revision, room(t, s, roomID(2)).Revision, "the room itself is the same")
}

// A wall that moves is judged in the rooms around it and nowhere else.
func TestAMovedWallIsJudgedInTheRoomsAroundIt(t *testing.T) {
	scope := invented(8, 2) // four rooms on the first storey
	scope.Plans = []domain.Plan{{ID: "s1", Walls: []domain.Wall{{ID: "w1", Seq: 1, A: geom.Pt(0, 0), B: geom.Pt(0, 4), Kind: domain.FullWall}}}}
	drawn := map[domain.ID]float64{}
	for i := range scope.Rooms {
		if r := &scope.Rooms[i]; r.StoreyID == "s1" {
			r.Outline = geom.Rectangle(float64(len(drawn))*40, 0, 6, 4)
			drawn[r.ID] = r.Outline.Outer[0].X
		}
	}
	require.Len(t, drawn, 4)
	judged := map[domain.ID]int{}
	var mu sync.Mutex
	s := open(t, scope, func(o *Options) {
		o.Summarize = func(p *domain.Project, r *domain.Resolved) Summary {
			mu.Lock()
			defer mu.Unlock()
			judged[r.ID]++
			sum := CountOnly(p, r)
			if r.Plan != nil {
				sum.Warnings = len(r.Plan.Walls)
			}
			return sum
		}
	})
	rooms, err := s.StoreyRooms(ctx, projectID, "s1")
	require.NoError(t, err)
	for _, r := range rooms {
		want := 0
		if drawn[r.Resolved.ID] == 0 {
			want = 1
		}
		line := line(t, s, r.Resolved.ID)
		assert.Equal(t, want, line.Warnings, "as imported, room at %g m", drawn[r.Resolved.ID])
	}
	clear(judged)
	move := func(x float64) {
		edit(t, s, PlanSubject("s1"), func(tx *Tx) (string, error) {
			p, err := tx.Plan("s1")
			require.NoError(t, err)
			p.Walls[0].A.X, p.Walls[0].B.X = x, x
			return "moved a wall", tx.PutPlan(p)
		})
	}
	move(42)
	for id, x := range drawn {
		want := 0
		if x == 40 {
			want = 1
		}
		assert.Equal(t, want, line(t, s, id).Warnings, "room at %g m", x)
	}
	assert.Len(t, judged, 2, "the room that it left and the one that it came to")

	clear(judged)
	_, err = s.Undo(ctx, Request{ProjectID: projectID, Scope: PlanSubject("s1")})
	require.NoError(t, err)
	assert.Len(t, judged, 2)
	for id, x := range drawn {
		r, err := s.Room(ctx, id)
		require.NoError(t, err)
		assert.Equal(t, x == 0, r.Resolved.Plan != nil, "room at %g m", x)
	}

	// An edit that fails leaves nothing behind in what is remembered.
	refused := errors.New("refused")
	_, err = s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) {
		p, err := tx.Plan("s1")
		require.NoError(t, err)
		p.Walls = nil
		require.NoError(t, tx.PutPlan(p))
		return "", refused
	})
	require.ErrorIs(t, err, refused)
	for id, x := range drawn {
		r, err := s.Room(ctx, id)
		require.NoError(t, err)
		assert.Equal(t, x == 0, r.Resolved.Plan != nil, "room at %g m", x)
	}
}
