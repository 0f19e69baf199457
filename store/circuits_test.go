package store

import (
	"fmt"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

// keptShares gives the shares that are kept, and asks that they are those that the
// rooms themselves give.
func keptShares(t testing.TB, s *Store) []domain.CircuitShare {
	t.Helper()
	have, err := s.CircuitShares(ctx, projectID)
	require.NoError(t, err)
	scope, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	lines, _, err := s.RoomLines(ctx, projectID, Filter{Sort: ByNumber})
	require.NoError(t, err)
	var want []domain.CircuitShare
	for _, l := range lines {
		for i := range scope.Rooms {
			if r := &scope.Rooms[i]; r.ID == l.ID {
				resolved, err := scope.Resolve(r)
				require.NoError(t, err)
				want = append(want, resolved.CircuitShares(&scope.Project)...)
			}
		}
	}
	require.Equal(t, want, have)
	return have
}

func TestCircuitSharesFollowEveryEdit(t *testing.T) {
	s := open(t, invented(9, 3))
	first := keptShares(t, s)
	require.Len(t, first, 9)
	assert.Equal(t, "LP1-3", first[0].Circuit)
	assert.InDelta(t, 12*32, float64(first[0].Watts), 1e-9)
	undo := func(scope string) {
		_, err := s.Undo(ctx, Request{ProjectID: projectID, Scope: scope})
		require.NoError(t, err)
		assert.Equal(t, first, keptShares(t, s))
	}

	edit(t, s, "room:"+string(roomID(0)), func(tx *Tx) (string, error) {
		r, err := tx.Room(roomID(0))
		require.NoError(t, err)
		r.Design.Loads[0].Circuit, r.Design.Loads[0].Count = "LP1-5", 3
		return "moved to another circuit", tx.PutRoom(r)
	})
	assert.Equal(t, "LP1-5", keptShares(t, s)[0].Circuit)
	undo("room:" + string(roomID(0)))

	edit(t, s, "typical:"+string(typicalID), func(tx *Tx) (string, error) {
		typical, err := tx.Typical(typicalID)
		require.NoError(t, err)
		typical.Design.Loads[0].Count = 20
		return "more luminaires", tx.PutTypical(typical)
	})
	assert.InDelta(t, 20*32, float64(keptShares(t, s)[2].Watts), 1e-9, "the third room follows the typical")
	undo("typical:" + string(typicalID))

	edit(t, s, "project:"+string(projectID), func(tx *Tx) (string, error) {
		p, err := tx.Project()
		require.NoError(t, err)
		p.Luminaires[0].Watts, p.Luminaires[0].InrushPeak = 40, 25
		return "other luminaires", tx.PutProject(p)
	})
	changed := keptShares(t, s)
	assert.InDelta(t, 12*40, float64(changed[0].Watts), 1e-9)
	assert.InDelta(t, 12*25, float64(changed[0].Inrush), 1e-9)
	undo("project:" + string(projectID))

	edit(t, s, "room:"+string(roomID(2)), func(tx *Tx) (string, error) {
		r, err := tx.Room(roomID(2))
		require.NoError(t, err)
		bare := r.Room.Clone()
		bare.TypicalID, bare.Exceptions, bare.Design = "", nil, domain.Design{}
		return "follows no typical, holds nothing", tx.PutBareRoom(bare)
	})
	assert.Len(t, keptShares(t, s), 8)
	undo("room:" + string(roomID(2)))

	edit(t, s, "project:"+string(projectID), func(tx *Tx) (string, error) { return "removed a room", tx.RemoveRoom(roomID(4)) })
	assert.Len(t, keptShares(t, s), 8)
	undo("project:" + string(projectID))

	require.NoError(t, s.ImportScope(ctx, "", invented(3, 3), true, nil))
	assert.Len(t, keptShares(t, s), 3)
	require.NoError(t, s.RemoveProject(ctx, "", projectID))
	var left int
	require.NoError(t, s.one(ctx, "SELECT count(*) FROM room_circuits", nil, &left))
	assert.Zero(t, left)
}

// A file from before circuits were kept gets them when its rooms are judged
// again.
func TestCircuitSharesOfAnOldFileAreWorkedOut(t *testing.T) {
	s := open(t, invented(450, 2))
	require.NoError(t, s.Close())
	_, err := raw(t, s.Path()).Exec("DELETE FROM room_circuits")
	require.NoError(t, err)
	s = reopen(t, s.Path(), func(o *Options) { o.Judgement = func() string { return "newer" } })
	n, err := s.Refresh(ctx)
	require.NoError(t, err)
	assert.Equal(t, 450, n)
	assert.Len(t, keptShares(t, s), 450)
}

// An edit that changes no load writes no row of circuits.
func TestCircuitSharesAreWrittenOnlyWhereTheyChange(t *testing.T) {
	s := open(t, invented(3, 3))
	_, err := raw(t, s.Path()).Exec("CREATE TRIGGER told BEFORE DELETE ON room_circuits BEGIN SELECT RAISE(ABORT, 'written'); END")
	require.NoError(t, err)
	for i, name := range []string{"one", "two"} {
		edit(t, s, "room:"+string(roomID(i)), func(tx *Tx) (string, error) {
			r, err := tx.Room(roomID(i))
			require.NoError(t, err)
			r.Name = name
			r.Design.Devices[0].Place = fmt.Sprint("place ", i)
			return "renamed", tx.PutRoom(r)
		})
	}
	keptShares(t, s)
}

// Facts of circuits that rooms are judged by judge them again; a breaker does not.
func TestCircuitsOfTheEmergencySourceAreJudgedInRooms(t *testing.T) {
	var calls atomic.Int64
	s := open(t, invented(9, 3), func(o *Options) {
		o.Summarize = func(p *domain.Project, r *domain.Resolved) Summary {
			calls.Add(1)
			return CountOnly(p, r)
		}
	})
	change := func(what func(*domain.Project)) int64 {
		calls.Store(0)
		edit(t, s, "project:"+string(projectID), func(tx *Tx) (string, error) {
			p, err := tx.Project()
			require.NoError(t, err)
			what(p)
			return "circuits", tx.PutProject(p)
		})
		return calls.Load()
	}
	assert.Zero(t, change(func(p *domain.Project) { p.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "LP1-3"}} }))
	assert.Zero(t, change(func(p *domain.Project) { p.Circuits[0].Breaker = 15 }))
	assert.EqualValues(t, 9, change(func(p *domain.Project) { p.Circuits[0].Emergency = true }))
	assert.EqualValues(t, 9, change(func(p *domain.Project) { p.Circuits[0].Name = "EM1-3" }))
	assert.EqualValues(t, 9, change(func(p *domain.Project) { p.Circuits = nil }))
}

