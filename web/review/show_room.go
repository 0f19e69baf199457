package review

import (
	"net/http"

	"github.com/a-h/templ"

	"scopewright/domain"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// roomView is a room's review page.
type roomView struct {
	Heading, Where     string
	Path, Bench, Sheet string
	ReviewSheet        string
	Previous, Next     string
	Talk               talk
	Panel              panel
}

// showRoom is the second opinion on one room.
func (s Screen) showRoom(w http.ResponseWriter, r *http.Request) {
	p, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	v, err := s.newRoomView(r, p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	page := ui.NewPage(r, "Review of "+v.Heading)
	page.Project, page.Tab = p.project, "Review"
	page.Crumbs = []ui.Crumb{{Name: p.project.Name, Path: ui.Project(p.project.ID)}, {Name: "Review", Path: ui.Review(p.project.ID)}, {Name: v.Heading}}
	edits.Render(w, r, s.Log, http.StatusOK, roomPage(page, v))
}

func (s Screen) newRoomView(r *http.Request, p *place) (roomView, error) {
	id, room := p.project.ID, p.room.Resolved
	v := roomView{
		Heading: room.Label(), Path: p.path(), Bench: ui.Room(id, room.ID),
		Sheet: ui.Document(id, "scope", "html", room.ID, 0), ReviewSheet: ui.Document(id, "review", "html", room.ID, 0),
		Talk: newTalk(p, ui.Who(r) != ""),
	}
	v.Talk.Empty = "The checklist asks nothing of rooms. Add questions on the checklist page."
	if b, storey := p.project.FindStorey(room.StoreyID); storey != nil {
		v.Where = b.Name + ", " + storey.Name
	}
	var err error
	if v.Panel, err = s.roomPanel(r, p); err != nil {
		return v, err
	}
	previous, next, err := s.Store.Neighbours(r.Context(), room.ID)
	v.Previous, v.Next = reviewPath(id, previous), reviewPath(id, next)
	return v, err
}

func reviewPath(project, room domain.ID) string {
	if room == "" {
		return ""
	}
	return ui.RoomReview(project, room)
}

// roomState brings the sign-offs and findings anew when something in the
// project has changed.
func (s Screen) roomState(w http.ResponseWriter, r *http.Request) {
	p, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	v, err := s.roomPanel(r, p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	parts := []templ.Component{panelPart(v)}
	if seen := r.FormValue("hash"); seen != p.hash {
		parts = append(parts, ui.Notice("warning", "This room has just changed. Look at its scope sheet again before you sign."))
	}
	edits.Render(w, r, s.Log, http.StatusOK, parts...)
}
