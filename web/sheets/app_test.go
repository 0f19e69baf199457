package sheets

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/store"
)

// app is the screen on a real database with a project of a classroom 101, a
// room 102 with a name that is no HTML, and a room 2-1 with the classroom's
// design and an error in it.
type app struct {
	t     *testing.T
	store *store.Store
	h     http.Handler
	now   time.Time
}

const documents = "/projects/p1/documents"

func newApp(t *testing.T) *app {
	t.Helper()
	a := &app{t: t, now: time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)}
	now := func() time.Time { return a.now }
	log := slog.New(slog.NewTextHandler(io.Discard, nil))
	var err error
	a.store, err = store.Open(t.Context(), store.Options{Path: filepath.Join(t.TempDir(), "test.db"), Log: log, Now: now})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, a.store.Close()) })
	b := domaintest.Classroom()
	b.P.Buildings[0].Storeys = append(b.P.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "Upper"})
	b.P.Number = "P-7/ä"
	faulty := b.R.Room.Clone()
	faulty.ID, faulty.Number, faulty.StoreyID = "r3", "2-1", "s2"
	faulty.Design.Loads[0].Controller, faulty.Design.Loads[0].Output = "", 0
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room,
		{ID: "r2", StoreyID: "s1", Number: "102", Name: `<script>alert(1)</script>`, Use: "office-private", Area: 10}, *faulty}}
	require.NoError(t, a.store.ImportScope(t.Context(), "test", scope, false, nil))
	r := chi.NewRouter()
	Screen{Store: a.store, Log: log, Now: now}.Routes(r)
	a.h = r
	return a
}

func (a *app) get(path string) *httptest.ResponseRecorder {
	a.t.Helper()
	w := httptest.NewRecorder()
	a.h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
	return w
}

func (a *app) post(path string, pairs ...string) *httptest.ResponseRecorder {
	a.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	a.h.ServeHTTP(w, r)
	return w
}

var seenField = regexp.MustCompile(`name="seen" value="([0-9a-f]+)"`)

// issue issues the project as it is.
func (a *app) issue(purpose, note string) *httptest.ResponseRecorder {
	a.t.Helper()
	seen := seenField.FindStringSubmatch(a.get(documents + "/issue").Body.String())
	require.Len(a.t, seen, 2)
	return a.post(documents+"/issue", "purpose", purpose, "author", "A. Designer", "note", note, "seen", seen[1])
}

func (a *app) rename(room domain.ID, name string) {
	a.t.Helper()
	_, err := a.store.Edit(a.t.Context(), store.Request{ProjectID: "p1", Who: "A. Designer"}, func(tx *store.Tx) (string, error) {
		r, err := tx.Room(room)
		if err != nil {
			return "", err
		}
		r.Name = name
		return "renamed", tx.PutRoom(r)
	})
	require.NoError(a.t, err)
}
