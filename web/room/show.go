package room

import (
	"net/http"

	"scopewright/domain"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// neighbours are the rooms before and after in the building's order.
type neighbours struct{ Previous, Next domain.ID }

// show is the whole workbench.
func (s Screen) show(w http.ResponseWriter, r *http.Request) {
	b, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	var around neighbours
	if !b.isTypical() {
		if around.Previous, around.Next, err = s.Store.Neighbours(r.Context(), b.room.ID); err != nil {
			edits.Refuse(w, r, s.Log, err)
			return
		}
		steps, err := s.Store.Reviews(r.Context(), b.projectID, b.room.ID)
		if err != nil {
			edits.Refuse(w, r, s.Log, err)
			return
		}
		b.talk = ui.OpenObjections(b.project, b.room.ID, steps)
	}
	edits.Render(w, r, s.Log, http.StatusOK, Page(s.page(r, b), b, around))
}

// parts is everything on the workbench anew, for a window in which someone
// else's edit is to show.
func (s Screen) parts(w http.ResponseWriter, r *http.Request) {
	b, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, Parts(b, scopeOfAnswer{parts: everything}), ui.EditStatePart(s.page(r, b)))
}
