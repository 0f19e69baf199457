package project

import (
	"net/http"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// listView is the list of projects, ready to print.
type listView struct {
	Lines   []listLine
	Draft   draft
	Wrong   string // why the project was not created
	Refused []string
	Taken   string // why the file was not taken in
	Exists  bool   // because the project is there already
}

// draft is what was typed for a new project.
type draft struct {
	Name, Number string
	Units        units.System
}

type listLine struct {
	ID                             domain.ID
	Name, Number, Rooms, Updated   string
	Errors                         int
	ErrorText, RemoveLabel, Remove string
}

// list shows all projects, with the forms for a new one.
func (s Screen) list(w http.ResponseWriter, r *http.Request) {
	s.showList(w, r, http.StatusOK, listView{Draft: draft{Units: units.US}})
}

func (s Screen) showList(w http.ResponseWriter, r *http.Request, status int, v listView) {
	lines, err := s.Store.Projects(r.Context())
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	for _, line := range lines {
		v.Lines = append(v.Lines, newListLine(line))
	}
	edits.Render(w, r, s.Log, status, listPage(ui.NewPage(r, "Projects"), v))
}

func newListLine(p store.ProjectLine) listLine {
	return listLine{
		ID: p.ID, Name: p.Name, Number: p.Number, Rooms: edits.Count(p.Rooms, "room"), Errors: p.Errors,
		ErrorText: edits.Count(p.Errors, "error"), Updated: p.Updated.Local().Format("2006-01-02 15:04"),
		Remove: removePath(p.ID), RemoveLabel: "Remove project " + p.Name,
	}
}
