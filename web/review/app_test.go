package review

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
	"scopewright/export/sheet"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
)

var today = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

// app is the screen on a real database with a project of two rooms: 101, a
// classroom without findings, and 102, which is empty.
type app struct {
	t     *testing.T
	store *store.Store
	h     http.Handler
	who   string
}

func contentHash(p *domain.Project, r *domain.Resolved) string {
	in := sheet.Input{Scope: &domain.Scope{Project: *p}, Findings: func(r *domain.Resolved) []rule.Finding { return validate.Room(p, r, today) }}
	return sheet.RoomContentHash(in, r)
}

func newApp(t *testing.T) *app {
	t.Helper()
	log := slog.New(slog.NewTextHandler(io.Discard, nil))
	now := func() time.Time { return today }
	s, err := store.Open(t.Context(), store.Options{Path: filepath.Join(t.TempDir(), "test.db"), Log: log, Hash: contentHash, Now: now})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	b := domaintest.Classroom()
	b.P.Checklist = []domain.ChecklistItem{
		{ID: "q1", Seq: 1, Subject: "Room", Text: "Is the area right?", For: domain.AskRoom},
		{ID: "q2", Seq: 2, Subject: "Control", Text: "Does each load have a way off?", For: domain.AskRoom},
		{ID: "q3", Seq: 3, Subject: "Paper", Text: "Is the cover complete?", For: domain.AskProject},
	}
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room, {ID: "r2", StoreyID: "s1", Number: "102", Name: "<script>alert(1)</script>", Use: "office-private", Area: 10}}}
	require.NoError(t, s.ImportScope(t.Context(), "test", scope, false, nil))
	r := chi.NewRouter()
	Screen{Store: s, Log: log, Now: now, Hash: contentHash, Judge: func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, now()) }}.Routes(r)
	return &app{t: t, store: s, h: r, who: "R. Reviewer"}
}

const (
	project = "/projects/p1/review"
	room    = "/projects/p1/review/r1"
	list    = "/projects/p1/checklist"
)

func (a *app) get(path string) *httptest.ResponseRecorder {
	a.t.Helper()
	return a.do(httptest.NewRequest(http.MethodGet, path, nil))
}

// post sends a form as an open page does, with pairs of names and values.
func (a *app) post(path string, pairs ...string) *httptest.ResponseRecorder {
	a.t.Helper()
	return a.do(a.request(path, pairs...))
}

func (a *app) request(path string, pairs ...string) *http.Request {
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("HX-Request", "true")
	return r
}

func (a *app) do(r *http.Request) *httptest.ResponseRecorder {
	a.t.Helper()
	if a.who != "" {
		r.AddCookie(&http.Cookie{Name: "sw_name", Value: url.QueryEscape(a.who)})
	}
	w := httptest.NewRecorder()
	a.h.ServeHTTP(w, r)
	return w
}

// steps are what was said about the classroom.
func (a *app) steps() []domain.Review {
	a.t.Helper()
	steps, err := a.store.Reviews(a.t.Context(), "p1", "r1")
	require.NoError(a.t, err)
	return steps
}

// edit changes the classroom's name, which its sheet prints.
func (a *app) edit(name string) {
	a.t.Helper()
	_, err := a.store.Edit(a.t.Context(), store.Request{ProjectID: "p1", Who: "A. Designer"}, func(tx *store.Tx) (string, error) {
		r, err := tx.Room("r1")
		if err != nil {
			return "", err
		}
		r.Name = name
		return "name of 101 is now " + name, tx.PutRoom(r)
	})
	require.NoError(a.t, err)
}

// plain sends a form as a browser without script does.
func (a *app) plain(path string, pairs ...string) *httptest.ResponseRecorder {
	a.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return a.do(r)
}
