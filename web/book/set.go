package book

import (
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
)

// set stores one cell of the book or the limits, or a pasted block of them, as
// one step, and says in how many rooms the findings changed with it.
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
		return said, sound(p, cells)
	})
}

func setCell(p *domain.Project, c edits.Cell) (string, error) {
	env := domain.Env{Project: p}
	part, id, name := split(c.Path)
	switch part {
	case "book":
		if t := p.Book.Find(id); t != nil {
			return edits.SetField(env, domain.EquipmentFields, t, c, name, t.Name)
		}
	case "limits":
		if l := p.Limits.Own(domain.LimitID(id)); l != nil {
			return edits.SetField(env, domain.LimitFields, l, c, name, "limit "+l.Title)
		}
	}
	return "", c.Gone("this line")
}

// sound looks at the changed types as a whole, once all cells are set: a
// battery device cannot route, a station has no outputs.
func sound(p *domain.Project, cells []edits.Cell) error {
	for _, c := range cells {
		part, id, name := split(c.Path)
		t := p.Book.Find(id)
		if part != "book" || t == nil {
			continue
		}
		if err := t.Validate(); err != nil {
			return c.Refusef("%s", strings.ReplaceAll(plain(err, t.ID), "\n", "; "))
		}
		if name == "name" && named(p.Book, t.Name, t.ID) {
			return c.Refusef("the book has a type of that name already: choose another, so that people can tell them apart")
		}
	}
	return nil
}

// plain leaves the type's ID out of the sentence: it stands in the row.
func plain(err error, id string) string {
	return strings.ReplaceAll(err.Error(), "type "+id+": ", "")
}

func named(b []equipmentType, name, not string) bool {
	return slices.ContainsFunc(b, func(t equipmentType) bool { return t.ID != not && strings.EqualFold(t.Name, name) })
}

// split reads "book/<id>/<field>" and "limits/<id>/<field>".
func split(path string) (part, id, field string) {
	steps := strings.Split(path, "/")
	if len(steps) != 3 {
		return "", "", ""
	}
	return steps[0], steps[1], steps[2]
}

// value tells of a cell how it is called and what it holds.
func value(p *domain.Project, path string) (title, now string) {
	env := domain.Env{Project: p}
	part, id, name := split(path)
	if t := p.Book.Find(id); part == "book" && t != nil {
		if f, ok := domain.FieldNamed(domain.EquipmentFields, name); ok {
			return t.Name + ", " + strings.ToLower(f.Title), f.Show(env, t)
		}
	}
	if l := p.Limits.Find(domain.LimitID(id)); part == "limits" && l.Title != "" {
		if f, ok := domain.FieldNamed(domain.LimitFields, name); ok {
			return l.Title + ", " + strings.ToLower(f.Title), f.Show(env, &l)
		}
	}
	return path, "gone"
}

// judged carries out a change of the book or the limits and says what the
// rules make of it.
func (s Screen) judged(w http.ResponseWriter, r *http.Request, change func(*domain.Project) (string, error)) {
	outcome, news, err := s.desk().ApplyJudged(r, change)
	s.desk().Done(w, r, outcome, err, news)
}

// generic gives a limit its built-in value and source back.
func (s Screen) generic(w http.ResponseWriter, r *http.Request) {
	_, id := edits.Row(r)
	s.judged(w, r, func(p *domain.Project) (string, error) {
		g, known := genericLimit(domain.LimitID(id))
		if !known {
			return "", edits.Refusef("there is no limit %q", id)
		}
		*p.Limits.Own(g.ID) = g
		return "limit " + g.Title + ": back to the generic value", nil
	})
}
