package sheets

import (
	"net/http/httptest"
	"regexp"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/web/webtest"
)

// app is the screen on a real database with a project of a drawn classroom 101, a
// room 102 with a name that is no HTML, and a room 2-1 with the classroom's
// design and an error in it.
type app struct{ *webtest.App }

const documents = "/projects/p1/documents"

func newApp(t *testing.T) *app {
	t.Helper()
	b := domaintest.Classroom()
	b.P.Buildings[0].Storeys = append(b.P.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "Upper"})
	b.P.Number = "P-7/ä"
	b.R.Outline = geom.Rectangle(0, 0, 8, 7)
	faulty := b.R.Room.Clone()
	faulty.ID, faulty.Number, faulty.StoreyID = "r3", "2-1", "s2"
	faulty.Design.Loads[0].Controller, faulty.Design.Loads[0].Output = "", 0
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room,
		{ID: "r2", StoreyID: "s1", Number: "102", Name: `<script>alert(1)</script>`, Use: "office-private", Area: 10}, *faulty}}
	return &app{webtest.Open(t, func(a *webtest.App, r chi.Router) { Screen{Store: a.Store, Log: a.Log, Now: a.Now}.Routes(r) }, scope)}
}

var seenField = regexp.MustCompile(`name="seen" value="([0-9a-f]+)"`)

// issue issues the project as it is.
func (a *app) issue(purpose, note string) *httptest.ResponseRecorder {
	a.T.Helper()
	seen := seenField.FindStringSubmatch(a.Get(documents + "/issue").Body.String())
	require.Len(a.T, seen, 2)
	return a.Plain(documents+"/issue", "purpose", purpose, "author", "A. Designer", "note", note, "seen", seen[1])
}

func (a *app) rename(room domain.ID, name string) {
	a.T.Helper()
	a.EditRoom(room, "renamed", func(r *domain.Resolved) { r.Name = name })
}
