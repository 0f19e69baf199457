package code

import (
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

const path = "/projects/p1/code"

// screen is the screen on a real database.
type screen struct{ *webtest.App }

func open(t testing.TB, scopes ...*domain.Scope) *screen {
	t.Helper()
	return &screen{webtest.Open(t, func(a *webtest.App, r chi.Router) { Screen{Store: a.Store, Log: a.Log, Now: a.Now}.Routes(r) }, scopes...)}
}

// school is the school by a code.
func school(code domain.CodePack) *domain.Scope {
	s := webtest.School()
	s.Project.CodePack = code
	return s
}

func (s *screen) room(id domain.ID) *domain.Room {
	s.T.Helper()
	state, err := s.Store.Room(s.T.Context(), id)
	require.NoError(s.T, err)
	return state.Resolved.Room
}

// sheet adds a worksheet and gives its ID.
func (s *screen) sheet(title, from string) domain.ID {
	s.T.Helper()
	answer := s.Post(path+"/worksheets/add", "title", title, "from", from)
	require.Equal(s.T, 200, answer.Code, answer.Body)
	p := s.Project("p1")
	return p.Worksheets[len(p.Worksheets)-1].ID
}
