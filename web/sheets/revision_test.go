package sheets

import (
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestIssue_saysFirstWhatIsInIt(t *testing.T) {
	a := newApp(t)
	body := a.Get(documents + "/issue").Body.String()
	assert.Contains(t, body, "Issue revision 1")
	assert.Contains(t, body, "This is the first revision")
	assert.Regexp(t, `[1-9] errors?<`, body, "the load without a controller")
	assert.Contains(t, body, `href="/projects/p1/rooms/r3"`)
	assert.Contains(t, body, "3 rooms are not signed.")
}

func TestIssue_freezesAndCanBeReprintedExactly(t *testing.T) {
	a := newApp(t)
	got := a.issue("for review", "First <look>")
	require.Equal(t, http.StatusSeeOther, got.Code, got.Body.String())
	assert.Equal(t, documents+"/revisions/1", got.Header().Get("Location"))
	page := a.Get(documents + "/revisions/1").Body.String()
	assert.Contains(t, page, "First &lt;look&gt;. Issued with")
	assert.Contains(t, page, `name="revision" value="1"`)
	first := a.Get(documents + "/scope.pdf?room=r1&revision=1").Body.Bytes()
	set := a.Get(documents + "/set.html?revision=1").Body.String()
	assert.Contains(t, set, "Issued with", "on the cover")

	a.Time = a.Time.AddDate(1, 0, 0)
	a.rename("r1", "Art room")
	assert.Equal(t, first, a.Get(documents+"/scope.pdf?room=r1&revision=1").Body.Bytes(), "byte for byte, a year later")
	assert.Equal(t, set, a.Get(documents+"/set.html?revision=1").Body.String())
	assert.Contains(t, a.Get(documents+"/scope.html?room=r1").Body.String(), "Art room")
	assert.Contains(t, a.Get(documents+"/scope.html?room=r1").Body.String(), "working print after revision 1")
}

func TestIssue_saysWhatChanged(t *testing.T) {
	a := newApp(t)
	require.Equal(t, 303, a.issue("for review", "").Code)
	a.rename("r1", "Art <b>room")
	before := a.Get(documents + "/issue").Body.String()
	assert.Contains(t, before, "1 room changed")
	assert.Contains(t, before, "Art &lt;b&gt;room")
	require.Equal(t, 303, a.issue("for construction", "").Code)

	page := a.Get(documents + "/revisions/2").Body.String()
	assert.Contains(t, page, "What changed since revision 1")
	assert.Contains(t, page, "1 room changed")
	assert.Contains(t, a.Get(documents+"/compare?from=2&to=1").Body.String(), "1 room changed", "backwards too")
	same := a.Get(documents + "/compare?from=2&to=0").Body.String()
	assert.Contains(t, same, "Nothing that prints differs.")
	list := a.Get(documents).Body.String()
	assert.Contains(t, list, "Issue revision 3")
	assert.Contains(t, list, "for construction")
}

func TestIssue_bad(t *testing.T) {
	a := newApp(t)
	seen := seenField.FindStringSubmatch(a.Get(documents + "/issue").Body.String())[1]
	for _, c := range []struct{ purpose, author, note, want string }{
		{"", "A", "", "Say what this revision is issued for"},
		{"for review", " ", "", "Enter your name"},
		{"for review", "A", "a\x01", "control character"},
	} {
		got := a.Plain(documents+"/issue", "purpose", c.purpose, "author", c.author, "note", c.note, "seen", seen)
		assert.Equal(t, 422, got.Code, c.want)
		assert.Contains(t, got.Body.String(), c.want)
	}
	lines, err := a.Store.Revisions(t.Context(), "p1")
	require.NoError(t, err)
	assert.Empty(t, lines)
}

func TestIssue_refusesWhatThePersonDidNotSee(t *testing.T) {
	a := newApp(t)
	seen := seenField.FindStringSubmatch(a.Get(documents + "/issue").Body.String())[1]
	a.rename("r1", "Changed meanwhile")
	got := a.Plain(documents+"/issue", "purpose", "for review", "author", "A. Designer", "note", "mine", "seen", seen)
	assert.Equal(t, http.StatusConflict, got.Code)
	assert.Contains(t, got.Body.String(), "The project changed while this page was open")
	assert.Contains(t, got.Body.String(), ">mine</textarea>")
	lines, err := a.Store.Revisions(t.Context(), "p1")
	require.NoError(t, err)
	assert.Empty(t, lines)
	fresh := seenField.FindStringSubmatch(got.Body.String())[1]
	assert.Equal(t, 303, a.Plain(documents+"/issue", "purpose", "for review", "author", "A. Designer", "seen", fresh).Code)
}

func TestRevision_isJudgedAsOfItsDay(t *testing.T) {
	a := newApp(t)
	require.Equal(t, 303, a.issue("for review", "").Code)
	before := a.Get(documents + "/findings.html?revision=1").Body.String()
	a.Time = a.Time.Add(20 * 365 * 24 * time.Hour)
	assert.Equal(t, before, a.Get(documents+"/findings.html?revision=1").Body.String())
}
