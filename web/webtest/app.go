// Package webtest puts screens on a real database for their tests, as
// net/http/httptest does for handlers: only test files import it.
package webtest

import (
	"fmt"
	"log/slog"
	"net/http"
	"path/filepath"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/export"
	"scopewright/store"
	"scopewright/validate"
)

// App is one screen, or several, on a database of its own.
type App struct {
	T       testing.TB
	Store   *store.Store
	Handler http.Handler
	Log     *slog.Logger
	Time    time.Time // what its clock shows
	Who     string    // the name that the browser remembers; "" for none
}

// Start is what the clock of an app shows at first, so that dates stand still.
var Start = time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)

// Open opens an app on a database with scopes in it. Routes hangs the screens
// in that are tested.
func Open(t testing.TB, routes func(*App, chi.Router), scopes ...*domain.Scope) *App {
	t.Helper()
	a := &App{T: t, Log: slog.New(slog.DiscardHandler), Time: Start}
	a.Store = OpenStore(t, store.Options{Now: a.Now, Summarize: a.summarize, Hash: export.RoomHash(a.Now)}, scopes...)
	router := chi.NewRouter()
	routes(a, router)
	a.Handler = router
	return a
}

// OpenStore opens a database in a temporary file, with scopes in it, and closes
// it after the test.
func OpenStore(t testing.TB, o store.Options, scopes ...*domain.Scope) *store.Store {
	t.Helper()
	o.Path, o.Log = filepath.Join(t.TempDir(), "test.db"), slog.New(slog.DiscardHandler)
	s, err := store.Open(t.Context(), o)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	for _, scope := range scopes {
		require.NoError(t, s.ImportScope(t.Context(), "test", scope, false, nil))
	}
	return s
}

// Now is the app's clock.
func (a *App) Now() time.Time { return a.Time }

func (a *App) summarize(p *domain.Project, r *domain.Resolved) store.Summary {
	sum := store.CountOnly(p, r)
	sum.Errors, sum.Warnings, sum.Infos, sum.Waived, sum.Rules = validate.Count(validate.Room(p, r, a.Time))
	return sum
}

// Project gives a project as it is now.
func (a *App) Project(id domain.ID) *domain.Project {
	a.T.Helper()
	p, _, err := a.Store.Project(a.T.Context(), id)
	require.NoError(a.T, err)
	return p
}

// Base gives the version that an edit of a project is based on, for the header
// X-Base-Version.
func (a *App) Base(id domain.ID) string {
	a.T.Helper()
	_, revision, err := a.Store.Project(a.T.Context(), id)
	require.NoError(a.T, err)
	return fmt.Sprintf("project:%s=%d", id, revision)
}

// EditRoom changes a room of project p1 as its workbench does: only the room
// can undo it. said is what the history says of it.
func (a *App) EditRoom(room domain.ID, said string, change func(*domain.Resolved)) {
	a.T.Helper()
	_, err := a.Store.Edit(a.T.Context(), store.Request{ProjectID: "p1", Who: "A. Designer"}, func(tx *store.Tx) (string, error) {
		r, err := tx.Room(room)
		if err != nil {
			return "", err
		}
		change(r)
		return said, tx.PutRoom(r)
	})
	require.NoError(a.T, err)
}
