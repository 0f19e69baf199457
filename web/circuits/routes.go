// Package circuits is the screen of a project's branch circuits: what they are,
// and what the rooms put on each.
package circuits

import (
	"log/slog"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the circuits of a project.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
}

const prefix = "/projects/{project}/circuits"

// Routes mounts the screen.
func (s Screen) Routes(r chi.Router) {
	desk := s.desk()
	r.Get(prefix, desk.Show)
	r.Get(prefix+"/fresh", desk.Fresh)
	r.Post(prefix+"/set", s.set)
	r.Post(prefix+"/add", s.add)
	r.Post(prefix+"/remove", s.remove)
	r.Post(prefix+"/undo", desk.Undo)
	r.Post(prefix+"/redo", desk.Redo)
}

func (s Screen) desk() edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: ui.Circuits, Load: s.load}
}