// Rows of the worksheet that rooms are judged by judge them again; those of another do not.
func TestWorksheetsAreJudgedInRoomsOnceTheyAreChosen(t *testing.T) {
	var calls atomic.Int64
	s := open(t, invented(9, 3), func(o *Options) {
		o.Summarize = func(p *domain.Project, r *domain.Resolved) Summary {
			calls.Add(1)
			return CountOnly(p, r)
		}
	})
	change := func(what func(*domain.Project)) int64 {
		calls.Store(0)
		edit(t, s, "project:"+string(projectID), func(tx *Tx) (string, error) {
			p, err := tx.Project()
			require.NoError(t, err)
			what(p)
			return "worksheets", tx.PutProject(p)
		})
		return calls.Load()
	}
	row := domain.CodeChange{Kind: domain.DensityRow, Space: "corridor", Value: 0.5, Mark: "memory"}
	assert.Zero(t, change(func(p *domain.Project) {
		p.Worksheets = []domain.CodeWorksheet{{ID: "a", Seq: 1, Title: "A"}, {ID: "ab", Seq: 2, Title: "B"}}
	}))
	assert.Zero(t, change(func(p *domain.Project) { p.Worksheets[0].Put(row) }))
	assert.EqualValues(t, 9, change(func(p *domain.Project) { p.CodePack = "a" }))
	assert.EqualValues(t, 9, change(func(p *domain.Project) { p.Worksheets[0].Changes[0].Value = 0.6 }))
	assert.Zero(t, change(func(p *domain.Project) { p.Worksheets[1].Put(row) }), "another one, whose ID begins alike")
	assert.EqualValues(t, 9, change(func(p *domain.Project) { p.Worksheets, p.CodePack = p.Worksheets[1:], "" }))
}
