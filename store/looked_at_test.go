package store

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func TestLookedAt_countsItemsAndNotSteps(t *testing.T) {
	s := open(t, invented(1, 3))
	none, err := s.LookedAt(ctx, projectID)
	require.NoError(t, err)
	assert.Empty(t, none)
	say := func(item domain.ID, verdict domain.Verdict, answer string) {
		_, err := s.AddReview(ctx, projectID, domain.Review{RoomID: roomID(0), ItemID: item, Name: "R. Reviewer", Verdict: verdict, Answer: answer, Comment: "c"})
		require.NoError(t, err)
	}
	say("q1", domain.Object, "")
	say("q1", "", "answered")
	say("q1", domain.Agree, "")
	say("q2", domain.NotApplicable, "")
	got, err := s.LookedAt(ctx, projectID)
	require.NoError(t, err)
	assert.Equal(t, map[domain.ID]int{roomID(0): 2}, got)
}
