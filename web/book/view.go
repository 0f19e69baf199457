package book

import (
	"net/http"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Path    string
	Count   string
	Kinds   []kindView
	Choices []ui.ChoiceList
	Models  []modelGroup // types that a new one may be copied from
	Limits  ui.Grid
	Later   bool // uses are counted after the page
}

// kindView is one kind's part of the book.
type kindView struct {
	ID, Title, Count string
	Grid             ui.Grid
	Note             string // under the grid
}

// modelGroup lists types to copy from: those of the book, or built-in ones.
type modelGroup struct {
	Title  string
	Models []domain.Choice
}

func (s Screen) load(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	uses, later, err := edits.PageUses(r, s.Store, id, edits.OfDevices)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.desk().Page(r, p, "Equipment and limits", "Equipment")
	return edits.View{
		Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: content(newView(p, uses, later)),
		Value: func(path string) (string, string) { return value(p, path) },
	}, err
}

func newView(p *domain.Project, uses edits.Uses, later bool) view {
	env := domain.Env{Project: p}
	v := view{
		Path: ui.Book(p.ID), Count: edits.Count(len(p.Book), "type"), Models: models(p),
		Choices: ui.FieldChoices(env, domain.EquipmentFields, "eq"), Limits: limitsGrid(p), Later: later,
	}
	for _, k := range equipment.Kinds() {
		if types := ofKind(p.Book, k); len(types) > 0 {
			v.Kinds = append(v.Kinds, newKindView(env, k, types, uses))
		}
	}
	v.Kinds = append(v.Kinds, physicsViews(env, p.Book)...)
	return v
}

func ofKind(b equipment.Book, k equipment.Kind) []*equipment.Type {
	var out []*equipment.Type
	for i := range b {
		if b[i].Kind == k {
			out = append(out, &b[i])
		}
	}
	return out
}

func newKindView(env domain.Env, k equipment.Kind, types []*equipment.Type, uses edits.Uses) kindView {
	fields := fieldsOf(env, k, types)
	grid := ui.Grid{ID: "book-" + string(k), Columns: columnsOf(fields)}
	grid.Columns = append(grid.Columns, ui.Column{Title: "Used", Hint: "in rooms, as they are with their typicals"})
	for _, t := range types {
		grid.Rows = append(grid.Rows, typeRow(env, fields, t, uses))
	}
	return kindView{ID: "kind-" + string(k), Title: k.Traits().Name, Count: edits.Count(len(types), "type"), Grid: grid}
}

func typeRow(env domain.Env, fields []domain.Field[equipment.Type], t *equipment.Type, uses edits.Uses) ui.GridRow {
	id := "book/" + t.ID
	path := ui.Book(env.Project.ID)
	return ui.GridRow{ID: id, Cells: append(cellsOf(env, fields, t), uses.Cell(t.ID)), Actions: []ui.RowAction{
		{Name: "Copy", Title: "Copy type " + t.Name, Path: path + "/duplicate"},
		{Name: "Remove", Title: "Remove type " + t.Name, Path: path + "/remove"},
	}}
}

// models lists what a new type may start from: the book's own types, then the
// built-in ones that the book does not have.
func models(p *domain.Project) []modelGroup {
	var out []modelGroup
	own := modelGroup{Title: "This project's types"}
	for i := range p.Book {
		own.Models = append(own.Models, domain.Choice{Value: p.Book[i].ID, Label: p.Book[i].Name})
	}
	built := modelGroup{Title: "Built-in types not in the book"}
	for _, t := range equipment.Generic() {
		if p.Book.Find(t.ID) == nil {
			built.Models = append(built.Models, domain.Choice{Value: t.ID, Label: t.Name})
		}
	}
	for _, g := range []modelGroup{own, built} {
		if len(g.Models) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// limitsGrid lists all limits in the order of the built-in ones.
func limitsGrid(p *domain.Project) ui.Grid {
	env, path := domain.Env{Project: p}, ui.Book(p.ID)
	grid := ui.Grid{ID: "limits-grid", Columns: []ui.Column{{Title: "Limit"}, {Title: "Value", Number: true}, {Title: "Generic value", Number: true}, {Title: "Source", Wide: true}}}
	for _, g := range domain.GenericLimits() {
		l := p.Limits.Find(g.ID)
		id := "limits/" + string(g.ID)
		cells := ui.FieldCells(env, domain.LimitFields, id, &l)
		row := ui.GridRow{ID: id, Group: domain.LimitGroup(g.ID), Cells: []ui.Cell{{Text: g.Title}, cells[0], {Text: domain.LimitFields[0].Show(env, &g), Class: "num"}, cells[1]}}
		row.Cells[1].Class = "num"
		if l.Value != g.Value || l.Source != g.Source {
			row.Cells[1].Class, row.Cells[1].Title = "num exception", "differs from the generic value"
			row.Actions = []ui.RowAction{{Name: "Back to generic", Title: "Back to the generic value: " + g.Title, Path: path + "/generic"}}
		}
		grid.Rows = append(grid.Rows, row)
	}
	return grid
}

func genericLimit(id domain.LimitID) (domain.Limit, bool) {
	for _, l := range domain.GenericLimits() {
		if l.ID == id {
			return l, true
		}
	}
	return domain.Limit{}, false
}
