package ui

import "scopewright/domain"

// StoreyTitle gives "Level 2", or "Main house, Level 2" in a project of several
// buildings.
func StoreyTitle(p *domain.Project, building, storey string) string {
	if len(p.Buildings) > 1 {
		return building + ", " + storey
	}
	return storey
}

// StoreyChoices lists a project's storeys from the bottom up.
func StoreyChoices(p *domain.Project) []domain.Choice {
	var out []domain.Choice
	for _, b := range p.Buildings {
		for _, s := range b.Storeys {
			out = append(out, domain.Choice{Value: string(s.ID), Label: StoreyTitle(p, b.Name, s.Name)})
		}
	}
	return out
}
