// Package rehearse is the screen on which a room's sequence runs: buttons are
// pressed, sensors report, the clock moves, and the loads answer. Its scenarios
// are kept and judged here too.
package rehearse

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the rehearsal of rooms and of typicals.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
}

// Routes mounts the screen.
func (s Screen) Routes(r chi.Router) {
	at := func(do func(edits.Desk, http.ResponseWriter, *http.Request)) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) { do(s.desk(r), w, r) }
	}
	for _, prefix := range []string{"/projects/{project}/rooms/{room}/rehearse", "/projects/{project}/typicals/{typical}/rehearse"} {
		r.Get(prefix, at(edits.Desk.Show))
		r.Get(prefix+"/fresh", at(edits.Desk.Fresh))
		r.Post(prefix+"/play", s.play)
		r.Post(prefix+"/set", s.set)
		r.Post(prefix+"/save", s.save)
		r.Post(prefix+"/add-step", s.addStep)
		r.Post(prefix+"/remove", s.remove)
		r.Post(prefix+"/duplicate", s.duplicate)
		r.Post(prefix+"/suggest", s.suggest)
		r.Post(prefix+"/take", s.take)
		r.Post(prefix+"/prove", s.prove)
		r.Post(prefix+"/undo", at(edits.Desk.Undo))
		r.Post(prefix+"/redo", at(edits.Desk.Redo))
	}
}

func (s Screen) desk(r *http.Request) edits.Desk {
	return edits.Desk{
		Store: s.Store, Log: s.Log, Now: s.Now, Load: s.load, On: subject,
		Path: func(project domain.ID) string { return path(r, project) },
	}
}

// path is where the screen of the room or typical lies that a request names.
func path(r *http.Request, project domain.ID) string {
	if id := chi.URLParam(r, "room"); id != "" {
		return ui.Rehearsal(ui.Room(project, domain.ID(id)))
	}
	return ui.Rehearsal(ui.Typical(project, domain.ID(chi.URLParam(r, "typical"))))
}

func subject(r *http.Request) string {
	if id := chi.URLParam(r, "room"); id != "" {
		return edits.Subject("room", domain.ID(id))
	}
	return edits.Subject("typical", domain.ID(chi.URLParam(r, "typical")))
}

// apply carries out edits on the room or typical that a request names.
func (s Screen) apply(r *http.Request, list ...edit.Edit) (store.Outcome, error) {
	if id := chi.URLParam(r, "room"); id != "" {
		return edits.Room(r.Context(), s.Store, r, edits.ProjectID(r), domain.ID(id), list)
	}
	return edits.Typical(r.Context(), s.Store, r, edits.ProjectID(r), domain.ID(chi.URLParam(r, "typical")), list)
}
