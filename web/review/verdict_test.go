package review

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/ui"
)

func TestShow_pages(t *testing.T) {
	a := newApp(t)
	for path, want := range map[string]string{
		project:                       "Is the cover complete?",
		project + "?state=unsigned":   "101",
		project + "?q=nothing-such":   "No room passes this filter.",
		project + "?state=objections": "No room passes this filter.",
		room:                          "Does each load have a way off?",
		room + "/state?hash=x":        "has just changed",
		list:                          "Is the area right?",
		list + "/fresh":               "Is the area right?",
	} {
		got := a.Get(path)
		assert.Equal(t, http.StatusOK, got.Code, path)
		assert.Contains(t, got.Body.String(), want, path)
	}
	for _, path := range []string{"/projects/nope/review", "/projects/p1/review/nope", "/projects/nope/review/r1", "/projects/nope/checklist"} {
		assert.Equal(t, http.StatusNotFound, a.Get(path).Code, path)
	}
}

func TestShow_namesAreText(t *testing.T) {
	a := newApp(t)
	for _, path := range []string{project, "/projects/p1/review/r2"} {
		body := a.Get(path).Body.String()
		assert.NotContains(t, body, "<script>alert(1)", path)
		assert.Contains(t, body, "&lt;script&gt;alert(1)", path)
	}
}

func TestVerdict_isStoredWithNameAndShown(t *testing.T) {
	a := newApp(t)
	got := a.Post(room+"/verdict", "item", "q1", "seen", "", "verdict", "agree", "comment", "as measured")
	require.Equal(t, http.StatusOK, got.Code, got.Body.String())
	assert.Contains(t, got.Body.String(), "agreed by R. Reviewer, 2026-03-02")
	assert.Contains(t, got.Body.String(), "1 of 2 looked at, 1 agreed")
	steps := a.steps()
	require.Len(t, steps, 1)
	assert.Equal(t, domain.Review{ID: steps[0].ID, RoomID: "r1", ItemID: "q1", At: "2026-03-02T09:00:00Z", Name: "R. Reviewer", Verdict: domain.Agree, Comment: "as measured"}, steps[0])

	again := a.Post(room+"/verdict", "item", "q1", "seen", string(steps[0].ID), "verdict", "agree", "comment", "as measured")
	assert.Equal(t, http.StatusOK, again.Code)
	assert.Len(t, a.steps(), 1, "the same once more says nothing new")
}

func TestVerdict_bad(t *testing.T) {
	a := newApp(t)
	cases := []struct {
		name, item, verdict, comment, want string
		code                               int
	}{
		{"objection without a comment", "q1", "object", " ", "An objection needs a comment", 422},
		{"no verdict", "q1", "", "text", "Choose agree, object or not applicable", 422},
		{"unknown verdict", "q1", "perhaps", "", "Choose agree, object or not applicable", 422},
		{"unknown item", "q9", "agree", "", "no longer on the checklist", 422},
		{"item of the project", "q3", "agree", "", "no longer on the checklist", 422},
		{"control character", "q1", "agree", "a\x01b", "control character", 422},
	}
	for _, c := range cases {
		got := a.Post(room+"/verdict", "item", c.item, "seen", "", "verdict", c.verdict, "comment", c.comment)
		assert.Equal(t, c.code, got.Code, c.name)
		assert.Contains(t, got.Body.String(), c.want, c.name)
	}
	a.Who = ""
	got := a.Post(room+"/verdict", "item", "q1", "seen", "", "verdict", "agree")
	assert.Equal(t, 422, got.Code)
	assert.Contains(t, got.Body.String(), "Enter your name first")
	assert.Empty(t, a.steps())
	assert.Equal(t, 404, a.Post("/projects/p1/review/nope/verdict", "item", "q1", "verdict", "agree").Code)
}

