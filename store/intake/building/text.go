package building

import (
	"strings"
	"unicode"
)

// LongestText is how many letters of a name or text out of a file are kept.
const LongestText = 200

// Shown gives a value out of a file fit for a sentence: one line, not too long.
func Shown(text string) string {
	const longest = 40
	clean, _ := CleanText(text)
	if r := []rune(clean); len(r) > longest {
		return string(r[:longest]) + "..."
	}
	return clean
}

// CleanText makes a text out of a file fit to show: control characters, line
// ends and runs of blanks become one blank, and what is longer than LongestText
// is cut. Markup stays as it is: whoever shows the text escapes it.
func CleanText(text string) (clean string, cut bool) {
	fields := strings.FieldsFunc(text, func(r rune) bool {
		return unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == unicode.ReplacementChar
	})
	clean = strings.Join(fields, " ")
	if runes := []rune(clean); len(runes) > LongestText {
		return strings.TrimSpace(string(runes[:LongestText])), true
	}
	return clean, false
}
