package columns

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"scopewright/store/intake/table"
)

// style is how the numbers of a column are written.
type style struct {
	comma bool // the decimal mark is a comma
	mixed bool // some cells use a comma, some a point
}

var (
	// numberHead is a number at the start of a cell, with what follows it.
	numberHead = regexp.MustCompile(`^([+\-−]?)(\d{1,3}(?: \d{3})+(?:[.,]\d+)?|\d[\d.,]*|[.,]\d+)\s*(.*)$`)
	aboutMark  = "~≈±"
)

func spaces(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r > 127 }) >= 0 {
		text = strings.Map(func(r rune) rune {
			switch r {
			case '\u00A0', '\u2009', '\u202F', '\u2007':
				return ' '
			case '−':
				return '-'
			}
			return r
		}, text)
	}
	return strings.TrimLeft(strings.TrimSpace(text), aboutMark+" ")
}

func startsNumber(cell string) bool {
	cell = strings.TrimLeft(spaces(cell), "+-.,")
	return cell != "" && cell[0] >= '0' && cell[0] <= '9'
}

// decimals tells what the digits say of the decimal mark: +1 a comma, -1 a
// point, 0 nothing; unsure where they can be read both ways, like "1,234".
func decimals(digits string) (mark int, unsure bool) {
	comma, point := strings.LastIndexByte(digits, ','), strings.LastIndexByte(digits, '.')
	switch {
	case comma >= 0 && point >= 0:
		if comma > point {
			return 1, false
		}
		return -1, false
	case comma < 0 && point < 0:
		return 0, false
	}
	at, sign := comma, 1
	if comma < 0 {
		at, sign = point, -1
	}
	if strings.Count(digits, digits[at:at+1]) > 1 {
		return -sign, false // groups of thousands, so the other mark is the decimal one
	}
	if len(digits)-at-1 == 3 && at >= 1 && at <= 3 && digits[0] != '0' {
		return 0, true
	}
	return sign, false
}

// float turns digits into a number. Where they can be read both ways the
// column's style decides.
func float(digits string, s style) (float64, error) {
	digits = strings.ReplaceAll(digits, " ", "")
	mark, unsure := decimals(digits)
	if unsure {
		if s.mixed {
			return 0, fmt.Errorf("%q can be read in two ways, and other cells of the column write decimals both with commas and with points: write it without thousands separator", digits)
		}
		if mark = -1; s.comma {
			mark = 1
		}
	}
	group, decimal := ",", "."
	if mark == 1 {
		group, decimal = ".", ","
	}
	whole, part, _ := strings.Cut(digits, decimal)
	groups := strings.Split(whole, group)
	for i, g := range groups[1:] {
		if len(g) != 3 || len(groups[i]) > 3 || groups[0] == "" {
			return 0, fmt.Errorf("%q is not a number: its thousands do not stand in threes", Short(digits))
		}
	}
	if strings.ContainsAny(part, ".,") {
		return 0, fmt.Errorf("%q is not a number", Short(digits))
	}
	v, err := strconv.ParseFloat(strings.Join(groups, "")+"."+part+"0", 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%q is not a number that can be used", Short(digits))
	}
	return v, nil
}

// findStyles looks at all cells of each column of numbers, and at all columns
// together where one alone does not tell.
func (l *Layout) findStyles(t *table.Table) {
	type tally struct {
		comma, point int
		unsure       *table.Row
		text         string
	}
	tallies := map[string]*tally{}
	whole := tally{}
	for _, f := range l.fields {
		if f.Measure == nil || !l.Has(f.Name) {
			continue
		}
		n := &tally{}
		tallies[f.Name] = n
		for i := range l.Rows {
			m := numberHead.FindStringSubmatch(spaces(l.Text(l.Rows[i], f.Name)))
			if m == nil || !strings.ContainsAny(m[2], ".,") {
				continue
			}
			digits := strings.ReplaceAll(m[2], " ", "")
			switch mark, unsure := decimals(digits); {
			case unsure && strings.Contains(digits, ",") && n.unsure == nil:
				n.unsure, n.text = &l.Rows[i], digits
			case unsure && n.unsure == nil && t.Format == table.CSV:
				n.unsure, n.text = &l.Rows[i], digits
			case mark > 0:
				n.comma++
			case mark < 0:
				n.point++
			}
		}
		whole.comma += n.comma
		whole.point += n.point
	}
	for _, f := range l.fields {
		n := tallies[f.Name]
		if n == nil {
			continue
		}
		s := style{comma: n.comma > n.point, mixed: n.comma > 0 && n.point > 0}
		guessed := n.comma+n.point == 0
		if guessed {
			s.comma = whole.comma > whole.point
			if whole.comma+whole.point == 0 {
				s.comma = t.Format == table.CSV && t.Separator == ';'
			}
		}
		l.styles[f.Name] = s
		if guessed && n.unsure != nil {
			if v, err := float(n.text, s); err == nil {
				l.note("Column %q: %q on line %d was read as %s. If that is wrong, write the numbers of the column without thousands separators.",
					l.Header(f.Name), n.text, n.unsure.Line, strconv.FormatFloat(v, 'f', -1, 64))
			}
		}
	}
}
