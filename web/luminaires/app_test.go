package luminaires

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/store"
	"scopewright/validate"
)

// screen is the screen on a real database.
type screen struct {
	t      testing.TB
	store  *store.Store
	router chi.Router
}

// fixedNow is the moment at which tests happen, so that dates stand still.
func fixedNow() time.Time { return time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC) }

func open(t testing.TB, scopes ...*domain.Scope) *screen {
	t.Helper()
	log := slog.New(slog.NewTextHandler(io.Discard, nil))
	s, err := store.Open(t.Context(), store.Options{Path: filepath.Join(t.TempDir(), "test.db"), Log: log, Now: fixedNow,
		Summarize: func(p *domain.Project, r *domain.Resolved) store.Summary {
			sum := store.CountOnly(p, r)
			sum.Errors, sum.Warnings, sum.Infos, sum.Waived, sum.Rules = validate.Count(validate.Room(p, r, fixedNow()))
			return sum
		}})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	for _, scope := range scopes {
		require.NoError(t, s.ImportScope(t.Context(), "test", scope, false, nil))
	}
	router := chi.NewRouter()
	Screen{Store: s, Log: log, Now: fixedNow}.Routes(router)
	return &screen{t, s, router}
}

// school has a classroom 101, an empty room 102 whose name is HTML, a typical
// CR-1 with the classroom's design, and room 103 that follows it; the second
// storey is empty.
func school() *domain.Scope {
	b := domaintest.Classroom()
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room}}
	scope.Typicals = []domain.Typical{{ID: "t1", Seq: 1, Name: "CR-1", Title: "Classroom", Use: "classroom", Design: b.R.Design.Clone()}}
	scope.Project.Buildings[0].Storeys = append(scope.Project.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "Level 2"})
	scope.Rooms = append(scope.Rooms,
		domain.Room{ID: "r2", StoreyID: "s1", Number: "102", Name: "<b>Meeting</b> & co", Use: "conference", Area: 30, Ceiling: 2.7},
		domain.Room{ID: "r3", StoreyID: "s1", Number: "103", Name: "Classroom B", Use: "classroom", Area: 40, Ceiling: 2.7, Windows: true, TypicalID: "t1"})
	return scope
}

// ask sends a request as an open page does, with headers in pairs.
func (s *screen) ask(method, path string, form url.Values, headers ...string) *httptest.ResponseRecorder {
	s.t.Helper()
	var body io.Reader
	if form != nil {
		body = strings.NewReader(form.Encode())
	}
	r := httptest.NewRequestWithContext(s.t.Context(), method, path, body)
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("HX-Request", "true")
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	s.router.ServeHTTP(w, r)
	return w
}

// get fetches a whole page.
func (s *screen) get(path string) *httptest.ResponseRecorder {
	s.t.Helper()
	w := httptest.NewRecorder()
	s.router.ServeHTTP(w, httptest.NewRequestWithContext(s.t.Context(), http.MethodGet, path, nil))
	return w
}

// post sends a form of an open page, its fields in pairs.
func (s *screen) post(path string, pairs ...string) *httptest.ResponseRecorder {
	s.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	return s.ask(http.MethodPost, path, form)
}
