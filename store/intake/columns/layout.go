package columns

import (
	"fmt"
	"strings"

	"scopewright/store/intake/table"
)

// Find lays a table out. The heading function tells a group's name, such as a
// storey, from other text that stands alone; nil where groups have no meaning.
func Find(t *table.Table, fields []Field, heading func(string) bool) (*Layout, error) {
	words := newLexicon(fields)
	head, ok := words.findHeader(t.Rows)
	if !ok {
		return nil, fmt.Errorf("no row with column headings was found in the first %d rows: put headings above the table, for example %s", headerSearch, examples(fields))
	}
	l := &Layout{HeaderLine: t.Rows[head.first].Line, fields: fields, at: map[string]int{}, styles: map[string]style{}, byName: map[string]*Field{}}
	for i := range fields {
		l.byName[fields[i].Name] = &fields[i]
	}
	l.Notes = append(l.Notes, t.Notes...)
	if head.first > 0 {
		l.note("Headings were found on line %d; what stands above them was left out.", l.HeaderLine)
	}
	body := t.Rows[head.last+1:]
	l.match(words, head.texts, body)
	body = l.takeUnitsRow(body)
	l.sortRows(body, head.texts, heading)
	if len(l.Rows) > t.MaxRows {
		return nil, table.TooManyRows(len(l.Rows), t.MaxRows)
	}
	l.findStyles(t)
	return l, nil
}

func examples(fields []Field) string {
	var out []string
	for _, f := range fields[:min(len(fields), 3)] {
		out = append(out, fmt.Sprintf("%q", f.Title))
	}
	return strings.Join(out, ", ")
}

// contentSample is how many rows are looked at to tell heights from materials.
const contentSample = 400

func (l *Layout) match(words *lexicon, headers []string, body []table.Row) {
	var all []claim
	unfit := map[int]string{}
	for i, h := range headers {
		for _, c := range words.claims(i, h) {
			if why := misfit(l.fields[c.field].Content, body, i); why != "" {
				unfit[i] = why
				continue
			}
			all = append(all, c)
		}
	}
	taken := assign(all, len(l.fields))
	for i, h := range headers {
		h = strings.Join(strings.Fields(h), " ")
		if h == "" {
			continue
		}
		m := Match{Index: i, Header: h}
		c, ok := taken[i]
		switch {
		case ok:
			f := l.fields[c.field]
			m.Field, m.Title, m.Unit, m.Note = f.Name, f.Title, c.unit, f.Skip
			if f.Skip != "" {
				m.Field = ""
			} else {
				l.at[f.Name] = len(l.Columns)
			}
		case unfit[i] != "":
			m.Note = unfit[i]
		default:
			m.Note = whyIgnored(words, i, taken, headers)
		}
		l.Columns = append(l.Columns, m)
	}
	l.look(len(headers))
}

// look notes by index which columns hold numbers and which the key: the rows
// are asked for them cell by cell.
func (l *Layout) look(width int) {
	l.numeric, l.key = make([]bool, width), -1
	for _, m := range l.Columns {
		if f := l.byName[m.Field]; f != nil {
			l.numeric[m.Index] = f.Measure != nil
			if f.Key {
				l.key = m.Index
			}
		}
	}
}

func whyIgnored(words *lexicon, column int, taken map[int]claim, headers []string) string {
	for _, c := range words.claims(column, headers[column]) {
		for other, o := range taken {
			if o.field == c.field {
				return fmt.Sprintf("not taken: %s is read from column %q", strings.ToLower(words.fields[c.field].Title), strings.Join(strings.Fields(headers[other]), " "))
			}
		}
	}
	return "not taken: the heading says nothing that is needed here"
}

func misfit(want Content, body []table.Row, column int) string {
	if want == Anything {
		return ""
	}
	seen, first := 0, ""
	for _, r := range body[:min(len(body), contentSample)] {
		cell := strings.TrimSpace(r.Cell(column))
		if Blank(cell) {
			continue
		}
		if want == Numbers && startsNumber(cell) || want == Words && !startsNumber(cell) {
			return ""
		}
		if seen++; first == "" {
			first = cell
		}
	}
	switch {
	case seen < 3: // too few to judge by
		return ""
	case want == Numbers:
		return fmt.Sprintf("not taken: none of its cells holds a number; the first is %q", Short(first))
	}
	return fmt.Sprintf("not taken: its cells hold numbers where words were expected; the first is %q", Short(first))
}

// takeUnitsRow reads a row of units below the headings and takes it away.
func (l *Layout) takeUnitsRow(body []table.Row) []table.Row {
	if len(body) == 0 {
		return body
	}
	found := map[int]string{}
	byIndex := map[int]int{}
	for i, m := range l.Columns {
		byIndex[m.Index] = i
	}
	for i, cell := range body[0].Cells {
		if Blank(cell) {
			continue
		}
		unit := Plain(strings.Trim(cell, " ()[]"))
		if unit == "" {
			unit = mark(strings.Trim(cell, " ()[]"))
		}
		if unit == "unit" || unit == "units" || unit == "text" || unit == "yes no" || unit == "y n" {
			continue
		}
		at, ok := byIndex[i]
		if !ok || !anyUnit(unit) {
			return body
		}
		if l.Columns[at].Field != "" && knownUnit(l.byName[l.Columns[at].Field].Measure, unit) {
			found[at] = unit
		}
	}
	if len(found) == 0 {
		return body
	}
	for at, unit := range found {
		l.Columns[at].Unit = unit
	}
	l.note("Line %d was read as the units of the columns.", body[0].Line)
	return body[1:]
}

func anyUnit(unit string) bool {
	for _, m := range []Measure{Area, Length, Power, Apparent, Voltage, Current, Milliamps, Microsec, Percent, People} {
		if knownUnit(m, unit) {
			return true
		}
	}
	return false
}
