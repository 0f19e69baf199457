package project

import (
	"net/http"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// create makes a new project and goes to it.
func (s Screen) create(w http.ResponseWriter, r *http.Request) {
	d := draft{Name: r.PostFormValue("name"), Number: r.PostFormValue("number"), Units: units.System(r.PostFormValue("units"))}
	p, err := newProject(d)
	if err != nil {
		s.showList(w, r, http.StatusUnprocessableEntity, listView{Draft: d, Wrong: err.Error()})
		return
	}
	if err := s.Store.CreateProject(r.Context(), ui.Signed(r), p); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	http.Redirect(w, r, ui.Project(p.ID), http.StatusSeeOther)
}

// newProject gives a project with everything to start from: the generic book
// and limits, the starting checklist, one building of one storey.
func newProject(d draft) (domain.Project, error) {
	p := domain.Project{
		ID: domain.NewID(), Units: units.US, Book: equipment.Generic(), Checklist: domain.StartChecklist(),
		Buildings: []domain.Building{{ID: domain.NewID(), Seq: 1, Name: "Main building", Storeys: []domain.Storey{{ID: domain.NewID(), Seq: 1, Name: "Level 1"}}}},
	}
	env := domain.Env{Project: &p}
	for name, text := range map[string]string{"name": d.Name, "number": d.Number, "units": string(d.Units)} {
		f, _ := domain.FieldNamed(domain.ProjectFields, name)
		if name == "units" && text == "" {
			continue
		}
		if err := f.Set(env, &p, text); err != nil {
			return p, edits.Refusef("%s: %w", f.Title, err)
		}
	}
	p.Limits = domain.StartLimits(p.Units)
	return p, nil
}
