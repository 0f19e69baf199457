package energy

import (
	"testing"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/web/webtest"
)

// screen is the screen on a real database.
type screen struct{ *webtest.App }

const path = "/projects/p1/energy"

func open(t testing.TB, scopes ...*domain.Scope) *screen {
	t.Helper()
	return &screen{webtest.Open(t, func(a *webtest.App, r chi.Router) { Screen{Store: a.Store, Log: a.Log, Now: a.Now}.Routes(r) }, scopes...)}
}
