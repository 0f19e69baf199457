package review

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/export"
)

func (a *app) hash() string {
	a.T.Helper()
	state, err := a.Store.Room(a.T.Context(), "r1")
	require.NoError(a.T, err)
	return export.RoomHash(a.Now)(state.Project, state.Resolved)
}

func (a *app) agreeToAll() {
	a.T.Helper()
	for _, item := range []string{"q1", "q2"} {
		require.Equal(a.T, 200, a.Post(room+"/verdict", "item", item, "seen", "", "verdict", "agree").Code)
	}
}

func (a *app) signOffs() []domain.SignOff {
	a.T.Helper()
	list, err := a.Store.SignOffs(a.T.Context(), "p1", "r1")
	require.NoError(a.T, err)
	return list
}

func TestSign_bindsToWhatTheRoomPrints(t *testing.T) {
	a := newApp(t)
	a.agreeToAll()
	got := a.Post(room+"/sign", "name", "R. Reviewer", "role", "Reviewer", "comment", "", "hash", a.hash())
	require.Equal(t, http.StatusOK, got.Code, got.Body.String())
	assert.Contains(t, got.Body.String(), "valid")
	list := a.signOffs()
	require.Len(t, list, 1)
	assert.Equal(t, a.hash(), list[0].Hash)
	assert.Contains(t, a.Get(project+"?state=signed").Body.String(), "signed 2026-03-02")
}

func TestSign_goesStaleAndSaysWhatChanged(t *testing.T) {
	a := newApp(t)
	a.agreeToAll()
	a.Post(room+"/sign", "name", "R. Reviewer", "role", "Reviewer", "hash", a.hash())
	// An edit after the sign-off: the clock of the test stands still, so the
	// sign-off is moved back by a day.
	old := a.signOffs()[0]
	old.ID, old.At = "older", "2026-03-01T09:00:00Z"
	_, err := a.Store.SignOff(t.Context(), "p1", old)
	require.NoError(t, err)
	a.edit("Classroom with a sink")
	body := a.Get(room).Body.String()
	assert.Equal(t, 1, strings.Count(body, "stale: the room changed since"))
	assert.Contains(t, body, "replaced by a newer one", "the sign-off before, in the same role")
	assert.Contains(t, body, "name of 101 is now Classroom with a sink")
	assert.Contains(t, body, "A. Designer")
	assert.Contains(t, a.Get(project+"?state=stale").Body.String(), "stale since 2026-03-01")
}

func TestSign_refusesWhatThePersonDidNotSee(t *testing.T) {
	a := newApp(t)
	a.agreeToAll()
	seen := a.hash()
	a.edit("Another name")
	got := a.Post(room+"/sign", "name", "R. Reviewer", "role", "Reviewer", "hash", seen)
	assert.Equal(t, http.StatusConflict, got.Code)
	assert.Contains(t, got.Body.String(), "The room changed while this page was open")
	assert.Contains(t, got.Body.String(), a.hash(), "the next attempt is about what is shown now")
	assert.Empty(t, a.signOffs())
}

func TestSign_inSpiteOfOpenPointsNeedsAComment(t *testing.T) {
	a := newApp(t)
	a.Post(room+"/verdict", "item", "q1", "seen", "", "verdict", "object", "comment", "wrong")
	got := a.Post(room+"/sign", "name", "R. Reviewer", "role", "Reviewer", "comment", "", "hash", a.hash())
	assert.Equal(t, 422, got.Code)
	assert.Contains(t, got.Body.String(), "1 objection without an answer, 1 question not looked at")
	assert.Empty(t, a.signOffs())
	got = a.Post(room+"/sign", "name", "R. Reviewer", "role", "Reviewer", "comment", "to be settled on site", "hash", a.hash())
	assert.Equal(t, 200, got.Code)
	assert.Len(t, a.signOffs(), 1)
}

func TestSign_bad(t *testing.T) {
	a := newApp(t)
	a.agreeToAll()
	assert.Contains(t, a.Post(room+"/sign", "name", "", "role", "Reviewer", "hash", a.hash()).Body.String(), "Enter your name")
	assert.Contains(t, a.Post(room+"/sign", "name", "R", "role", "", "hash", a.hash()).Body.String(), "Say as what you sign")
	assert.Equal(t, 404, a.Post("/projects/p1/review/nope/sign", "name", "R", "role", "Reviewer").Code)
	assert.Equal(t, 422, a.Plain(room+"/sign", "name", "", "role", "x").Code)
	assert.Empty(t, a.signOffs())
	assert.Equal(t, http.StatusSeeOther, a.Plain(room+"/sign", "name", "R", "role", "Checker", "hash", a.hash()).Code)
}

func TestWithdraw(t *testing.T) {
	a := newApp(t)
	a.agreeToAll()
	a.Post(room+"/sign", "name", "R. <b>", "role", "Reviewer", "hash", a.hash())
	id := string(a.signOffs()[0].ID)
	got := a.Post(room+"/withdraw", "row", id)
	require.Equal(t, http.StatusOK, got.Code)
	assert.Contains(t, got.Body.String(), "withdrawn 2026-03-02")
	assert.Contains(t, got.Body.String(), "R. &lt;b&gt;")
	assert.NotEmpty(t, a.signOffs()[0].Withdrawn)
	assert.Equal(t, 422, a.Post(room+"/withdraw", "row", id).Code, "only once")
	assert.Equal(t, 422, a.Post(room+"/withdraw", "row", "other").Code)
	assert.Contains(t, a.Get(project).Body.String(), "not signed")
}
