// Package columns finds out what the columns of a foreign table say: which row
// holds the headings, which heading means which field in which unit, how the
// numbers are written, and which rows are data rather than titles, totals or
// group names. It is the second step of store/intake; package table is the
// first. It knows fields only by what its callers tell it.
package columns

import (
	"fmt"

	"scopewright/store/intake/table"
)

// Field is one thing that a list may say of its subject.
type Field struct {
	Name  string
	Title string // as people read it
	// Spellings are headings that mean the field, as Plain prints them, the
	// surest first. Where two columns claim a field, the surer spelling wins.
	Spellings []string
	Weak      []string // headings that may mean the field where nothing surer does
	Measure   Measure  // units that its numbers may have; nil: text
	Content   Content  // what its cells must look like
	Key       bool     // names the subject: room number, type mark
	Skip      string   // why the column is understood and yet not taken
}

// Content is what the cells of a column must look like for it to mean a field:
// a ceiling column may hold heights or materials.
type Content int

// The kinds of content.
const (
	Anything Content = iota
	Numbers          // at least one cell holds a digit
	Words            // at least one cell holds more than a number
)

// Match says how a column was understood. Field is empty for one that was not
// taken; Note then says why.
type Match struct {
	Index  int    // of the column, from 0
	Header string // as the file has it
	Field  string
	Title  string // of the field, as people read it
	Unit   string // stated in the heading or in a row of units
	Note   string
}

// Problem is something that the sender should look at. Column is the heading
// as the file has it, empty where the whole line is meant. A fatal one keeps
// its line out.
type Problem struct {
	Line    int
	Column  string
	Message string
	Fatal   bool
}

// String prints the problem as one sentence: what, where, how to mend.
func (p Problem) String() string {
	where := ""
	if p.Line > 0 {
		where = fmt.Sprintf("line %d", p.Line)
	}
	if p.Column != "" {
		if where != "" {
			where += ", "
		}
		where += fmt.Sprintf("column %q", p.Column)
	}
	if where == "" {
		return p.Message
	}
	return where + ": " + p.Message
}

// Heading is a row that stands alone between the data: the name of a group.
type Heading struct {
	Line int
	Text string
}

// Layout is a table whose columns are understood.
type Layout struct {
	HeaderLine int
	Columns    []Match
	Rows       []table.Row // data alone
	Headings   []Heading   // in the order of their lines
	Notes      []string

	fields  []Field
	numeric []bool           // by index of the column in the file
	key     int              // index of the key's column, -1 where there is none
	at      map[string]int   // field -> index into Columns
	styles  map[string]style // field -> how its numbers are written
	byName  map[string]*Field
}

// Has tells whether a column for the field was found.
func (l *Layout) Has(field string) bool { _, ok := l.at[field]; return ok }

// Header gives the heading of a field's column as the file has it, or the
// field's own title where there is no such column.
func (l *Layout) Header(field string) string {
	if i, ok := l.at[field]; ok {
		return l.Columns[i].Header
	}
	if f := l.byName[field]; f != nil {
		return f.Title
	}
	return field
}

// Text gives the raw text of a field's cell.
func (l *Layout) Text(row table.Row, field string) string {
	i, ok := l.at[field]
	if !ok {
		return ""
	}
	return row.Cell(l.Columns[i].Index)
}

// Problem makes a problem with a field's cell.
func (l *Layout) Problem(row table.Row, field string, fatal bool, format string, args ...any) *Problem {
	return &Problem{Line: row.Line, Column: l.Header(field), Message: fmt.Sprintf(format, args...), Fatal: fatal}
}

func (l *Layout) note(format string, args ...any) {
	l.Notes = append(l.Notes, fmt.Sprintf(format, args...))
}
