// Package luminaires reads a luminaire schedule as its sender wrote it and
// plans, line by line, what it would do to a project's schedule. It stores
// nothing. It stands in store/intake, upon the packages table and columns.
package luminaires

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/columns"
	"scopewright/store/intake/table"
)

// Line is one luminaire type as its line states it. What the line leaves blank
// is the zero value, and is not in Given.
type Line struct {
	Line        int
	Tag         string
	Description string
	Watts       units.Watts
	Volts       units.Volts
	PowerFactor float64
	Drivers     int
	Driver      domain.DriverKind
	ControlMA   units.Milliamps
	InrushPeak  units.Amps
	InrushUs    float64
	DimsTo      units.Level
	DimToOff    bool
	Source      string
	Given       Given
	Remarks     []string // how values of the line were arrived at
}

// Given tells which ratings a line states.
type Given uint16

// The ratings that a line may state.
const (
	GivenDescription Given = 1 << iota
	GivenWatts
	GivenVolts
	GivenPowerFactor
	GivenDrivers
	GivenDriver
	GivenControlMA
	GivenInrushPeak
	GivenInrushUs
	GivenDimsTo
	GivenDimToOff
	GivenSource
)

// Has tells whether the line states the rating.
func (g Given) Has(rating Given) bool { return g&rating != 0 }

// Refusal is a line that cannot be taken, with the reason.
type Refusal struct {
	Line int
	Tag  string
	Why  string
}

// List is a luminaire schedule as it was understood.
type List struct {
	Types      []Line
	Refused    []Refusal
	Problems   []columns.Problem // of refused lines, and of values left out
	Columns    []columns.Match   // what was understood of each column, and what was not taken
	HeaderLine int
	Notes      []string // what was assumed
}

// Read reads a luminaire schedule from the bytes of a CSV or XLSX file.
func Read(name string, data []byte, how table.Options) (*List, error) {
	t, err := table.Read(name, data, how)
	if err != nil {
		return nil, err
	}
	return Parse(t)
}

// Parse reads a luminaire schedule from a table. An error means that the table
// as a whole is none; what is wrong with single lines is in the list.
func Parse(t *table.Table) (*List, error) {
	l, err := columns.Find(t, fields, nil)
	if err != nil {
		return nil, err
	}
	if !l.Has(fTag) {
		return nil, fmt.Errorf("no column of luminaire types was found among the headings on line %d: name it \"Type\"", l.HeaderLine)
	}
	p := &parser{Layout: l, list: &List{Columns: l.Columns, HeaderLine: l.HeaderLine}}
	seen := map[string]int{}
	for _, row := range l.Rows {
		p.readLine(row, seen)
	}
	p.list.Notes = l.Notes
	for i, g := range l.Headings {
		if i == 5 {
			p.list.Notes = append(p.list.Notes, fmt.Sprintf("%d more lines hold text alone and were left out.", len(l.Headings)-i))
			break
		}
		p.list.Notes = append(p.list.Notes, fmt.Sprintf("Line %d holds only %q and was left out.", g.Line, columns.Short(g.Text)))
	}
	if len(p.list.Types) == 0 && len(p.list.Refused) == 0 {
		return nil, fmt.Errorf("there are no luminaires below the headings on line %d", l.HeaderLine)
	}
	return p.list, nil
}

type parser struct {
	*columns.Layout
	list *List
}

func (p *parser) readLine(row table.Row, seen map[string]int) {
	line, start := Line{Line: row.Line}, len(p.list.Problems)
	p.readWords(row, &line)
	p.readPower(row, &line)
	p.readVolts(row, &line)
	p.readDriver(row, &line)
	p.readDimming(row, &line)
	p.readInrush(row, &line)
	if line.Tag != "" {
		if first, twice := seen[tagKey(line.Tag)]; twice {
			p.problem(row, fTag, true, "type %s stands on line %d and on line %d: give one of them another tag. Line %d was left out", line.Tag, first, row.Line, row.Line)
		} else {
			seen[tagKey(line.Tag)] = row.Line
		}
	}
	var fatal []string
	for _, problem := range p.list.Problems[start:] {
		if problem.Fatal {
			fatal = append(fatal, problem.Message)
		}
	}
	if len(fatal) > 0 {
		p.list.Refused = append(p.list.Refused, Refusal{row.Line, line.Tag, strings.Join(fatal, "; ")})
		return
	}
	p.list.Types = append(p.list.Types, line)
}

// tagKey gives a type tag for comparing: case and spaces do not matter.
func tagKey(tag string) string {
	return strings.ToLower(strings.Join(strings.Fields(tag), ""))
}

func (p *parser) problem(row table.Row, field string, fatal bool, format string, args ...any) {
	p.list.Problems = append(p.list.Problems, *p.Layout.Problem(row, field, fatal, format, args...))
}

// text reads a cell of words. What is too long is cut, and says so.
func (p *parser) text(row table.Row, field string, most int) string {
	raw := p.Text(row, field)
	if columns.Blank(raw) {
		return ""
	}
	if columns.ErrorCell(raw) {
		p.problem(row, field, field == fTag, "the spreadsheet could not work out the cell (%s): mend the formula there", strings.TrimSpace(raw))
		return ""
	}
	if letters := []rune(raw); len(letters) > most {
		if field == fTag {
			p.problem(row, field, true, "the tag has %d letters; at most %d fit: shorten it", len(letters), most)
			return ""
		}
		p.problem(row, field, false, "the text has %d letters; at most %d fit: it was cut, so shorten it or look at what is left", len(letters), most)
		raw = string(letters[:most])
	}
	out, err := domain.CleanLine(raw, most)
	if err != nil {
		p.problem(row, field, true, "%s", err)
		return ""
	}
	return out
}

// mostDescription is that of domain.LuminaireFields.
const mostDescription = 240

func (p *parser) readWords(row table.Row, line *Line) {
	line.Tag = p.text(row, fTag, domain.MaxName)
	if columns.Blank(p.Text(row, fTag)) {
		p.problem(row, fTag, true, "the luminaire has no type tag: give it one, or join the line to the one above if it continues it; the line was left out")
	}
	line.Description, line.Source = p.text(row, fDescription, mostDescription), p.text(row, fSource, domain.MaxName)
	if line.Description != "" {
		line.Given |= GivenDescription
	}
	if line.Source != "" {
		line.Given |= GivenSource
	}
}

// number reads a number between 0 and most; outside it the line is refused.
func (p *parser) number(row table.Row, field, fallback, unit string, most float64) (v float64, ok bool) {
	v, ok, problem := p.Quantity(row, field, fallback)
	if problem != nil {
		p.list.Problems = append(p.list.Problems, *problem)
		return 0, false
	}
	return v, ok && p.within(row, field, v, unit, most)
}

func (p *parser) within(row table.Row, field string, v float64, unit string, most float64) bool {
	if v >= 0 && v <= most {
		return true
	}
	p.problem(row, field, true, "%s is outside 0 to %s: look at the number and at its unit", columns.Short(p.Text(row, field)), strings.TrimSpace(table.Count(int(most))+" "+unit))
	return false
}
