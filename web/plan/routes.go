// Package plan is the screen of the drawing board: a storey as a plan on which
// rooms, devices, luminaires and seats are placed, and the same as a table.
package plan

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the plans of storeys.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
	Judge func(*domain.Project, *domain.Resolved) []rule.Finding // runs the rules as of today

	tries *attempts
	kept  *kept
}

const prefix = "/projects/{project}/storeys/{storey}/plan"

// Routes mounts the screen.
func (s Screen) Routes(r chi.Router) {
	at := func(do func(edits.Desk, http.ResponseWriter, *http.Request)) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) { do(s.desk(r), w, r) }
	}
	s.tries, s.kept = newAttempts(), newKept()
	r.Get("/projects/{project}/plan", s.first)
	r.Get(prefix, at(edits.Desk.Show))
	r.Get(prefix+"/fresh", at(edits.Desk.Fresh))
	r.Post(prefix+"/set", s.set)
	r.Post(prefix+"/gesture", s.gesture)
	r.Post(prefix+"/copied", s.copied)
	r.Get(prefix+"/below", s.below)
	r.Get(prefix+"/overlay", s.showOverlay)
	r.Get(prefix+"/why", s.why)
	r.Get(prefix+"/light", s.light)
	r.Post(prefix+"/merge", s.merge)
	r.Get(prefix+"/divide", s.showDivision)
	r.Post(prefix+"/divide", s.divideRoom)
	r.Post(prefix+"/grid", s.grid)
	r.Post(prefix+"/rooflight/add", s.addRooflight)
	r.Post(prefix+"/rooflight/remove", s.removeRooflight)
	r.Post(prefix+"/corner/add", s.addCorner)
	r.Post(prefix+"/corner/remove", s.removeCorner)
	r.Post(prefix+"/undo", at(edits.Desk.Undo))
	r.Post(prefix+"/redo", at(edits.Desk.Redo))
}

// first leads to the plan of the project's first storey.
func (s Screen) first(w http.ResponseWriter, r *http.Request) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	for _, b := range p.Buildings {
		if len(b.Storeys) > 0 {
			http.Redirect(w, r, ui.Plan(p.ID, b.Storeys[0].ID), http.StatusSeeOther)
			return
		}
	}
	http.Redirect(w, r, ui.Settings(p.ID), http.StatusSeeOther) // where storeys are added
}

func storeyID(r *http.Request) domain.ID { return domain.ID(chi.URLParam(r, "storey")) }

func subject(r *http.Request) string { return store.PlanSubject(storeyID(r)) }

func (s Screen) desk(r *http.Request) edits.Desk {
	storey := storeyID(r)
	return edits.Desk{
		Store: s.Store, Log: s.Log, Now: s.Now, Load: s.load, On: subject,
		Path: func(project domain.ID) string { return ui.Plan(project, storey) },
	}
}
