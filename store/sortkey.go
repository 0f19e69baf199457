package store

import (
	"fmt"
	"strings"
	"unicode"
)

// sortKey gives a text whose byte order is the natural order of numbers as
// people write them: 2 before 10, 101 before 101A. Each run of digits gets its
// length in front.
func sortKey(number string) string {
	var out strings.Builder
	text := []rune(strings.ToLower(strings.TrimSpace(number)))
	for i := 0; i < len(text); {
		if text[i] < '0' || text[i] > '9' {
			if unicode.IsSpace(text[i]) {
				text[i] = ' '
			}
			out.WriteRune(text[i])
			i++
			continue
		}
		from := i
		for i < len(text) && text[i] >= '0' && text[i] <= '9' {
			i++
		}
		digits := strings.TrimLeft(string(text[from:i]), "0")
		fmt.Fprintf(&out, "%03d%s", len(digits), digits)
	}
	return out.String()
}
