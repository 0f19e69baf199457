// Package project is the screens about projects as such: the list of them, a
// project's own facts with its buildings and storeys, and its history.
package project

import (
	"log/slog"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the pages.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
}

const prefix = "/projects/{project}"

// Routes mounts the pages.
func (s Screen) Routes(r chi.Router) {
	r.Get("/", s.list)
	r.Post("/projects", s.create)
	r.Post("/projects/import", s.take)
	r.Get(prefix+"/file", s.give)
	r.Get(prefix+"/remove", s.askRemove)
	r.Post(prefix+"/remove", s.remove)

	facts := s.settings()
	r.Get(prefix+"/settings", facts.Show)
	r.Get(prefix+"/settings/fresh", facts.Fresh)
	r.Post(prefix+"/settings/set", s.set)
	r.Post(prefix+"/settings/priority/up", s.classUp)
	r.Post(prefix+"/settings/priority/down", s.classDown)
	r.Post(prefix+"/settings/building", s.addBuilding)
	r.Post(prefix+"/settings/building/remove", s.removeBuilding)
	r.Post(prefix+"/settings/storey", s.addStorey)
	r.Post(prefix+"/settings/storey/up", s.moveUp)
	r.Post(prefix+"/settings/storey/down", s.moveDown)
	r.Post(prefix+"/settings/storey/remove", s.removeStorey)
	r.Post(prefix+"/settings/undo", facts.Undo)
	r.Post(prefix+"/settings/redo", facts.Redo)

	history := s.history()
	r.Get(prefix+"/history", history.Show)
	r.Get(prefix+"/history/fresh", history.Fresh)
	r.Post(prefix+"/history/step", s.step)
	r.Post(prefix+"/history/undo", history.Undo)
	r.Post(prefix+"/history/redo", history.Redo)
}

func (s Screen) settings() edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: ui.Settings, Load: s.loadSettings}
}

func (s Screen) history() edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: ui.History, Load: s.loadHistory}
}

// filePath is where a project is saved as an exchange file.
func filePath(p domain.ID) string { return ui.Project(p) + "/file" }

// removePath asks before a project is removed.
func removePath(p domain.ID) string { return ui.Project(p) + "/remove" }
