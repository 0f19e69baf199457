package luminaires

import (
	"net/http"

	"scopewright/domain"
	"scopewright/web/edits"
)

// set stores one cell, or a pasted block of them, as one step, and says in how
// many rooms the findings changed with it.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.judged(w, r, func(p *domain.Project) (string, error) {
		said, err := edits.SetEach(cells, func(c edits.Cell) (string, error) { return setCell(p, c) })
		if err != nil {
			return "", err
		}
		return said, uniqueTags(p, cells)
	})
}

func setCell(p *domain.Project, c edits.Cell) (string, error) {
	id, name := split(c.Path)
	l := p.Luminaire(id)
	if l == nil {
		return "", c.Gone("this luminaire type")
	}
	return edits.SetField(domain.Env{Project: p}, domain.LuminaireFields, l, c, name, "luminaire type "+l.Tag)
}

// uniqueTags looks once all cells are set, so that a pasted block may swap
// tags.
func uniqueTags(p *domain.Project, cells []edits.Cell) error {
	for _, c := range cells {
		id, name := split(c.Path)
		if l := p.Luminaire(id); name == "tag" && l != nil && tagged(p, l.Tag, id) != nil {
			return c.Refusef("type %s is in the schedule already: choose a free tag", l.Tag)
		}
	}
	return nil
}

// judged carries out a change of the schedule and says what the rules make of
// it.
func (s Screen) judged(w http.ResponseWriter, r *http.Request, change func(*domain.Project) (string, error)) {
	outcome, news, err := s.desk().ApplyJudged(r, change)
	s.desk().Done(w, r, outcome, err, news)
}
