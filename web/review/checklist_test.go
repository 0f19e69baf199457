package review

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

func (a *app) questions() (out []string) {
	a.T.Helper()
	for _, c := range a.Project("p1").Checklist {
		out = append(out, c.Subject+"/"+c.Text+"/"+string(c.For))
	}
	return out
}

func TestChecklist_editsAreStoredAndUndone(t *testing.T) {
	a := newApp(t)
	before := a.questions()
	got := a.Post(list+"/set", "edits", `[["checklist/q1/text","Is the area <right>?"],["checklist/q2/for","project"]]`)
	require.Equal(t, http.StatusOK, got.Code, got.Body.String())
	assert.Contains(t, got.Body.String(), "Saved 09:00:00")
	assert.Contains(t, got.Body.String(), "Is the area &lt;right&gt;?")
	assert.Equal(t, []string{"Room/Is the area <right>?/room", "Control/Does each load have a way off?/project", "Paper/Is the cover complete?/project"}, a.questions())
	require.Equal(t, 200, a.Post(list+"/undo").Code)
	assert.Equal(t, before, a.questions())
	require.Equal(t, 200, a.Post(list+"/redo").Code)
	assert.NotEqual(t, before, a.questions())
	assert.Equal(t, 422, a.Post(list+"/redo").Code, "nothing left to redo")
}

func TestChecklist_refusedCellIsNamed(t *testing.T) {
	a := newApp(t)
	for edits, want := range map[string]string{
		`[["checklist/q1/subject",""]]`:      "must not be empty",
		`[["checklist/q1/text",""]]`:         "needs its text",
		`[["checklist/q1/for","moon"]]`:      "asked of is not",
		`[["checklist/gone/text","x"]]`:      "no longer there",
		`[["checklist/q1/colour","x"]]`:      "no field",
		`[["checklist/q1/text","a\u0001b"]]`: "control character",
	} {
		got := a.Post(list+"/set", "edits", edits)
		assert.Equal(t, 422, got.Code, edits)
		assert.Contains(t, got.Header().Get("HX-Trigger"), want, edits)
	}
	assert.Equal(t, 422, a.Post(list+"/set", "edits", `{`).Code)
	assert.Len(t, a.questions(), 3)
}

func TestChecklist_staleIsRefused(t *testing.T) {
	a := newApp(t)
	got := a.Ask(http.MethodPost, list+"/set", webtest.Form("edits", `[["checklist/q1/text","Mine"]]`), "X-Base-Version", "project:p1=99")
	assert.Equal(t, http.StatusConflict, got.Code)
	assert.Contains(t, got.Body.String(), "Mine")
	assert.Contains(t, got.Body.String(), "Is the area right?")
	assert.Contains(t, a.questions()[0], "Is the area right?")
}

func TestChecklist_addMoveRemoveStartAnew(t *testing.T) {
	a := newApp(t)
	require.Equal(t, 200, a.Post(list+"/add", "subject", "Room", "text", "Is it <high> enough?", "for", "room").Code)
	assert.Equal(t, "Room/Is it <high> enough?/room", a.questions()[1], "after the last of its subject")
	assert.Equal(t, 422, a.Post(list+"/add", "subject", "Room", "text", "", "for", "room").Code)
	assert.Equal(t, 422, a.Post(list+"/add", "subject", "", "text", "x", "for", "room").Code)
	assert.Equal(t, 422, a.Post(list+"/add", "subject", "Room", "text", "x", "for", "moon").Code)

	require.Equal(t, 200, a.Post(list+"/up", "row", "checklist/q3").Code)
	assert.True(t, strings.HasPrefix(a.questions()[2], "Paper/"))
	require.Equal(t, 200, a.Post(list+"/down", "row", "checklist/q3").Code)
	assert.True(t, strings.HasPrefix(a.questions()[3], "Paper/"))
	require.Equal(t, 200, a.Post(list+"/down", "row", "checklist/q3").Code, "at the end already")
	require.Equal(t, 200, a.Post(list+"/remove", "row", "checklist/q1").Code)
	assert.Len(t, a.questions(), 3)
	for _, path := range []string{"/remove", "/up", "/down"} {
		assert.Equal(t, 422, a.Post(list+path, "row", "checklist/q1").Code, path)
	}
	require.Equal(t, 200, a.Post(list+"/start").Code)
	assert.Len(t, a.questions(), len(domain.StartChecklist()))
	require.Equal(t, 200, a.Post(list+"/undo").Code)
	assert.Len(t, a.questions(), 3)
}

func TestChecklist_removedQuestionKeepsItsVerdicts(t *testing.T) {
	a := newApp(t)
	a.Post(room+"/verdict", "item", "q1", "seen", "", "verdict", "object", "comment", "wrong")
	a.Post(list+"/remove", "row", "checklist/q1")
	assert.NotContains(t, a.Get(room).Body.String(), "Is the area right?")
	a.Post(list + "/undo")
	assert.Contains(t, a.Get(room).Body.String(), "objected by R. Reviewer")
}
