package plan

import (
	"net/http"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// dividing lets one room be divided at a time: search and judgement take a
// processor for up to a second.
var dividing = make(chan struct{}, 1)

// showDivision shows into which areas a room can be divided: the best ways, one
// of them drawn.
func (s Screen) showDivision(w http.ResponseWriter, r *http.Request) {
	d, err := s.dividable(r, domain.ID(r.URL.Query().Get("room")))
	if err == nil {
		err = s.judgeWays(r, d)
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	p := d.state.Project
	page := ui.NewPage(r, "Divide room "+d.room.Number)
	page.Project, page.Tab = p, "Plan"
	page.Crumbs = []ui.Crumb{{Name: p.Name, Path: ui.Project(p.ID)}, {Name: d.state.Storey.Name, Path: ui.Plan(p.ID, d.state.Storey.ID)}, {Name: page.Title}}
	edits.Render(w, r, s.Log, http.StatusOK, dividePage(page, s.viewOf(d, r.URL.Query().Get("way"))))
}

// divideRoom carries a division out that was shown.
func (s Screen) divideRoom(w http.ResponseWriter, r *http.Request) {
	d, err := s.dividable(r, domain.ID(r.PostFormValue("room")))
	if err == nil && d.Why != "" {
		err = edits.Sentence(d.Why)
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	chosen := d.way(r.PostFormValue("shown"))
	if chosen == nil {
		edits.Refuse(w, r, s.Log, edits.Refusef("room %s, its limits or its equipment were changed since its areas were shown: look at them again, then divide it", d.room.Number))
		return
	}
	numbers := r.PostForm["number"]
	for i := 1; i < len(chosen.gesture.Areas) && i <= len(numbers); i++ {
		chosen.gesture.Areas[i].Number = numbers[i-1]
	}
	outcome, err := s.draw(r, []edit.Gesture{chosen.gesture})
	s.desk(r).Done(w, r, outcome, err, "")
}

// base gives the revision that a division is based on.
func (d *dividable) base() string {
	return edits.FormatBase(store.RoomSubject(d.room.ID), d.revision)
}
