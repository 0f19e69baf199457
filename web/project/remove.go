package project

import (
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// removeView asks for the project's name before it is removed.
type removeView struct {
	Project *domain.Project
	Rooms   string
	Wrong   string
}

// askRemove says what goes with a project, and asks.
func (s Screen) askRemove(w http.ResponseWriter, r *http.Request) {
	s.showRemove(w, r, http.StatusOK, "")
}

func (s Screen) showRemove(w http.ResponseWriter, r *http.Request, status int, wrong string) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	totals, err := s.Store.Totals(r.Context(), p.ID)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	rooms := 0
	for _, t := range totals {
		rooms += t.Rooms
	}
	page := ui.NewPage(r, "Remove project")
	page.Crumbs = []ui.Crumb{{Name: p.Name, Path: ui.Project(p.ID)}, {Name: "Remove"}}
	edits.Render(w, r, s.Log, status, removePage(page, removeView{Project: p, Rooms: edits.Count(rooms, "room"), Wrong: wrong}))
}

// remove removes a project whose name was typed.
func (s Screen) remove(w http.ResponseWriter, r *http.Request) {
	id := edits.ProjectID(r)
	p, _, err := s.Store.Project(r.Context(), id)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	if typed := strings.Join(strings.Fields(r.PostFormValue("name")), " "); !strings.EqualFold(typed, p.Name) {
		s.showRemove(w, r, http.StatusUnprocessableEntity, "This is not the project's name: nothing was removed. Type it as it stands above.")
		return
	}
	if err := s.Store.RemoveProject(r.Context(), ui.Signed(r), id); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.Log.Info("project removed", "project", id, "who", ui.Signed(r))
	http.Redirect(w, r, ui.Home(), http.StatusSeeOther)
}
