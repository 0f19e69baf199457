package units

import (
	"fmt"
	"strings"
)

// ParseOffset reads a length that may lie on either side of an origin: "-2.5 m",
// `-12' 6"`. Otherwise as ParseLength.
func ParseOffset(text string, sys System) (Metres, error) {
	t := strings.TrimSpace(text)
	rest, minus := strings.CutPrefix(strings.Replace(t, "\u2212", "-", 1), "-")
	if strings.HasPrefix(strings.TrimSpace(rest), "-") {
		return 0, fmt.Errorf("%q has two signs: write it like -2.5 m", shorten(text))
	}
	v, err := ParseLength(rest, sys)
	if minus {
		v = -v
	}
	return v, err
}

// Offset prints a length that may lie on either side of an origin.
func Offset(m Metres, sys System) string {
	text := Length(max(m, -m), sys)
	if m < 0 && !strings.HasPrefix(text, "0 ") {
		return "-" + text
	}
	return text
}
