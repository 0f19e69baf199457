package code

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/web/ui"
)

// editor makes the grids of one worksheet.
type editor struct {
	p    *domain.Project
	w    *domain.CodeWorksheet
	pack *energycode.Pack // what it comes to
	base *energycode.Pack // what it starts from
	only bool             // changed rows alone
}

func (e *editor) env() domain.Env { return domain.Env{Project: e.p} }

// grid makes the grid of a part: of the duties all controls as a matrix, or one with all
// that is said of it.
func (e *editor) grid(part string, control *string) ui.Grid {
	switch {
	case part == partFigures:
		return e.figures()
	case part == partDensities:
		return e.rows("densities", "Kind of space", e.spaces(domain.DensityRow, ""))
	case *control == "":
		return e.matrix()
	}
	return e.rows("duties", "Kind of space", e.spaces(domain.DutyRow, domain.CodeControl(*control)))
}

// basisColumns are the last of each row: clause, mark, source and note.
const basisColumns = 4

// named is a row with how its heading calls it, and the heading above it.
type named struct {
	of          domain.CodeChange
	name, group string
}

// figures lists the figures by control: those that the code has, those that were taken
// out and those that checks read and the code leaves open.
func (e *editor) figures() ui.Grid {
	var list []named
	for _, c := range energycode.Controls() {
		names := energycode.FigureNames(c)
		for _, pack := range []*energycode.Pack{e.base, e.pack} {
			for i := range pack.Parameters {
				if q := &pack.Parameters[i]; q.Control == c && !slices.Contains(names, q.Name) {
					names = append(names, q.Name)
				}
			}
		}
		slices.Sort(names)
		for _, name := range names {
			list = append(list, named{domain.CodeChange{Kind: domain.FigureRow, Control: domain.CodeControl(c), Name: name}, domain.UpperFirst(energycode.FigureWords(name)), c.Title()})
		}
	}
	return e.rows("figures", "Figure", list)
}

func (e *editor) spaces(kind domain.CodeRow, control domain.CodeControl) []named {
	var list []named
	if kind == domain.DutyRow {
		list = append(list, named{domain.CodeChange{Kind: kind, Control: control, Space: domain.AnyCodeSpace}, "any kind of space without a row of its own", energycode.Control(control).Title()})
	}
	for _, s := range e.base.Spaces {
		list = append(list, named{domain.CodeChange{Kind: kind, Control: control, Space: s.ID}, s.Name, ""})
	}
	return list
}

