package roomlist

import (
	"regexp"
	"strings"
	"unicode"
)

// Numbers as they stand before a name ("101 - Lobby", "A-101 Lobby", "101A:
// Lobby"), joined to it ("101-Lobby"), and behind it ("Lobby 101").
var (
	numberFirst  = regexp.MustCompile(`^([\p{L}]{0,4}[-.]?\d[\p{L}\d.\-/]*?)[:.]?(?:\s+[-–—:|/]\s*|\s*[–—:|]\s*|\s+)(\S.*)$`)
	numberJoined = regexp.MustCompile(`^(\d[\d.]*\p{L}?)-(\p{L}{3,}.*)$`)
	numberLast   = regexp.MustCompile(`^(\p{L}.*?)[\s,]+(?:[-–—#]\s*|[Nn]o\.?\s*)?([\p{L}]{0,2}[-.]?\d[\p{L}\d.\-]{1,9})$`)
)

// SplitLabel takes number and name apart where one cell holds both.
func SplitLabel(text string) (number, name string, ok bool) {
	text = strings.TrimSpace(text)
	if len(text) > 400 || !strings.ContainsFunc(text, unicode.IsDigit) {
		return "", "", false
	}
	for _, first := range []*regexp.Regexp{numberJoined, numberFirst} {
		if m := first.FindStringSubmatch(text); m != nil && strings.ContainsFunc(m[2], unicode.IsLetter) {
			return m[1], strings.TrimSpace(m[2]), true
		}
	}
	if m := numberLast.FindStringSubmatch(text); m != nil {
		return m[2], strings.TrimRight(m[1], " -–—,"), true
	}
	return "", "", false
}

// numberKey gives a room number for comparing: case, spaces and the kind of
// dash do not matter.
func numberKey(number string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return -1
		case r == '–' || r == '—' || r == '‑' || r == '−':
			return '-'
		}
		return unicode.ToLower(r)
	}, number)
}
