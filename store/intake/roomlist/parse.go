package roomlist

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/columns"
	"scopewright/store/intake/table"
)

type parser struct {
	*columns.Layout
	list  *List
	units units.System
	uses  *guesser

	combined bool   // the number's column holds the name too
	floats   bool   // numbers were saved as 101.0
	fillDown bool   // the storey is written once, above the rooms that have it
	groups   int    // group rows passed so far
	building string // named by them
	storey   string
}

// look learns how the columns of numbers and storeys are written.
func (p *parser) look() {
	split, floats, numbers := 0, 0, 0
	storeys, blanks, repeats := map[string]bool{}, 0, false
	for i, row := range p.Rows {
		if number := strings.TrimSpace(p.Text(row, fNumber)); number != "" {
			numbers++
			if !p.Has(fName) {
				if _, _, ok := SplitLabel(number); ok {
					split++
				}
			}
			if whole, ok := strings.CutSuffix(number, ".0"); ok && strings.Trim(whole, "0123456789") == "" {
				floats++
			}
		}
		switch storey := columns.Plain(p.Text(row, fStorey)); {
		case storey == "" && i == 0:
			repeats = true // nothing above it to take
		case storey == "":
			blanks++
		default:
			repeats = repeats || storeys[storey]
			storeys[storey] = true
		}
	}
	p.combined = split*2 > numbers
	p.floats = numbers > 0 && floats == numbers
	p.fillDown = p.Has(fStorey) && blanks > 0 && !repeats && len(p.Layout.Headings) == 0
	header := p.Header(fNumber)
	if p.combined {
		p.note("Column %q holds number and name together; they were taken apart.", header)
	}
	if p.floats {
		p.note("Column %q holds room numbers as decimals (101.0); they were read as 101.", header)
	}
	if p.fillDown {
		p.note("Column %q names each storey once; the blank cells below it were read as the same storey.", p.Header(fStorey))
	}
}

func (p *parser) note(format string, args ...any) {
	p.Notes = append(p.Notes, fmt.Sprintf(format, args...))
}

// readLines reads rows and group rows in the order of the file.
func (p *parser) readLines() {
	p.list.Rooms = make([]Line, 0, len(p.Rows))
	groups, ignored := p.Layout.Headings, 0
	seen := map[string]int{} // building and number -> line
	for _, row := range p.Rows {
		for len(groups) > 0 && groups[0].Line < row.Line {
			ignored += p.enter(groups[0], ignored)
			groups = groups[1:]
		}
		p.readLine(row, seen)
	}
	for _, g := range groups {
		ignored += p.enter(g, ignored)
	}
	if p.groups > 12 {
		p.note("%d more lines name a building or storey for the rooms below them.", p.groups-12)
	}
	if ignored > 5 {
		p.note("%d more lines hold text alone and were left out.", ignored-5)
	}
}

// enter takes a group row as the building or storey of the rows below it, and
// gives 1 for text that is neither.
func (p *parser) enter(g columns.Heading, ignored int) int {
	building, storey, ok := place(g.Text)
	if !ok {
		if ignored < 5 {
			p.note("Line %d holds only %q; it names no storey and was left out.", g.Line, columns.Short(g.Text))
		}
		return 1
	}
	if building != "" {
		p.building, p.storey = building, ""
	}
	if storey != "" {
		p.storey = storey
	}
	if p.groups++; p.groups <= 12 {
		p.note("Line %d: the rooms below it are taken to be in %s.", g.Line, columns.Short(g.Text))
	}
	return 0
}