// rows makes a grid of whole rows: what each says, on what it rests, and what the base has.
func (e *editor) rows(id, head string, list []named) ui.Grid {
	g := ui.Grid{ID: "sheet-" + id, Columns: []ui.Column{{Title: head}}, Empty: "No row of this part is changed."}
	kind := map[string]domain.CodeRow{"figures": domain.FigureRow, "duties": domain.DutyRow, "densities": domain.DensityRow}[id]
	fields := fieldsOf(kind)
	columns := ui.FieldColumns(fields, id)
	for i, f := range fields {
		columns[i].Number = f.Name == "value" || f.Name == "reduction_pct"
	}
	if kind == domain.FigureRow {
		columns = slices.Insert(columns, 2, ui.Column{Title: "Unit"})
	}
	columns = slices.Insert(columns, len(columns)-basisColumns, ui.Column{Title: "Changed from", Hint: "what the code that the worksheet starts from has"})
	g.Columns = append(g.Columns, columns...)
	group := ""
	for i := range list {
		row, shown := e.row(&list[i], fields)
		if !shown {
			continue
		}
		if list[i].group != "" && list[i].group != group {
			group, row.Group = list[i].group, list[i].group
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

func (e *editor) row(n *named, fields []domain.Field[domain.CodeChange]) (out ui.GridRow, shown bool) {
	row, own := rowNow(e.w, n.of)
	if e.only && !own {
		return out, false
	}
	base, inBase := e.base.RowOf(n.of)
	out.ID = rowPath(&n.of)
	cells := ui.FieldCells(e.env(), fields, out.ID, &row)
	for i := range cells {
		c := &cells[i]
		if fields[i].Name == "value" || fields[i].Name == "reduction_pct" {
			c.Class = "num"
		}
		if fields[i].Name == "source" { // built-in rows name it by a key
			c.Text = energycode.SourceWords(c.Text)
		}
		if !own && !inBase {
			c.Text = "" // a row that nobody wrote has no mark either
		} else if own && fields[i].Show(e.env(), &base) != c.Text {
			c.Class, c.Title = strings.TrimSpace(c.Class+" exception"), "changed from "+orNothing(fields[i].Show(e.env(), &base))
		}
	}
	if n.of.Kind == domain.FigureRow {
		cells = slices.Insert(cells, 2, ui.Cell{Text: row.Unit})
	}
	was := ""
	if own {
		was = "nothing"
		if inBase {
			was = base.Says()
		}
		out.Actions = append(out.Actions, ui.RowAction{Name: "Revert", Title: "Take the base's row again: " + n.of.Of(), Path: ui.CodeSheet(e.p.ID, e.w.ID) + "/revert"})
	}
	if stated := own || inBase; stated && row.Says() != "taken out" {
		out.Actions = append(out.Actions, ui.RowAction{Name: "Take out", Title: "Leave the code without this row: " + n.of.Of(), Path: ui.CodeSheet(e.p.ID, e.w.ID) + "/takeout"})
	} else if own {
		was = fmt.Sprintf("%s; taken out here", was)
	}
	cells = slices.Insert(cells, len(cells)-basisColumns, ui.Cell{Text: was})
	out.Cells = append([]ui.Cell{{Text: n.name}}, cells...)
	return out, true
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// matrix is the duties of all controls in all kinds of space.
func (e *editor) matrix() ui.Grid {
	g := ui.Grid{ID: "sheet-matrix", Columns: []ui.Column{{Title: "Kind of space"}}, Empty: "No duty is changed.", Fit: true}
	var controls []energycode.Control
	for _, c := range energycode.Controls() {
		if c == energycode.EgressShare {
			break
		}
		controls = append(controls, c)
		g.Columns = append(g.Columns, ui.Column{Title: c.Title(), Turned: true, Choices: "duties-duty"})
	}
	for _, s := range e.spaces(domain.DutyRow, "") {
		row, any := ui.GridRow{ID: "space/" + s.of.Space, Cells: []ui.Cell{{Text: s.name}}}, false
		if s.of.Space == domain.AnyCodeSpace {
			row.ID = "space/" + anySpace
		}
		for _, c := range controls {
			of := domain.CodeChange{Kind: domain.DutyRow, Control: domain.CodeControl(c), Space: s.of.Space}
			cell, own := e.dutyCell(&of)
			row.Cells, any = append(row.Cells, cell), any || own
		}
		if any || !e.only {
			g.Rows = append(g.Rows, row)
		}
	}
	return g
}

func (e *editor) dutyCell(of *domain.CodeChange) (ui.Cell, bool) {
	row, own := rowNow(e.w, *of)
	base, inBase := e.base.RowOf(*of)
	c := ui.Cell{Path: rowPath(of) + "/duty", Text: string(row.Duty), Class: "mark"}
	if row.Clause != "" {
		c.Title = row.Clause + ", " + string(row.Mark)
	}
	if own {
		c.Class = "mark exception"
		c.Title = "changed from nothing. " + c.Title
		if inBase {
			c.Title = "changed from " + base.Says() + ". " + strings.TrimPrefix(c.Title, "changed from nothing. ")
		}
	}
	return c, own
}

// form is one whole row of a part to be written at once.
func (e *editor) form(part, control string) rowForm {
	var out rowForm
	var list []named
	switch {
	case part == partFigures:
		for _, c := range energycode.Controls() {
			for _, name := range energycode.FigureNames(c) {
				list = append(list, named{domain.CodeChange{Kind: domain.FigureRow, Control: domain.CodeControl(c), Name: name}, c.Title() + ": " + energycode.FigureWords(name), ""})
			}
		}
	case part == partDensities:
		list = e.spaces(domain.DensityRow, "")
	case control != "":
		list = e.spaces(domain.DutyRow, domain.CodeControl(control))
	}
	for i := range list {
		out.Rows = append(out.Rows, domain.Choice{Value: rowPath(&list[i].of), Label: list[i].name})
	}
	for _, f := range fieldsOf(kindsOfParts[part]) {
		one := headField{ID: "row-" + f.Name, Path: f.Name, Title: f.Title, Hint: f.Hint}
		if f.Choices != nil {
			one.Choices = f.Choices(e.env(), &domain.CodeChange{})
		}
		out.Fields = append(out.Fields, one)
	}
	return out
}
