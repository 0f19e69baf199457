package columns

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Plain gives a text as words for comparing: small letters and digits with
// single spaces, "#" as "no", "%" as "pct".
func Plain(text string) string {
	var b strings.Builder
	b.Grow(len(text))
	gap := false
	put := func(s string) {
		if gap && b.Len() > 0 {
			b.WriteByte(' ')
		}
		gap = false
		b.WriteString(s)
	}
	for _, r := range text {
		switch {
		case r == '²':
			put("2")
		case r == '#', r == '№':
			gap = true
			put("no")
			gap = true
		case r == '%':
			gap = true
			put("pct")
			gap = true
		case r == '&':
			gap = true
			put("and")
			gap = true
		case unicode.IsLetter(r), unicode.IsDigit(r):
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(unicode.ToLower(r))
		case r == '\u200B', r == '\uFEFF': // nothing is seen of them
		default:
			gap = true
		}
	}
	return b.String()
}

// blanks are what people write into a cell that has nothing to say.
var blanks = []string{"", "-", "--", "---", "–", "—", "n/a", "na", "n.a.", "tbd", "tba", "t.b.d.", "?", "nil", "null", "none", "not stated"}

// Blank tells whether a cell says nothing.
func Blank(cell string) bool {
	cell = strings.TrimSpace(cell)
	if len(cell) > 10 {
		return false
	}
	return slices.Contains(blanks, strings.ToLower(cell))
}

// Short cuts a text for a message.
func Short(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if utf8.RuneCountInString(text) <= 40 {
		return text
	}
	return string([]rune(text)[:40]) + "..."
}

func hasDigit(s string) bool { return strings.ContainsFunc(s, unicode.IsDigit) }

func hasLetter(s string) bool { return strings.ContainsFunc(s, unicode.IsLetter) }

// ErrorCell tells whether a spreadsheet could not work the cell out.
func ErrorCell(cell string) bool {
	switch strings.TrimSpace(cell) {
	case "#REF!", "#N/A", "#NAME?", "#VALUE!", "#DIV/0!", "#NULL!", "#NUM!", "#SPILL!", "#CALC!":
		return true
	}
	return false
}
