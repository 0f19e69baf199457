package intake

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/web/webtest"
)

// app is the screen on a real database with a project of a classroom 101 with
// a design, and an empty room 102.
type app struct {
	*webtest.App
	screen Screen
}

const imports = "/projects/p1/import"

func newApp(t *testing.T) *app {
	t.Helper()
	b := domaintest.Classroom()
	b.P.Buildings[0].Storeys = append(b.P.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "Upper"})
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room, {ID: "r2", StoreyID: "s1", Number: "102", Name: "Office", Use: "office-private", Area: 10}}}
	a := &app{}
	a.App = webtest.Open(t, func(on *webtest.App, r chi.Router) {
		a.screen = New(on.Store, on.Log, on.Now)
		a.screen.Routes(r)
	}, scope)
	return a
}

// send uploads a file as the form does.
func (a *app) send(name, content, what, pasted string) *httptest.ResponseRecorder {
	a.T.Helper()
	return a.Upload(imports, name, content, "what", what, "pasted", pasted)
}

// preview sends a file and gives the address of its preview, and the page.
func (a *app) preview(name, content string) (address, body string) {
	a.T.Helper()
	got := a.send(name, content, "", "")
	require.Equal(a.T, http.StatusSeeOther, got.Code, got.Body.String())
	address = got.Header().Get("Location")
	page := a.Get(address)
	require.Equal(a.T, http.StatusOK, page.Code)
	return address, page.Body.String()
}

func (a *app) rooms() map[string]*domain.Room {
	a.T.Helper()
	scope, err := a.Store.Load(a.T.Context(), "p1")
	require.NoError(a.T, err)
	out := map[string]*domain.Room{}
	for i := range scope.Rooms {
		out[scope.Rooms[i].Number] = &scope.Rooms[i]
	}
	return out
}
