package ui

import (
	"slices"
	"strings"
)

// Plain is a grid as forms for browsers without script, where no cell opens and no
// button of a row acts.
type Plain struct {
	Grid Grid
	Set  string // where a cell is posted as "path" and "text"
	Base string // revisions that the edit is based on
}

// plainCell is an entry of a list: what is posted, and its text.
type plainCell struct{ Path, Text string }

func (p Plain) cells() (out []plainCell) {
	for i := range p.Grid.Rows {
		row := &p.Grid.Rows[i]
		for j, c := range row.Cells {
			if c.Path == "" || j >= len(p.Grid.Columns) {
				continue
			}
			now := short(c.Text)
			if now == "" {
				now = "not stated"
			}
			out = append(out, plainCell{c.Path, row.Cells[0].Text + ", " + strings.ToLower(p.Grid.Columns[j].Title) + ": " + now})
		}
	}
	return out
}

// plainAction is what the rows of a grid have in common to be done with one of them.
type plainAction struct {
	Name, Path string
	Rows       []plainCell
}

func (p Plain) actions() (out []plainAction) {
	for i := range p.Grid.Rows {
		row := &p.Grid.Rows[i]
		for _, a := range row.Actions {
			at := slices.IndexFunc(out, func(o plainAction) bool { return o.Path == a.Path })
			if at < 0 {
				at, out = len(out), append(out, plainAction{Name: a.Name, Path: a.Path})
			}
			out[at].Rows = append(out[at].Rows, plainCell{row.ID, a.Title})
		}
	}
	return out
}

func (p Plain) id(part string) string { return p.Grid.ID + "-plain-" + DOMID(part) }

// short keeps an entry of a list readable: sources are sentences.
func short(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return strings.TrimSpace(string(r[:most-3])) + "..."
	}
	return text
}
