package ui

import (
	"strings"

	"scopewright/domain"
)

// Grid is a table that is edited in place like a spreadsheet: one row a thing,
// one column a field. Cells know the path that an edit names.
type Grid struct {
	ID      string // of the table; unique on the page
	Caption string
	Columns []Column
	Rows    []GridRow
	Foot    []GridRow
	Empty   string // what to say where there are no rows
	Fit     bool   // no wider than its content
}

// Column is one field of a grid.
type Column struct {
	Title   string
	Hint    string
	Choices string // ID of the datalist with its values; "" for free text
	Number  bool
	Wide    bool
	Turned  bool // title set upright, for narrow columns
}

// GridRow is one thing. Its first cell is its heading.
type GridRow struct {
	ID      string // "devices/d7": where findings point to
	Cells   []Cell
	Actions []RowAction
	Group   string // a heading row of its own above this row
}

// Cell is one field of one thing.
type Cell struct {
	Path  string // what an edit names; "" for a cell that is only read
	Text  string
	Class string // "exception", "mark", ...
	Title string // said on pointing
}

// RowAction is a button at the end of a row: it posts Name and the row's ID.
type RowAction struct{ Name, Title, Path string }

// FieldColumns gives the columns of a list of fields. Datalists are named
// prefix-field; see FieldChoices.
func FieldColumns[T any](fields []domain.Field[T], prefix string) []Column {
	out := make([]Column, len(fields))
	for i, f := range fields {
		out[i] = Column{Title: f.Title, Hint: f.Hint, Wide: f.Wide}
		if f.Choices != nil {
			out[i].Choices = prefix + "-" + f.Name
		}
	}
	return out
}

// FieldCells gives the cells of one thing: path is "devices/d7".
func FieldCells[T any](env domain.Env, fields []domain.Field[T], path string, x *T) []Cell {
	out := make([]Cell, len(fields))
	for i := range fields {
		out[i] = Cell{Path: path + "/" + fields[i].Name, Text: fields[i].Show(env, x)}
	}
	return out
}

// ChoiceList is the values that a column's cells may take.
type ChoiceList struct {
	ID      string
	Choices []domain.Choice
}

// FieldChoices gives the lists that the columns of FieldColumns name.
func FieldChoices[T any](env domain.Env, fields []domain.Field[T], prefix string) []ChoiceList {
	var out []ChoiceList
	var zero T
	for _, f := range fields {
		if f.Choices != nil {
			out = append(out, ChoiceList{prefix + "-" + f.Name, f.Choices(env, &zero)})
		}
	}
	return out
}

// DOMID gives the id attribute of what a path names: "devices/d7" becomes
// "devices_d7".
func DOMID(path string) string { return idSigns.Replace(path) }

// idSigns are replaced in ids: a slash for the sake of selectors, blanks because
// no id may hold one.
var idSigns = strings.NewReplacer("/", "_", " ", "_", "\t", "_", "\n", "_")
