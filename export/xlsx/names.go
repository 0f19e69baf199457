package xlsx

import (
	"fmt"
	"strings"
	"unicode"
)

// maxName is the longest name of a worksheet, in UTF-16 units (Office Open XML, from memory).
const maxName = 31

// names gives worksheets names of their own; upper and lower case count as the same.
type names map[string]bool

func newNames() names { return names{"history": true} } // a reserved name

// take turns any caption into a free worksheet name.
func (n names) take(caption string) string {
	base := legal(caption)
	name := cut(base, maxName)
	for i := 2; n[strings.ToLower(name)]; i++ {
		tail := fmt.Sprintf(" (%d)", i)
		name = cut(base, maxName-len(tail)) + tail
	}
	n[strings.ToLower(name)] = true
	return name
}

// legal replaces the characters that a worksheet name must not hold.
func legal(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`:\/?*[]`, r) || r == 0x7F {
			return '-'
		}
		return r
	}, safe(s))
	s = strings.TrimFunc(s, func(r rune) bool { return unicode.IsSpace(r) || r == '\'' })
	if s == "" {
		return "Table"
	}
	return s
}

func cut(s string, most int) string {
	used := 0
	for i, r := range s {
		used++
		if r > 0xFFFF {
			used++
		}
		if used > most {
			return strings.TrimRight(s[:i], " '")
		}
	}
	return s
}
