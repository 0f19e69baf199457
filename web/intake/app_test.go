package intake

import (
	"bytes"
	"io"
	"log/slog"
	"mime/multipart"
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
)

// app is the screen on a real database with a project of a classroom 101 with
// a design, and an empty room 102.
type app struct {
	t      *testing.T
	store  *store.Store
	screen Screen
	h      http.Handler
	now    time.Time
}

const imports = "/projects/p1/import"

func newApp(t *testing.T) *app {
	t.Helper()
	a := &app{t: t, now: time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)}
	log := slog.New(slog.NewTextHandler(io.Discard, nil))
	var err error
	a.store, err = store.Open(t.Context(), store.Options{Path: filepath.Join(t.TempDir(), "test.db"), Log: log})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, a.store.Close()) })
	b := domaintest.Classroom()
	b.P.Buildings[0].Storeys = append(b.P.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "Upper"})
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room, {ID: "r2", StoreyID: "s1", Number: "102", Name: "Office", Use: "office-private", Area: 10}}}
	require.NoError(t, a.store.ImportScope(t.Context(), "test", scope, false, nil))
	a.screen = New(a.store, log, func() time.Time { return a.now })
	r := chi.NewRouter()
	a.screen.Routes(r)
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

// send uploads a file as the form does.
func (a *app) send(name, content, what, pasted string) *httptest.ResponseRecorder {
	a.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	if name != "" {
		part, err := form.CreateFormFile("file", name)
		require.NoError(a.t, err)
		_, err = part.Write([]byte(content))
		require.NoError(a.t, err)
	}
	require.NoError(a.t, form.WriteField("what", what))
	require.NoError(a.t, form.WriteField("pasted", pasted))
	require.NoError(a.t, form.Close())
	r := httptest.NewRequest(http.MethodPost, imports, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	w := httptest.NewRecorder()
	a.h.ServeHTTP(w, r)
	return w
}

// preview sends a file and gives the address of its preview, and the page.
func (a *app) preview(name, content string) (address, body string) {
	a.t.Helper()
	got := a.send(name, content, "", "")
	require.Equal(a.t, http.StatusSeeOther, got.Code, got.Body.String())
	address = got.Header().Get("Location")
	page := a.get(address)
	require.Equal(a.t, http.StatusOK, page.Code)
	return address, page.Body.String()
}

func (a *app) rooms() map[string]*domain.Room {
	a.t.Helper()
	scope, err := a.store.Load(a.t.Context(), "p1")
	require.NoError(a.t, err)
	out := map[string]*domain.Room{}
	for i := range scope.Rooms {
		out[scope.Rooms[i].Number] = &scope.Rooms[i]
	}
	return out
}
