package project

import (
	"net/http"
	"strconv"
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// steps finds the entries of the journal that can be undone or redone by
// themselves: the newest that is done, and the one undone last, of a room, of
// a typical or of the project as a whole.
type steps struct {
	project domain.ID
	done    map[string]bool
	undone  map[string]time.Time
}

func newSteps(project domain.ID) *steps {
	return &steps{project, map[string]bool{}, map[string]time.Time{}}
}

// next takes the entries from the newest on and says what can be done with
// each, and on which subject.
func (s *steps) next(e store.Entry) (do, subject string) {
	subjects := subjectsOf(s.project, e)
	switch e.State {
	case store.Done:
		for _, one := range subjects {
			if !s.done[one] && subject == "" {
				do, subject = "Undo", one
			}
			s.done[one] = true
		}
	case store.Undone:
		for _, one := range subjects {
			if s.done[one] {
				return "", "" // something newer holds there
			}
		}
		for _, one := range subjects {
			if at, known := s.undone[one]; (!known || e.UndoneAt.After(at)) && subject == "" {
				do, subject = "Redo", one
			}
			if e.UndoneAt.After(s.undone[one]) {
				s.undone[one] = e.UndoneAt
			}
		}
	}
	return do, subject
}

func subjectsOf(project domain.ID, e store.Entry) []string {
	var out []string
	seen := map[string]bool{}
	add := func(subject string) {
		if !seen[subject] {
			seen[subject] = true
			out = append(out, subject)
		}
	}
	for _, c := range e.Changes {
		parts := strings.SplitN(c.Path, "/", 3)
		switch {
		case parts[0] == "rooms" && len(parts) > 1:
			add(edits.Subject("room", domain.ID(parts[1])))
		case parts[0] == "typicals" && len(parts) > 1:
			add(edits.Subject("typical", domain.ID(parts[1])))
		default:
			add(edits.Subject("project", project))
		}
	}
	return out
}

// step undoes or redoes one entry of the journal, where it is still the next
// one to undo or redo on its subject.
func (s Screen) step(w http.ResponseWriter, r *http.Request) {
	project, subject, do := edits.ProjectID(r), r.PostFormValue("subject"), r.PostFormValue("do")
	id, err := strconv.ParseInt(r.PostFormValue("entry"), 10, 64)
	if err != nil || do != "Undo" && do != "Redo" {
		s.history().Done(w, r, store.Outcome{}, edits.Refusef("choose an entry of the history to undo"), "")
		return
	}
	entries, err := s.Store.History(r.Context(), project, store.HistoryFilter{Subject: subject, Limit: entriesAtOnce})
	if err == nil && !isNext(entries, id, do) {
		err = edits.Refusef("this entry is no longer the next one to %s there: look at the history as it is now", strings.ToLower(do))
	}
	var outcome store.Outcome
	request := store.Request{ProjectID: project, Who: ui.Signed(r), Scope: subject}
	switch {
	case err != nil:
	case do == "Undo":
		outcome, err = s.Store.Undo(r.Context(), request)
	default:
		outcome, err = s.Store.Redo(r.Context(), request)
	}
	s.history().Done(w, r, outcome, err, map[string]string{"Undo": "Undid: ", "Redo": "Redid: "}[do]+outcome.Said)
}

func isNext(entries []store.Entry, id int64, do string) bool {
	var next store.Entry
	for _, e := range entries {
		switch {
		case do == "Undo" && e.State == store.Done:
			return e.ID == id
		case do == "Redo" && e.State == store.Undone && e.UndoneAt.After(next.UndoneAt):
			next = e
		}
	}
	return next.ID == id
}