// readLine reads one row into the list's rooms, or into its refused lines.
func (p *parser) readLine(row table.Row, seen map[string]int) {
	line := Line{Line: row.Line}
	start := len(p.list.Problems)
	p.readWords(row, &line)
	p.readUse(row, &line)
	p.readNumbers(row, &line)
	if line.Number != "" {
		key := columns.Plain(line.Building) + "\x00" + numberKey(line.Number)
		if first, twice := seen[key]; twice {
			where := ""
			if line.Building != "" {
				where = " in " + line.Building
			}
			p.problem(p.Problem(row, fNumber, true, "room number %s stands on line %d and on line %d%s: give one of them another number; if numbers repeat on each storey, put the storey before them. Line %d was left out", line.Number, first, row.Line, where, row.Line))
		} else {
			seen[key] = row.Line
		}
	}
	var fatal []string
	for _, problem := range p.list.Problems[start:] {
		if problem.Fatal {
			fatal = append(fatal, problem.Message)
		}
	}
	if len(fatal) > 0 {
		p.list.Refused = append(p.list.Refused, Refusal{row.Line, line.Number, line.Name, line.Building, strings.Join(fatal, "; ")})
		return
	}
	p.list.Rooms = append(p.list.Rooms, line)
}

func (p *parser) problem(problem *columns.Problem) {
	if problem != nil {
		p.list.Problems = append(p.list.Problems, *problem)
	}
}

// text reads a cell of words. What is too long is cut, and says so.
func (p *parser) text(row table.Row, field string, most int) string {
	raw := p.Text(row, field)
	if columns.Blank(raw) {
		return ""
	}
	if columns.ErrorCell(raw) {
		p.problem(p.Problem(row, field, field == fNumber, "the spreadsheet could not work out the cell (%s): mend the formula there", strings.TrimSpace(raw)))
		return ""
	}
	clean := domain.CleanLine
	if field == fNotes {
		clean = domain.CleanText
	}
	if n := utf8.RuneCountInString(raw); n > most {
		if field == fNumber {
			p.problem(p.Problem(row, field, true, "the number has %d letters; at most %d fit: shorten it", n, most))
			return ""
		}
		p.problem(p.Problem(row, field, false, "the text has %d letters; at most %d fit: it was cut, so shorten it or look at what is left", n, most))
		raw = string([]rune(raw)[:most])
	}
	out, err := clean(raw, most)
	if err != nil {
		p.problem(p.Problem(row, field, true, "%s", err))
		return ""
	}
	return out
}

func (p *parser) readWords(row table.Row, line *Line) {
	line.Number = p.text(row, fNumber, domain.MaxName)
	line.Name = p.text(row, fName, domain.MaxName)
	if p.floats {
		line.Number = strings.TrimSuffix(line.Number, ".0")
	}
	if p.combined {
		if number, name, ok := SplitLabel(line.Number); ok {
			line.Number, line.Name = number, name
		}
	}
	if columns.Blank(p.Text(row, fNumber)) {
		p.problem(p.Problem(row, fNumber, true, "the room has no number: give it one; the line was left out"))
	}
	line.Building, line.Storey = p.text(row, fBuilding, domain.MaxName), p.text(row, fStorey, domain.MaxName)
	if line.Building == "" {
		line.Building = p.building
	}
	if p.fillDown && line.Storey != "" {
		p.storey = line.Storey
	}
	if line.Storey == "" {
		line.Storey = p.storey
	}
	line.Typical, line.Notes = p.text(row, fTypical, domain.MaxName), p.text(row, fNotes, domain.MaxText)
	for _, w := range []struct {
		text string
		fact Given
	}{{line.Name, GivenName}, {line.Building, GivenBuilding}, {line.Storey, GivenStorey}, {line.Typical, GivenTypical}, {line.Notes, GivenNotes}} {
		if w.text != "" {
			line.Given |= w.fact
		}
	}
}

func (p *parser) readUse(row table.Row, line *Line) {
	if text := p.text(row, fUse, domain.MaxText); text != "" {
		use, exact := p.uses.of(text)
		if use != "" {
			line.Use, line.Guessed, line.Given = use, !exact, line.Given|GivenUse
			return
		}
		p.problem(p.Problem(row, fUse, false, "the use %q is not known: choose one for the room, for example %s", columns.Short(text), "Private office, Classroom or Other"))
	}
	line.Use, _ = p.uses.of(line.Name)
	line.Guessed = line.Use != ""
}
