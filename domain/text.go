package domain

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Bounds of what a person may type, in letters.
const (
	MaxName = 120
	MaxText = 4000
)

// CleanText trims text and refuses what cannot stand on a sheet: bytes that
// are no UTF-8, control characters, and more than most letters.
func CleanText(text string, most int) (string, error) {
	if !utf8.ValidString(text) {
		return "", fmt.Errorf("the text is not valid UTF-8: type it again")
	}
	text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
	if n := utf8.RuneCountInString(text); n > most {
		return "", fmt.Errorf("the text has %d letters; at most %d fit", n, most)
	}
	for _, r := range text {
		if unicode.IsControl(r) && r != '\n' && r != '\t' {
			return "", fmt.Errorf("the text holds a control character (U+%04X): remove it", r)
		}
	}
	return text, nil
}

// CleanLine is CleanText for one line: line breaks become spaces.
func CleanLine(text string, most int) (string, error) {
	text, err := CleanText(text, most)
	return strings.Join(strings.Fields(text), " "), err
}
