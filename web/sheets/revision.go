package sheets

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// revisionView is the page of one revision.
type revisionView struct {
	Line    revisionLine
	Printer printer
	Changed difference
	First   bool
}

// showRevision is an issued revision: who issued it and why, what it changed,
// and its documents exactly as they went out.
func (s Screen) showRevision(w http.ResponseWriter, r *http.Request) {
	number, err := strconv.Atoi(chi.URLParam(r, "number"))
	if err != nil || number < 1 {
		edits.Refuse(w, r, s.Log, notThere("There is no such revision: choose one on the Documents page."))
		return
	}
	in, err := Gather(r.Context(), s.Store, edits.ProjectID(r), number, s.Now(), true)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	line, err := s.lineOf(r.Context(), edits.ProjectID(r), number)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	p := &in.Scope.Project
	v := revisionView{Line: newRevisionLine(p.ID, line), Printer: newPrinter(p, nil, number), First: in.Changes == nil}
	if !v.First {
		v.Changed = newDifference("", "revision "+strconv.Itoa(number-1), "revision "+strconv.Itoa(number), in.Changes)
	}
	edits.Render(w, r, s.Log, http.StatusOK, revisionPage(frame(r, p, v.Line.Name, v.Line.Name), v))
}

func (s Screen) lineOf(ctx context.Context, project domain.ID, number int) (store.RevisionLine, error) {
	lines, err := s.Store.Revisions(ctx, project)
	if err != nil {
		return store.RevisionLine{}, err
	}
	for _, l := range lines {
		if l.Number == number {
			return l, nil
		}
	}
	return store.RevisionLine{}, notThere(fmt.Sprintf("Revision %d has not been issued.", number))
}

// compareForm chooses two states to compare; 0 is the state now.
type compareForm struct {
	States   []domain.Choice
	From, To string
}

// newCompareForm offers the newest revision and the state now where nothing
// was chosen (from below 0).
func newCompareForm(lines []store.RevisionLine, from, to int) compareForm {
	out := compareForm{States: []domain.Choice{{Value: "0", Label: "as it is now"}}}
	for _, l := range lines {
		out.States = append(out.States, domain.Choice{Value: strconv.Itoa(l.Number), Label: stateName(l.Number) + ", " + l.At.Local().Format(time.DateOnly)})
	}
	if from < 0 && len(lines) > 0 {
		from = lines[0].Number
	}
	out.From, out.To = strconv.Itoa(max(0, from)), strconv.Itoa(to)
	return out
}

func stateName(number int) string {
	if number == 0 {
		return "as it is now"
	}
	return "revision " + strconv.Itoa(number)
}

// compare says what changed between any two states.
func (s Screen) compare(w http.ResponseWriter, r *http.Request) {
	id, q := edits.ProjectID(r), r.URL.Query()
	from, err1 := strconv.Atoi(q.Get("from"))
	to, err2 := strconv.Atoi(q.Get("to"))
	if err1 != nil || err2 != nil || from < 0 || to < 0 {
		edits.Refuse(w, r, s.Log, edits.Refusef("Choose two revisions to compare, by their numbers."))
		return
	}
	lines, err := s.Store.Revisions(r.Context(), id)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	d, p, err := s.between(r.Context(), id, from, to)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	links := id
	if to != 0 {
		links = ""
	}
	v := newDifference(links, stateName(from), stateName(to), d)
	edits.Render(w, r, s.Log, http.StatusOK, comparePage(frame(r, p, "What changed", "What changed"), newCompareForm(lines, from, to), ui.Documents(id), v))
}

func (s Screen) between(ctx context.Context, id domain.ID, from, to int) (*domain.Difference, *domain.Project, error) {
	older, _, err := stateOf(ctx, s.Store, id, from)
	if err != nil {
		return nil, nil, err
	}
	newer, _, err := stateOf(ctx, s.Store, id, to)
	if err != nil {
		return nil, nil, err
	}
	d, err := domain.Compare(older, newer)
	return d, &newer.Project, err
}
