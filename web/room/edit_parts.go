package room

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/edits"
)

const maxAtOnce = 50 // devices or loads that one click may add

// add adds loads, devices, a scene or an intent.
func (s Screen) add(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	list, err := additions(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, &edit.Refused{Err: err})
		return
	}
	outcome, err := s.apply(r, list...)
	s.done(w, r, outcome, err)
}

func additions(r *http.Request) ([]edit.Edit, error) {
	n := 1
	if text := r.PostForm.Get("count"); text != "" {
		var err error
		if n, err = strconv.Atoi(strings.TrimSpace(text)); err != nil || n < 1 || n > maxAtOnce {
			return nil, fmt.Errorf("add 1 to %d at a time, not %q", maxAtOnce, text)
		}
	}
	list := make([]edit.Edit, n)
	for i := range list {
		switch part := r.PostForm.Get("part"); part {
		case "loads":
			list[i] = edit.AddLoad{ID: domain.NewID(), Kind: domain.LoadKind(r.PostForm.Get("kind")), Luminaire: domain.ID(r.PostForm.Get("luminaire"))}
		case "devices":
			list[i] = edit.AddDevice{ID: domain.NewID(), Type: r.PostForm.Get("type")}
		case "scenes":
			list[i] = edit.AddScene{ID: domain.NewID(), Name: r.PostForm.Get("name")}
		case "intents":
			list[i] = edit.AddIntent{ID: domain.NewID(), Kind: domain.IntentKind(r.PostForm.Get("kind"))}
		default:
			return nil, fmt.Errorf("there is nothing called %q to add", part)
		}
	}
	return list, nil
}

// rowOf reads which row a button stands in: "devices/d7".
func rowOf(r *http.Request) (part string, id domain.ID) {
	part, rest, _ := strings.Cut(r.FormValue("row"), "/")
	return part, domain.ID(rest)
}

// remove takes a row away with what hangs on it; undo brings it back.
func (s Screen) remove(w http.ResponseWriter, r *http.Request) {
	part, id := rowOf(r)
	outcome, err := s.apply(r, edit.Remove{Part: part, ID: id})
	s.done(w, r, outcome, err)
}

// duplicate copies a row with its links.
func (s Screen) duplicate(w http.ResponseWriter, r *http.Request) {
	part, id := rowOf(r)
	outcome, err := s.apply(r, edit.Duplicate{Part: part, ID: id, New: domain.NewID()})
	s.done(w, r, outcome, err)
}

// done answers an edit that may touch everything on the page.
func (s Screen) done(w http.ResponseWriter, r *http.Request, outcome store.Outcome, err error) {
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	said := outcome.Said
	s.answer(w, r, outcome, scopeOfAnswer{parts: everything}, said)
}

// undo takes back the newest edit of this room or typical.
func (s Screen) undo(w http.ResponseWriter, r *http.Request) { s.step(w, r, s.Store.Undo, "Undid: ") }

// redo carries out again what was undone last.
func (s Screen) redo(w http.ResponseWriter, r *http.Request) { s.step(w, r, s.Store.Redo, "Redid: ") }

func (s Screen) step(w http.ResponseWriter, r *http.Request, step stepFunc, verb string) {
	subject := edits.Subject("room", domain.ID(chi.URLParam(r, "room")))
	if id := chi.URLParam(r, "typical"); id != "" {
		subject = edits.Subject("typical", domain.ID(id))
	}
	outcome, err := step(r.Context(), store.Request{ProjectID: domain.ID(chi.URLParam(r, "project")), Who: signed(r), Scope: subject})
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	s.answer(w, r, outcome, scopeOfAnswer{parts: everything}, verb+outcome.Said)
}
