package room

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

type stepFunc func(context.Context, store.Request) (store.Outcome, error)

func signed(r *http.Request) string { return ui.Signed(r) }

// named gives the finding that a request names, as it stands now.
func (s Screen) named(r *http.Request) (*rule.Finding, error) {
	b, err := s.load(r)
	if err != nil {
		return nil, err
	}
	f := validate.FindFinding(b.findings, r.FormValue("rule"), r.FormValue("key"))
	if f == nil {
		return nil, &edit.Refused{Err: fmt.Errorf("this finding is no longer there")}
	}
	return f, nil
}

// fix carries out a finding's way out.
func (s Screen) fix(w http.ResponseWriter, r *http.Request) {
	f, err := s.named(r)
	if err == nil && f.Fix == nil {
		err = &edit.Refused{Err: fmt.Errorf("the program knows no way out of this finding")}
	}
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	outcome, err := s.apply(r, f.Fix.Edits...)
	s.done(w, r, outcome, err)
}

// waive accepts a finding for a reason and under a name.
func (s Screen) waive(w http.ResponseWriter, r *http.Request) {
	f, err := s.named(r)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	waiver := domain.Waiver{ID: domain.NewID(), Rule: f.Rule, Key: f.Key, Reason: r.FormValue("reason"), Name: r.FormValue("name"), Date: s.Now().Format(time.DateOnly)}
	if f.Numbers {
		margin := f.Margin
		waiver.Margin = &margin
	}
	outcome, err := s.apply(r, edit.Waive{Waiver: waiver})
	s.done(w, r, outcome, err)
}

// unwaive takes a waiver back.
func (s Screen) unwaive(w http.ResponseWriter, r *http.Request) {
	outcome, err := s.apply(r, edit.Unwaive{ID: domain.ID(r.FormValue("waiver"))})
	s.done(w, r, outcome, err)
}

// giveBack gives one exception, or all, back to the typical.
func (s Screen) giveBack(w http.ResponseWriter, r *http.Request) {
	outcome, err := s.apply(r, edit.GiveBack{Path: r.FormValue("path")})
	s.done(w, r, outcome, err)
}

// follow lets the room follow a typical, or stand alone where none is named.
func (s Screen) follow(w http.ResponseWriter, r *http.Request) {
	var change edit.Edit = edit.StandAlone{}
	if id := domain.ID(r.FormValue("typical")); id != "" {
		line, owner, err := s.Store.Typical(r.Context(), id)
		if err == nil && owner != domain.ID(chi.URLParam(r, "project")) {
			err = store.ErrNotFound
		}
		if err != nil {
			s.refuse(w, r, err)
			return
		}
		change = edit.Follow{Typical: line.Typical}
	}
	outcome, err := s.apply(r, change)
	s.done(w, r, outcome, err)
}

// copyFrom takes over the design of another room of the project.
func (s Screen) copyFrom(w http.ResponseWriter, r *http.Request) {
	number := r.FormValue("number")
	lines, _, err := s.Store.RoomLines(r.Context(), domain.ID(chi.URLParam(r, "project")), store.Filter{Text: number, Limit: 50})
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	for _, line := range lines {
		if line.Number != number {
			continue
		}
		other, err := s.Store.Room(r.Context(), line.ID)
		if err != nil {
			edits.Refuse(w, r, s.Log, err)
			return
		}
		outcome, err := s.apply(r, edit.CopyDesign{From: number, Design: other.Resolved.Design.Clone()})
		s.done(w, r, outcome, err)
		return
	}
	s.refuse(w, r, &edit.Refused{Err: fmt.Errorf("there is no room %q: type its number as the building table shows it", number)})
}
