package store

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func review(t *testing.T, s *Store, room domain.ID, item domain.ID, v domain.Verdict) {
	t.Helper()
	_, err := s.AddReview(ctx, projectID, domain.Review{RoomID: room, ItemID: item, Name: "Cy Example", Verdict: v, Comment: "said " + string(v)})
	require.NoError(t, err)
}

func TestObjectionsStandOpenUntilTheNewestVerdict(t *testing.T) {
	s := open(t, invented(3, 4))
	id := roomID(0)
	review(t, s, id, "i1", domain.Object)
	review(t, s, id, "i2", domain.Object)
	review(t, s, id, "i3", domain.Agree)
	assert.Equal(t, 2, line(t, s, id).Objections)
	_, err := s.AddReview(ctx, projectID, domain.Review{RoomID: id, ItemID: "i1", Name: "Ada Example", Answer: "moved the sensor"})
	require.NoError(t, err)
	assert.Equal(t, 2, line(t, s, id).Objections, "an answer alone settles nothing")
	review(t, s, id, "i1", domain.Agree)
	assert.Equal(t, 1, line(t, s, id).Objections)
	review(t, s, id, "i1", domain.Object)
	assert.Equal(t, 2, line(t, s, id).Objections)
	steps, err := s.Reviews(ctx, projectID, id)
	require.NoError(t, err)
	require.Len(t, steps, 6)
	assert.Equal(t, "moved the sensor", steps[3].Answer)

	lines, total, err := s.RoomLines(ctx, projectID, Filter{Review: WithObjects})
	require.NoError(t, err)
	assert.Equal(t, 1, total)
	assert.Equal(t, id, lines[0].ID)
	totals, err := s.Totals(ctx, projectID)
	require.NoError(t, err)
	assert.Equal(t, 2, totals[0].Objections)

	_, err = s.AddReview(ctx, projectID, domain.Review{RoomID: "nope", ItemID: "i1"})
	assert.ErrorIs(t, err, ErrNotFound)
	_, err = s.AddReview(ctx, "nope", domain.Review{ItemID: "i1"})
	assert.ErrorIs(t, err, ErrNotFound)
	_, err = s.AddReview(ctx, projectID, domain.Review{RoomID: id, ItemID: "i1", Verdict: "maybe"})
	assert.ErrorContains(t, err, "no verdict")
	review(t, s, "", "i9", domain.Agree)
	steps, err = s.Reviews(ctx, projectID, "")
	require.NoError(t, err)
	assert.Len(t, steps, 1)
}

func TestASignOffGoesStaleWhenTheRoomChanges(t *testing.T) {
	now := time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC)
	s := open(t, invented(6, 4), func(o *Options) { o.Hash, o.Now = testHash, func() time.Time { return now } })
	sign := func(id domain.ID) domain.SignOff {
		state := room(t, s, id)
		o, err := s.SignOff(ctx, projectID, domain.SignOff{RoomID: id, Name: "Cy Example", Role: "reviewer", Hash: testHash(state.Project, state.Resolved)})
		require.NoError(t, err)
		return o
	}
	first := sign(roomID(0))
	follower := sign(roomID(2))
	assert.Equal(t, "2026-03-31T12:00:00Z", first.At)
	count := func(state ReviewState) int {
		_, total, err := s.RoomLines(ctx, projectID, Filter{Review: state, Limit: 1})
		require.NoError(t, err)
		return total
	}
	assert.Equal(t, []int{2, 0, 4}, []int{count(Signed), count(StaleSigned), count(NotSigned)})

	edit(t, s, RoomSubject(roomID(0)), rename(roomID(0), "Changed"))
	assert.True(t, line(t, s, roomID(0)).Stale)
	_, err := s.Undo(ctx, Request{Scope: RoomSubject(roomID(0))})
	require.NoError(t, err)
	assert.False(t, line(t, s, roomID(0)).Stale, "as it was signed again")

	edit(t, s, "", func(tx *Tx) (string, error) { return "typical", carryOut(tx, "typical", "", 2) })
	assert.True(t, line(t, s, roomID(2)).Stale, "what a follower prints has changed with its typical")
	assert.Equal(t, []int{1, 1, 4}, []int{count(Signed), count(StaleSigned), count(NotSigned)})

	require.NoError(t, s.WithdrawSignOff(ctx, projectID, follower.ID, "Cy Example"))
	assert.Equal(t, []int{1, 0, 5}, []int{count(Signed), count(StaleSigned), count(NotSigned)})
	assert.ErrorIs(t, s.WithdrawSignOff(ctx, projectID, follower.ID, "Cy Example"), ErrRefused)
	assert.ErrorIs(t, s.WithdrawSignOff(ctx, projectID, "nope", "Cy Example"), ErrNotFound)
	offs, err := s.SignOffs(ctx, projectID, roomID(2))
	require.NoError(t, err)
	require.Len(t, offs, 1)
	assert.Equal(t, "2026-03-31T12:00:00Z", offs[0].Withdrawn, "it stays on record")
	all, err := s.SignOffs(ctx, projectID, "")
	require.NoError(t, err)
	assert.Len(t, all, 2)
	_, err = s.SignOff(ctx, projectID, domain.SignOff{RoomID: roomID(0), Hash: "x"})
	assert.ErrorIs(t, err, ErrRefused)
}
