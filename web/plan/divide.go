package plan

import (
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/propose"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// dividing lets one room be divided at a time: the search takes a processor for
// up to half a second.
var dividing = make(chan struct{}, 1)

// division is a room with the areas that it can be divided into.
type division struct {
	state    *state
	room     *domain.Resolved
	revision int64
	propose.Division
	gesture edit.DivideRoom
	after   []*domain.Resolved // the rooms to be; nil where it does not fit
}

// showDivision shows into which areas a room can be divided.
func (s Screen) showDivision(w http.ResponseWriter, r *http.Request) {
	d, err := s.divide(r, domain.ID(r.URL.Query().Get("room")))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	p := d.state.Project
	page := ui.NewPage(r, "Divide room "+d.room.Number)
	page.Project, page.Tab = p, "Plan"
	page.Crumbs = []ui.Crumb{{Name: p.Name, Path: ui.Project(p.ID)}, {Name: d.state.Storey.Name, Path: ui.Plan(p.ID, d.state.Storey.ID)}, {Name: page.Title}}
	edits.Render(w, r, s.Log, http.StatusOK, dividePage(page, s.viewOf(d)))
}

// divideRoom carries a division out that was shown.
func (s Screen) divideRoom(w http.ResponseWriter, r *http.Request) {
	d, err := s.divide(r, domain.ID(r.PostFormValue("room")))
	if err == nil && !d.Fits {
		err = edits.Sentence(d.Why)
	}
	if err == nil && r.PostFormValue("shown") != d.stamp() {
		err = edits.Refusef("room %s, its limits or its equipment were changed since its areas were shown: look at them again, then divide it", d.room.Number)
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	numbers := r.PostForm["number"]
	for i := 1; i < len(d.gesture.Areas) && i <= len(numbers); i++ {
		d.gesture.Areas[i].Number = numbers[i-1]
	}
	outcome, err := s.draw(r, []edit.Gesture{d.gesture})
	s.desk(r).Done(w, r, outcome, err, "")
}

// divide works out the areas of a room and what becomes of it, on copies.
func (s Screen) divide(r *http.Request, id domain.ID) (*division, error) {
	st, err := s.read(r)
	if err != nil {
		return nil, err
	}
	d := &division{state: st}
	for _, room := range st.Rooms {
		if room.Resolved.ID == id {
			d.room, d.revision = room.Resolved, room.Revision
		}
	}
	if d.room == nil {
		return nil, store.ErrNotFound
	}
	select {
	case dividing <- struct{}{}:
		defer func() { <-dividing }()
	case <-r.Context().Done():
		return nil, r.Context().Err()
	}
	d.Division = propose.Divide(st.Project, d.room)
	if !d.Fits {
		return d, nil
	}
	d.gesture = edit.DivideRoom{Room: id}
	for i, a := range d.Areas {
		area := edit.DividedArea{Outline: a.Outline, Devices: a.Devices, Loads: a.Loads, Added: a.Added, Parents: a.Parents}
		if i > 0 {
			area.ID = domain.NewID()
		}
		d.gesture.Areas = append(d.gesture.Areas, area)
	}
	return d, s.foresee(r, d)
}

// foresee carries the division out on a copy: what is shown is what will be.
func (s Screen) foresee(r *http.Request, d *division) error {
	know, err := s.around(r, []edit.Gesture{d.gesture})
	if err != nil {
		return err
	}
	copied := *d.room
	copied.Room, copied.Design = d.room.Room.Clone(), d.room.Design.Clone()
	drawing := &edit.Drawing{Project: d.state.Project, Storey: d.state.Storey.ID, Rooms: []*domain.Resolved{&copied}}
	know(nil, drawing)
	if _, err := edit.Draw(drawing, d.gesture); err != nil {
		return err
	}
	d.after = []*domain.Resolved{&copied}
	for _, room := range drawing.Added {
		d.after = append(d.after, &domain.Resolved{Room: room, Design: room.Design, Plan: d.room.Plan})
	}
	return nil
}

// stamp names what a division says, without the IDs that are new each time.
func (d *division) stamp() string {
	raw, err := json.Marshal(d.Division)
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(raw)
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10]))
}

// base gives the revision that the division is based on.
func (d *division) base() string {
	return edits.FormatBase(store.RoomSubject(d.room.ID), d.revision)
}