func TestVerdict_staleIsRefusedAndShowsTheNewer(t *testing.T) {
	a := newApp(t)
	a.Post(room+"/verdict", "item", "q1", "seen", "", "verdict", "object", "comment", "area is 42 m2")
	a.Who = "S. Second"
	got := a.Post(room+"/verdict", "item", "q1", "seen", "", "verdict", "agree", "comment", "mine")
	assert.Equal(t, http.StatusConflict, got.Code)
	body := got.Body.String()
	assert.Contains(t, body, "Someone else spoke about this question meanwhile")
	assert.Contains(t, body, "objected by R. Reviewer")
	assert.Contains(t, body, ">mine</textarea>", "what was typed is kept")
	assert.Regexp(t, `id="item-q1-object"[^>]* checked`, body)
	assert.NotRegexp(t, `id="item-q1-agree"[^>]* checked`, body)
	assert.Len(t, a.steps(), 1)
}

func TestObjection_isAnsweredAndShownToTheDesigner(t *testing.T) {
	a := newApp(t)
	a.Post(room+"/verdict", "item", "q1", "seen", "", "verdict", "object", "comment", "area is 42 m2 <i>")
	p, _, err := a.Store.Project(t.Context(), "p1")
	require.NoError(t, err)
	open := ui.OpenObjections(p, "r1", a.steps())
	require.Len(t, open, 1)
	assert.Equal(t, ui.Objection{Text: "Is the area right?", By: "R. Reviewer, 2026-03-02", Comment: "area is 42 m2 <i>", Path: room + "#item-q1"}, open[0])
	assert.Contains(t, a.Get(project+"?state=objections").Body.String(), "1 objection")

	a.Who = "A. Designer"
	seen := string(a.steps()[0].ID)
	assert.Equal(t, 422, a.Post(room+"/answer", "item", "q1", "seen", seen, "answer", "").Code)
	assert.Equal(t, 422, a.Post(room+"/answer", "item", "q2", "seen", "", "answer", "no verdict yet").Code)
	got := a.Post(room+"/answer", "item", "q1", "seen", seen, "answer", "corrected")
	require.Equal(t, http.StatusOK, got.Code)
	assert.Contains(t, got.Body.String(), "corrected")
	assert.Contains(t, got.Body.String(), "area is 42 m2 &lt;i&gt;")
	open = ui.OpenObjections(p, "r1", a.steps())
	require.Len(t, open, 1, "an answer does not settle it")
	assert.Equal(t, "corrected", open[0].Answer)
	assert.Equal(t, http.StatusConflict, a.Post(room+"/answer", "item", "q1", "seen", seen, "answer", "late").Code)

	a.Who = "R. Reviewer"
	a.Post(room+"/verdict", "item", "q1", "seen", string(a.steps()[1].ID), "verdict", "agree", "comment", "settled")
	assert.Empty(t, ui.OpenObjections(p, "r1", a.steps()))
	assert.Contains(t, a.Get(room).Body.String(), "History, 3 steps")
}

func TestVerdict_ofTheProject(t *testing.T) {
	a := newApp(t)
	got := a.Post(project+"/verdict", "item", "q3", "seen", "", "verdict", "not applicable")
	require.Equal(t, http.StatusOK, got.Code)
	assert.Contains(t, got.Body.String(), "called not applicable by R. Reviewer")
	assert.NotContains(t, got.Body.String(), `hx-target="#panel"`, "the project has no sign-off")
}

func TestVerdict_withoutScript(t *testing.T) {
	a := newApp(t)
	got := a.Plain(room+"/verdict", "item", "q1", "seen", "", "verdict", "agree")
	assert.Equal(t, http.StatusSeeOther, got.Code)
	assert.Equal(t, room+"#item-q1", got.Header().Get("Location"))
	assert.Equal(t, http.StatusConflict, a.Plain(room+"/verdict", "item", "q1", "seen", "", "verdict", "object", "comment", "x").Code)
	assert.Equal(t, 422, a.Plain(room+"/verdict", "item", "q2", "seen", "", "verdict", "object").Code)
}
