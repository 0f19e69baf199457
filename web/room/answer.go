package room

import (
	"errors"
	"net/http"

	"github.com/a-h/templ"

	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// section is a part of the page that an answer may bring anew.
type section uint

const (
	inFacts section = 1 << iota
	inLoads
	inDevices
	inMatrix
	inScenes
	inIntents
	everything = inFacts | inLoads | inDevices | inMatrix | inScenes | inIntents
)

// answer sends what an edit changed of the open page, with fresh findings, or
// takes a browser without script back to the page.
func (s Screen) answer(w http.ResponseWriter, r *http.Request, outcome store.Outcome, shown scopeOfAnswer, toast string) {
	b, err := s.after(r, outcome)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	if !ui.IsFragment(r) {
		http.Redirect(w, r, b.path(), http.StatusSeeOther)
		return
	}
	page := s.page(r, b)
	page.Status = ui.Status{State: "saved", Text: "Saved " + s.Now().Format("15:04:05")}
	if !outcome.Changed {
		page.Status.Text = "Nothing changed"
	}
	list := []templ.Component{Parts(b, shown), ui.EditStatePart(page), ui.Notice("", "")}
	if toast != "" {
		list = append(list, ui.Toast(toast))
	}
	edits.Render(w, r, s.Log, http.StatusOK, list...)
}

// after gives the bench as the edit left it: what was committed where the
// store hands it over, read anew otherwise.
func (s Screen) after(r *http.Request, outcome store.Outcome) (*bench, error) {
	if outcome.Room == nil {
		return s.load(r)
	}
	b := s.benchOf(outcome.Room)
	s.read(b, r)
	b.undo, b.redo = outcome.Undo, outcome.Redo
	return b, nil
}

// refuse answers an edit that was not stored. A refused cell is named in a
// header, so that the grid can put the words beside it; an edit on an old
// version shows both values.
func (s Screen) refuse(w http.ResponseWriter, r *http.Request, err error) {
	var field *edit.FieldError
	var stale *store.StaleError
	switch {
	case !ui.IsFragment(r):
		edits.Refuse(w, r, s.Log, err)
	case errors.As(err, &field):
		w.Header().Set("HX-Trigger", ui.HeaderJSON(map[string]any{"cell-refused": map[string]string{"path": field.Path, "text": field.Text, "message": field.Error()}}))
		edits.Render(w, r, s.Log, http.StatusUnprocessableEntity, ui.Notice("error", field.Error()))
	case errors.As(err, &stale) && stale.Now > 0:
		s.showConflict(w, r)
	default:
		edits.Refuse(w, r, s.Log, err)
	}
}

// showConflict brings the newer state and puts the person's values beside it.
func (s Screen) showConflict(w http.ResponseWriter, r *http.Request) {
	b, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	pairs, _ := readCells(r)
	page := s.page(r, b)
	page.Status = ui.Status{State: "conflict", Text: "Not saved"}
	edits.Render(w, r, s.Log, http.StatusConflict, Parts(b, scopeOfAnswer{parts: everything}), ui.EditStatePart(page), Conflict(b, conflicts(b, pairs)))
}
