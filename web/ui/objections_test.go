package ui

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func TestObjections_listWhatIsOpenAsText(t *testing.T) {
	p := &domain.Project{ID: "p1", Checklist: []domain.ChecklistItem{
		{ID: "q1", Text: "Is it <right>?", For: domain.AskRoom}, {ID: "q2", Text: "Settled?", For: domain.AskRoom}, {ID: "q3", Text: "Whole?", For: domain.AskProject},
	}}
	steps := []domain.Review{
		{ItemID: "q1", Name: "R", At: "2026-03-02T12:00:00Z", Verdict: domain.Object, Comment: "no <b>"},
		{ItemID: "q2", Name: "R", At: "2026-03-02T12:00:00Z", Verdict: domain.Object, Comment: "no"},
		{ItemID: "q2", Name: "R", At: "2026-03-03T12:00:00Z", Verdict: domain.Agree},
		{ItemID: "q3", Name: "R", At: "2026-03-03T12:00:00Z", Verdict: domain.Object, Comment: "asked of the project"},
	}
	list := OpenObjections(p, "r1", steps)
	require.Len(t, list, 1)
	var out bytes.Buffer
	require.NoError(t, Objections(list).Render(t.Context(), &out))
	assert.Contains(t, out.String(), "Is it &lt;right&gt;?")
	assert.Contains(t, out.String(), "no &lt;b&gt;")
	assert.Contains(t, out.String(), `href="/projects/p1/review/r1#item-q1"`)
	assert.Contains(t, out.String(), "Answer it")

	out.Reset()
	require.NoError(t, Objections(nil).Render(t.Context(), &out))
	assert.Empty(t, out.String())
}

func TestDay_ofATimeThatCannotBeRead(t *testing.T) {
	assert.Equal(t, "some day", Day("some day"))
	assert.Equal(t, "some day", Moment("some day"))
}
