// Package roomlist reads a building's room list as its sender wrote it and
// plans, line by line, what it would do to a project. It stores nothing: the
// plan holds the rooms as they will be, and someone else applies it. It stands
// in store/intake, upon the packages table and columns.
package roomlist

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/columns"
	"scopewright/store/intake/table"
)

// Options say what the file leaves open.
type Options struct {
	Units units.System // of numbers without any unit: those of the project
}

// Line is one room as its line states it. What the line leaves blank is the
// zero value, and is not in Given.
type Line struct {
	Line     int
	Number   string
	Name     string
	Building string // from its column or from a group row above
	Storey   string // likewise
	Use      domain.Use
	Guessed  bool // the use comes from words of the name or of the use's column
	Area     units.SquareMetres
	Ceiling  units.Metres
	Windows  *bool
	Seats    *int
	Typical  string
	Notes    string
	Given    Given
}

// Given tells which facts a line states.
type Given uint16

// The facts that a line may state. A use that was guessed from the name alone
// is not given.
const (
	GivenName Given = 1 << iota
	GivenBuilding
	GivenStorey
	GivenUse
	GivenArea
	GivenCeiling
	GivenWindows
	GivenSeats
	GivenTypical
	GivenNotes
)

// Has tells whether the line states the fact.
func (g Given) Has(fact Given) bool { return g&fact != 0 }

// Refusal is a line that cannot be taken, with the reason.
type Refusal struct {
	Line                   int
	Number, Name, Building string
	Why                    string
}

// List is a room list as it was understood.
type List struct {
	Rooms      []Line
	Refused    []Refusal
	Problems   []columns.Problem // of refused lines and of values left out
	Columns    []columns.Match   // what was understood of each column, and what was not taken
	HeaderLine int
	Notes      []string // what was assumed
}

// Read reads a room list from the bytes of a CSV or XLSX file.
func Read(name string, data []byte, how table.Options, opt Options) (*List, error) {
	t, err := table.Read(name, data, how)
	if err != nil {
		return nil, err
	}
	return Parse(t, opt)
}

// Parse reads a room list from a table. An error means that the table as a
// whole is no room list; what is wrong with single lines is in the list.
func Parse(t *table.Table, opt Options) (*List, error) {
	l, err := columns.Find(t, fields, func(text string) bool { _, _, ok := place(text); return ok })
	if err != nil {
		return nil, err
	}
	if !l.Has(fNumber) {
		return nil, fmt.Errorf("no column of room numbers was found among the headings on line %d (%s): name it \"Room number\"", l.HeaderLine, headings(l))
	}
	p := &parser{Layout: l, units: opt.Units, uses: newGuesser()}
	p.list = &List{Columns: l.Columns, HeaderLine: l.HeaderLine}
	p.look()
	p.nameUnits()
	p.readLines()
	p.list.Notes = l.Notes
	if len(p.list.Rooms) == 0 && len(p.list.Refused) == 0 {
		return nil, fmt.Errorf("there are no rooms below the headings on line %d", l.HeaderLine)
	}
	return p.list, nil
}

// nameUnits says in which unit bare numbers are read where the heading is silent.
func (p *parser) nameUnits() {
	area, length := p.bareUnits()
	for i := range p.list.Columns {
		c := &p.list.Columns[i]
		unit := map[string]string{fArea: area, fCeiling: length}[c.Field]
		if unit != "" && c.Unit == "" {
			c.Note = "the heading names no unit: bare numbers are read as " + unit + ", the project's unit"
		}
	}
}

// bareUnits are those of numbers without any unit.
func (p *parser) bareUnits() (area, length string) {
	if p.units == units.US {
		return "sq ft", "ft"
	}
	return "m2", "m"
}

func headings(l *columns.Layout) string {
	var out []string
	for i, c := range l.Columns {
		if i == 8 {
			out = append(out, "...")
			break
		}
		out = append(out, columns.Short(c.Header))
	}
	return strings.Join(out, ", ")
}
