package domain

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOpinions_newestVerdictHoldsAndItsAnswer(t *testing.T) {
	list := []ChecklistItem{{ID: "a", For: AskRoom}, {ID: "b", For: AskRoom}, {ID: "p", For: AskProject}}
	steps := []Review{
		{ID: "1", ItemID: "a", Verdict: Object, Comment: "too few sensors"},
		{ID: "2", ItemID: "a", Answer: "one added"},
		{ID: "3", ItemID: "gone", Verdict: Object},
		{ID: "4", ItemID: "b", Verdict: NotApplicable},
	}
	got := Opinions(list, AskRoom, steps)
	require.Len(t, got, 2)
	assert.True(t, got[0].Open(), "an answer does not close an objection")
	assert.Equal(t, "one added", got[0].Answer.Answer)
	assert.Equal(t, ID("2"), got[0].Last())
	assert.Equal(t, Tally{Objected: 1, NotApplicable: 1}, CountOpinions(got))

	got = Opinions(list, AskRoom, append(steps, Review{ID: "5", ItemID: "a", Verdict: Agree}))
	assert.Equal(t, Agree, got[0].Verdict)
	assert.Nil(t, got[0].Answer, "the answer was to the verdict before")
	assert.Equal(t, Tally{Agreed: 1, NotApplicable: 1}, CountOpinions(got))
}
