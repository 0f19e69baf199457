// Package energy is the screen of what a project's lighting uses in a year: its
// building, storeys and rooms, and the numbers that this stands on.
package energy

import (
	"log/slog"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the energy use of a project.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
}

const prefix = "/projects/{project}/energy"

// Routes mounts the screen.
func (s Screen) Routes(r chi.Router) {
	desk := s.desk()
	r.Get(prefix, desk.Show)
	r.Get(prefix+"/fresh", desk.Fresh)
	r.Post(prefix+"/set", s.set)
	r.Post(prefix+"/built-in", s.builtIn)
	r.Post(prefix+"/undo", desk.Undo)
	r.Post(prefix+"/redo", desk.Redo)
	r.Get(prefix+"/rooms/{room}", s.room)
}

func (s Screen) desk() edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: ui.Energy, Load: s.load}
}
