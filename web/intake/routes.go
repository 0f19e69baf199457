// Package intake is the screen that brings a room list, a luminaire schedule,
// a building model, a drawing or a project file into a project: it says line by
// line what will happen before anything does. TakeFile does the same for the command line.
package intake

import (
	"log/slog"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
)

// Screen serves the import of one project. Make it with New: it keeps files
// between their preview and their use.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time

	shelf    *shelf
	newID    func() domain.ID
	patience time.Duration // with a model being read, before the page says how far it is
}

// New gives the screen with an empty shelf.
func New(s *store.Store, log *slog.Logger, now func() time.Time) Screen {
	return Screen{Store: s, Log: log, Now: now, shelf: newShelf(now), newID: domain.NewID, patience: shortWait}
}

// Routes hangs the screen into the app. It bounds uploads itself.
func (s Screen) Routes(r chi.Router) {
	const prefix = "/projects/{project}/import"
	r.Get(prefix, s.show)
	r.Post(prefix, s.take)
	r.Post(prefix+"/pictures/{storey}/again", s.placeAgain)
	r.Post(prefix+"/pictures/{storey}/remove", s.removePicture)
	r.Get("/projects/{project}/pictures/{sha}", s.storedPicture)
	r.Get(prefix+"/{token}", s.preview)
	r.Get(prefix+"/{token}/picture", s.showPicture)
	r.Post(prefix+"/{token}/check", s.checkPlacing)
	r.Post(prefix+"/{token}/page", s.choosePage)
	r.Get(prefix+"/{token}/page/{page}", s.showPage)
	r.Get(prefix+"/{token}"+beneathPart, s.showLayers)
	r.Post(prefix+"/{token}"+beneathPart, s.takeLines)
	r.Get(prefix+"/{token}/progress", s.progress)
	r.Post(prefix+"/{token}/read", s.readAgain)
	r.Post(prefix+"/{token}/apply", s.apply)
	r.Post(prefix+"/{token}/discard", s.discard)
}
