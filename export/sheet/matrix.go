package sheet

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
)

// matrixRow is one line of who controls what: an input or an event, what it does to each
// load in the order of the design, and the statement that says so in words.
type matrixRow struct {
	tag   string // of a station or sensor: rows that do the same are merged
	name  string
	cells []Cell
	step  string
}

// matrixTable prints who controls what: buttons, sensors and contacts as linked, with what
// the intents make of them, then schedule, AV, demand response and power back.
func (r *room) matrixTable(caption string) Table {
	t := Table{Caption: caption, Empty: "No inputs act on the loads of this room yet.", Columns: []Column{{Title: "Input or event", Width: 2.6}}}
	for i := range r.Design.Loads {
		t.Columns = append(t.Columns, Column{Title: loadTitle(&r.Design.Loads[i], len(r.Design.Loads)), Align: Center, Width: 1})
	}
	t.Columns = append(t.Columns, Column{Title: "Statement", Align: Center, Width: 0.9})
	rows := r.matrixRows()
	for _, m := range rows {
		row := Row{Cells: append([]Cell{TextCell(m.name)}, m.cells...)}
		row.Cells = append(row.Cells, TextCell(m.step))
		t.Rows = append(t.Rows, row)
	}
	if len(r.Design.Loads) > 0 && len(rows) > 0 {
		t.Rows = append(t.Rows, r.pathRows()...)
	}
	return t
}

// mostNamed is how many columns leave room for names beside the tags.
const mostNamed = 8

// loadTitle heads a load's column: its tag and name, or in a wide table its tag alone; the
// load list has the names.
func loadTitle(l *domain.Load, columns int) string {
	if columns > mostNamed {
		return or(l.Tag, "no tag")
	}
	return or(strings.TrimSpace(l.Tag+" "+l.Name), "no tag")
}

func (r *room) matrixRows() []matrixRow {
	var out []matrixRow
	contacts := map[domain.ID]bool{}
	for _, row := range domain.MatrixRows(r.c.project, &r.Design, false) {
		d := r.Design.Device(row.Device)
		switch tr := row.Kind.Traits(); {
		case tr.Buttons:
			out = append(out, r.buttonRow(d, row))
		case tr.Presence:
			out = append(out, r.presenceRows(d, row)...)
		case tr.Daylight:
			out = append(out, r.daylightRow(d, row))
		case tr.Inputs:
			contacts[row.Device] = true
			out = append(out, r.contactRows(d, row)...)
		case row.Kind == equipment.AV:
			out = append(out, r.commandRows(d, row)...)
		}
	}
	return append(mergeAlike(out), r.eventRows()...)
}

// mergeAlike sets stations and sensors that do the same in one row, so that a room of many reads as
// easily as a room of one.
func mergeAlike(rows []matrixRow) []matrixRow {
	var out []matrixRow
	var tags [][]string
	at := map[string]int{}
	for _, m := range rows {
		if m.tag == "" {
			out, tags = append(out, m), append(tags, nil)
			continue
		}
		key := m.key()
		if i, known := at[key]; known {
			tags[i] = append(tags[i], m.tag)
			continue
		}
		at[key] = len(out)
		out, tags = append(out, m), append(tags, []string{m.tag})
	}
	for i := range out {
		if len(tags[i]) > 0 {
			out[i].name = shortTags(tags[i], ", ") + "  " + out[i].name
		}
	}
	return out
}

// key is the same for rows that print the same after their tags.
func (m matrixRow) key() string {
	var b strings.Builder
	b.WriteString(m.name)
	b.WriteByte(0)
	b.WriteString(m.step)
	for _, c := range m.cells {
		b.WriteByte(0)
		b.WriteString(c.Text)
		b.WriteString(string(c.Mark))
	}
	return b.String()
}

// cellsOf fills one row, load by load.
func (r *room) cellsOf(fill func(*domain.Load) Cell) []Cell {
	out := make([]Cell, len(r.Design.Loads))
	for i := range r.Design.Loads {
		out[i] = fill(&r.Design.Loads[i])
	}
	return out
}

// linkCell marks the cell where its link is an exception to the typical.
func (r *room) linkCell(in domain.Input, l *domain.Load, text string) Cell {
	c := TextCell(text)
	if len(r.departures()) > 0 && r.departures().touched("links", domain.LinkID(in.Device, in.Button, in.On, l.ID)) {
		c = c.Marked(Exception)
	}
	return c
}

func (r *room) buttonRow(d *domain.Device, row domain.MatrixRow) matrixRow {
	return matrixRow{tag: d.Tag, name: row.Label, step: r.stepOfInput(row.Input), cells: r.cellsOf(func(l *domain.Load) Cell {
		do, decided := r.actionOn(d, row.Input, l)
		return r.linkCell(row.Input, l, actionCode(do, decided))
	})}
}

// pathRows count the ways on and off at the foot of the matrix; a load without one is
// marked.
func (r *room) pathRows() []Row {
	on := Row{Total: true, Cells: []Cell{TextCell("Ways on")}}
	off := Row{Total: true, Cells: []Cell{TextCell("Ways off")}}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		ways := r.paths()[i]
		on.Cells = append(on.Cells, pathCell(ways[0], false))
		off.Cells = append(off.Cells, pathCell(ways[1], l.Egress))
	}
	on.Cells, off.Cells = append(on.Cells, TextCell(none)), append(off.Cells, TextCell(none))
	return []Row{on, off}
}

func pathCell(n int, mayBeNone bool) Cell {
	c := NumberCell(float64(n), 0)
	if n == 0 && !mayBeNone {
		return c.Marked(Error)
	}
	return c
}
