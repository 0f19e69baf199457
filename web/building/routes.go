// Package building is the screen of all rooms: the building as a table of
// storeys and rooms, with filters, quick adding, bulk edits and the typicals.
package building

import (
	"log/slog"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the building table.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
}

const prefix = "/projects/{project}"

// Routes mounts the screen.
func (s Screen) Routes(r chi.Router) {
	desk := s.desk()
	r.Get(prefix, s.show)
	r.Get(prefix+"/fresh", desk.Fresh)
	r.Get(prefix+"/findings", s.showFindings)
	r.Get(prefix+"/findings/plans", s.showPlanFindings)
	r.Post(prefix+"/set", s.set)
	r.Post(prefix+"/add", s.add)
	r.Post(prefix+"/bulk", s.ask)
	r.Post(prefix+"/bulk/apply", s.apply)
	r.Post(prefix+"/typicals", s.addTypical)
	r.Post(prefix+"/typicals/copy", s.copyTypical)
	r.Post(prefix+"/typicals/rename", s.renameTypical)
	r.Post(prefix+"/typicals/remove", s.removeTypical)
	r.Post(prefix+"/undo", desk.Undo)
	r.Post(prefix+"/redo", desk.Redo)
}

func (s Screen) desk() edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: ui.Project, Load: s.load}
}
