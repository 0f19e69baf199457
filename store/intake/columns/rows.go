package columns

import (
	"regexp"
	"strings"

	"scopewright/store/intake/table"
)

// totalWord is how rows of sums begin.
var totalWord = regexp.MustCompile(`(?i)^(grand[ -]*totals?|sub[ -]*totals?|totals?|sums?|averages?|overall)\b`)

// sortRows tells data from headings that are repeated on each page, totals,
// and text that stands alone.
func (l *Layout) sortRows(body []table.Row, headers []string, heading func(string) bool) {
	repeated, sums := 0, []int{}
	l.Rows = make([]table.Row, 0, len(body))
	for _, row := range body {
		only, alone := l.alone(row)
		switch {
		case sameCells(row.Cells, headers):
			repeated++
		case l.total(row):
			sums = append(sums, row.Line)
		case alone && l.standsApart(row, only, heading):
			l.Headings = append(l.Headings, Heading{row.Line, strings.Join(strings.Fields(only), " ")})
		default:
			l.Rows = append(l.Rows, row)
		}
	}
	if repeated > 0 {
		l.note("The headings are repeated on %d lines; those were left out.", repeated)
	}
	for i, line := range sums {
		if i == 5 {
			l.note("%d more lines of totals were left out.", len(sums)-i)
			break
		}
		l.note("Line %d holds totals and was left out.", line)
	}
}

func sameCells(a, b []string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if strings.TrimSpace(a[i]) != strings.TrimSpace(b[i]) {
			return false
		}
	}
	return true
}

// measured tells whether a column of the file holds numbers with a unit.
func (l *Layout) measured(index int) bool { return index < len(l.numeric) && l.numeric[index] }

// total tells a row of sums: it begins with such a word and holds numbers
// besides, or it holds numbers alone and nothing that names a subject.
func (l *Layout) total(row table.Row) bool {
	if l.key < 0 {
		return false
	}
	first, onlyNumbers, onlyMeasured := "", true, true
	for i, cell := range row.Cells {
		cell = strings.TrimSpace(cell)
		switch {
		case cell == "":
		case first == "":
			first = cell
			onlyMeasured = l.measured(i) && startsNumber(cell)
		case cell == first:
		default:
			onlyNumbers = onlyNumbers && startsNumber(cell)
			onlyMeasured = onlyMeasured && l.measured(i) && startsNumber(cell)
		}
	}
	key := strings.TrimSpace(row.Cell(l.key))
	return totalWord.MatchString(first) && onlyNumbers && (key == "" || key == first) || key == "" && onlyMeasured
}

// alone gives the one text of a row that has nothing else but numbers in
// columns of numbers (sums of its group).
func (l *Layout) alone(row table.Row) (text string, ok bool) {
	for i, cell := range row.Cells {
		cell = strings.TrimSpace(cell)
		switch {
		case cell == "" || cell == text:
		case text == "" && !l.measured(i):
			text = cell
		case text == "" && !startsNumber(cell):
			text = cell
		case l.measured(i) && startsNumber(cell):
		default:
			return "", false
		}
	}
	return text, text != ""
}

// standsApart tells a group's name from a subject of which only the key is
// known: "LEVEL 2" and "Offices" from "101" and "A-12".
func (l *Layout) standsApart(row table.Row, text string, heading func(string) bool) bool {
	filled, words := 0, strings.Fields(text)
	for _, cell := range row.Cells {
		if strings.TrimSpace(cell) != "" {
			filled++
		}
	}
	if heading != nil && heading(text) && (filled == 1 || len(words) > 1) {
		return true // "Level 2" beside the sums of its group too, "B1" only by itself
	}
	if filled > 1 || len(l.at) < 2 {
		return false
	}
	key := l.key
	if key < 0 || strings.TrimSpace(row.Cell(key)) == "" {
		// Text outside the key column: a remark, unless it is a number.
		return hasLetter(text)
	}
	return hasLetter(text) && (len(words) > 1 && !hasDigit(words[0]) || !hasDigit(text) && len(text) > 3)
}
