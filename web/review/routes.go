// Package review is the second opinion: the questions of the checklist asked
// of the project and of each room, objections and their answers, sign-offs,
// and the page on which the checklist itself is edited.
package review

import (
	"log/slog"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate/rule"
)

// Screen serves the review.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
	// Hash gives what a room's sheet would print: what a sign-off binds to.
	Hash func(*domain.Project, *domain.Resolved) string
	// Judge runs the rules over a room, as of today.
	Judge func(*domain.Project, *domain.Resolved) []rule.Finding
}

// Routes hangs the screen into the app.
func (s Screen) Routes(r chi.Router) {
	const review, room, list = "/projects/{project}/review", "/projects/{project}/review/{room}", "/projects/{project}/checklist"
	r.Get(review, s.showProject)
	r.Get(room, s.showRoom)
	r.Get(room+"/state", s.roomState)
	for _, place := range []string{review, room} {
		r.Post(place+"/verdict", s.giveVerdict)
		r.Post(place+"/answer", s.giveAnswer)
	}
	r.Post(room+"/sign", s.sign)
	r.Post(room+"/withdraw", s.withdraw)

	desk := s.desk()
	r.Get(list, desk.Show)
	r.Get(list+"/fresh", desk.Fresh)
	r.Post(list+"/set", s.setItems)
	r.Post(list+"/add", s.addItem)
	r.Post(list+"/remove", s.removeItem)
	r.Post(list+"/up", s.moveItem(-1))
	r.Post(list+"/down", s.moveItem(+1))
	r.Post(list+"/start", s.startAnew)
	r.Post(list+"/undo", desk.Undo)
	r.Post(list+"/redo", desk.Redo)
}
