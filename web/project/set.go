package project

import (
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
)

// set stores one fact, one cell of the storeys, or a pasted block of them, as
// one step.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	outcome, err := s.settings().Apply(r, func(p *domain.Project) (string, error) {
		return edits.SetEach(cells, func(c edits.Cell) (string, error) { return setCell(p, c) })
	})
	s.settings().Done(w, r, outcome, err, "")
}

func setCell(p *domain.Project, c edits.Cell) (string, error) {
	env := domain.Env{Project: p}
	steps := strings.Split(c.Path, "/")
	name := steps[len(steps)-1]
	switch {
	case len(steps) == 2 && steps[0] == "project":
		return edits.SetField(env, domain.ProjectFields, p, c, name, "project")
	case len(steps) == 3 && steps[0] == "buildings":
		if b := findBuilding(p, domain.ID(steps[1])); b != nil {
			return edits.SetField(env, domain.BuildingFields, b, c, name, "building "+b.Name)
		}
	case len(steps) == 5 && steps[0] == "buildings" && steps[2] == "storeys":
		if _, st := p.FindStorey(domain.ID(steps[3])); st != nil {
			return edits.SetField(env, domain.StoreyFields, st, c, name, "storey "+st.Name)
		}
	}
	return "", c.Gone("this")
}
