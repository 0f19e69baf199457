package web

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/export"
	"scopewright/store"
	"scopewright/web/webtest"
)

// app is the whole app on a real database with one project of a few rooms.
type app struct {
	t       testing.TB
	url     string
	handler http.Handler
	store   *store.Store
	scope   *domain.Scope
}

// pages are the addresses of all screens of smallScope.
var pages = []string{room101, "/projects/p1/rooms/room102", "/projects/p1/rooms/room103", "/projects/p1/typicals/t1", "/projects/p1/typicals/t1?edit=1", rehearse101, "/projects/p1/typicals/t1/rehearse"}

// today is the day on which tests judge, so that battery dates stand still.
var today = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

func fixedNow() time.Time { return today }

// smallScope has a classroom 101, an empty room 102, a typical CR-1 with the
// classroom's design, and room 103 that follows it.
func smallScope() *domain.Scope {
	b := domaintest.Classroom()
	typical := domain.Typical{ID: "t1", Seq: 1, Name: "CR-1", Title: "Classroom", Use: "classroom", Design: b.R.Design.Clone()}
	scope := &domain.Scope{Project: *b.P, Typicals: []domain.Typical{typical}, Rooms: []domain.Room{*b.R.Room}}
	scope.Rooms[0].ID = "room101"
	scope.Project.Worksheets = []domain.CodeWorksheet{{ID: "ws", Seq: 1, Title: "Harbor amendments", Base: "iecc-2021"}}
	scope.Rooms = append(scope.Rooms,
		domain.Room{ID: "room102", StoreyID: "s1", Number: "102", Name: "Meeting", Use: "conference", Area: 30, Ceiling: 2.7},
		domain.Room{ID: "room103", StoreyID: "s1", Number: "103", Name: "Classroom B", Use: "classroom", Area: 40, Ceiling: 2.7, Windows: true, TypicalID: "t1"})
	return scope
}

func newApp(t testing.TB, scope *domain.Scope) *app {
	t.Helper()
	a := newEmptyApp(t)
	require.NoError(t, a.store.ImportScope(t.Context(), "test", scope, false, nil))
	a.scope = scope
	return a
}

func newEmptyApp(t testing.TB) *app {
	t.Helper()
	judge := NewJudge(fixedNow)
	s := webtest.OpenStore(t, store.Options{Summarize: judge.Summarize, Hash: export.RoomHash(fixedNow)})
	done := make(chan struct{})
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = Handler(Options{Store: s, Log: slog.New(slog.DiscardHandler), Now: fixedNow, Judge: judge}, server.Listener.Addr().String(), done)
	server.Start()
	t.Cleanup(func() { close(done); server.Close() })
	return &app{t: t, url: server.URL, handler: server.Config.Handler, store: s}
}

// reply is what the app said.
type reply struct {
	status int
	header http.Header
	body   string
}

func (a *app) do(r *http.Request) reply {
	a.t.Helper()
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.Do(r)
	require.NoError(a.t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(a.t, err)
	return reply{res.StatusCode, res.Header, string(body)}
}

func (a *app) get(path string) reply {
	a.t.Helper()
	r, err := http.NewRequest(http.MethodGet, a.url+path, nil)
	require.NoError(a.t, err)
	return a.do(r)
}

// post sends a form as an open page does, with pairs of names and values; base
// is the version that the edit is based on.
func (a *app) post(path, base string, pairs ...string) reply {
	a.t.Helper()
	r, err := http.NewRequest(http.MethodPost, a.url+path, strings.NewReader(webtest.Form(pairs...).Encode()))
	require.NoError(a.t, err)
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("HX-Request", "true")
	r.Header.Set("Origin", a.url)
	r.Header.Set("X-Base-Version", base)
	return a.do(r)
}
