// Package sheets is the screen of the documents: print pages and files of
// every kind, and the revisions in which a project is issued.
package sheets

import (
	"log/slog"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/store"
)

// Screen serves the documents.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time

	turns chan struct{}
}

// atOnce is how many documents are made at a time: a set of ten thousand rooms
// takes several gigabytes while it is made.
const atOnce = 1

// Routes hangs the screen into the app.
func (s Screen) Routes(r chi.Router) {
	s.turns = make(chan struct{}, atOnce)
	const documents = "/projects/{project}/documents"
	r.Get(documents, s.show)
	r.Get(documents+"/issue", s.showIssue)
	r.Post(documents+"/issue", s.issue)
	r.Get(documents+"/compare", s.compare)
	r.Get(documents+"/revisions/{number}", s.showRevision)
	r.Get(documents+"/{file}", s.document)
}
