package web

import (
	"mime"
	"net/http"

	"github.com/go-chi/chi/v5"

	"scopewright/export"
	"scopewright/static"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/web/book"
	"scopewright/web/building"
	"scopewright/web/circuits"
	"scopewright/web/code"
	"scopewright/web/edits"
	"scopewright/web/energy"
	"scopewright/web/intake"
	"scopewright/web/live"
	"scopewright/web/luminaires"
	"scopewright/web/plan"
	"scopewright/web/project"
	"scopewright/web/rehearse"
	"scopewright/web/review"
	"scopewright/web/room"
	"scopewright/web/rules"
	"scopewright/web/sheets"
	"scopewright/web/ui"
)

const (
	maxForm   = 1 << 20   // bytes of a form
	maxUpload = 101 << 20 // of a form with files; screens that take them set a closer bound
)

// routes mounts the screens.
func routes(o Options, done <-chan struct{}) http.Handler {
	r := chi.NewRouter()
	r.NotFound(func(w http.ResponseWriter, r *http.Request) { edits.Refuse(w, r, o.Log, store.ErrNotFound) })
	r.Handle("/static/*", http.HandlerFunc(serveStatic))
	r.Get("/projects/{project}/live", live.Stream(o.Store, done))
	r.Post("/preferences", ui.SetPreferences)
	project.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	building.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	room.Screen{Store: o.Store, Log: o.Log, Now: o.Now, Judge: o.Judge.Room}.Routes(r)
	plan.Screen{Store: o.Store, Log: o.Log, Now: o.Now, Judge: o.Judge.Room}.Routes(r)
	rehearse.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	luminaires.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	circuits.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	energy.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	code.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	book.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	sheets.Screen{Store: o.Store, Log: o.Log, Now: o.Now}.Routes(r)
	review.Screen{Store: o.Store, Log: o.Log, Now: o.Now, Hash: export.RoomHash(o.Now), Judge: o.Judge.Room}.Routes(r)
	intake.New(o.Store, o.Log, o.Now).Routes(r)
	rules.Screen{Rules: validate.Rules(), Log: o.Log}.Routes(r)
	return r
}

// bound keeps what a request may send within reason.
func bound(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		limit := int64(maxForm)
		if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err == nil && kind == "multipart/form-data" {
			limit = maxUpload
		}
		r.Body = http.MaxBytesReader(w, r.Body, limit)
		next.ServeHTTP(w, r)
	})
}

// serveStatic serves the shelf. A file asked for by its version never changes;
// any other is asked for again by its hash.
func serveStatic(w http.ResponseWriter, r *http.Request) {
	name := chi.URLParam(r, "*")
	hash := static.Hash(name)
	if hash == "" {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("ETag", `"`+hash+`"`)
	if static.Current(name, r.URL.Query().Get("v")) {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		w.Header().Set("Cache-Control", "no-cache")
	}
	http.ServeFileFS(w, r, static.FS, name)
}
