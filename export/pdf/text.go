package pdf

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// mmPerPoint turns type sizes (1 pt = 1/72 in) into millimetres.
const mmPerPoint = 25.4 / 72

// typeface measures and breaks text; it is the layout's view of the fonts.
type typeface struct{ faces *[faceCount]*metrics }

// clean makes any string printable: line ends become \n, tabs a space, and what is no
// character (broken UTF-8, control codes) the replacement sign, so that nothing vanishes.
func clean(s string) string {
	if isPlain(s) {
		return s
	}
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\r', r == '\u2028', r == '\u2029':
			return '\n'
		case r == '\t':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r):
			return replacement
		}
		return r // strings.Map already hands broken bytes over as U+FFFD
	}, s)
}

func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] >= 0x7F {
			return false
		}
	}
	return true
}

// faceFor gives the face that holds the character, and the character printed.
func (t typeface) faceFor(r rune, want face) (face, rune) {
	switch {
	case t.faces[want].has(r):
		return want, r
	case t.faces[symbols].has(r):
		return symbols, r
	}
	return want, replacement
}

// runeUnits is the character's width in thousandths of the type size.
func (t typeface) runeUnits(r rune, want face) int {
	f, r := t.faceFor(r, want)
	return int(t.faces[f].width[r])
}

// units is the width of a text in thousandths of the type size.
func (t typeface) units(s string, f face) int {
	w := 0
	for _, r := range s {
		w += t.runeUnits(r, f)
	}
	return w
}

// width is the width of a text in millimetres at a size in points.
func (t typeface) width(s string, f face, size float64) float64 {
	return float64(t.units(s, f)) * size * mmPerPoint / 1000
}

// run is a stretch of text in one face.
type run struct {
	face face
	text string
}

// runs cuts a line where the face changes, and replaces what no face holds.
func (t typeface) runs(s string, want face) []run {
	whole := true
	for _, r := range s {
		if !t.faces[want].has(r) {
			whole = false
			break
		}
	}
	if whole {
		return []run{{want, s}}
	}
	var out []run
	for _, r := range s {
		f, r := t.faceFor(r, want)
		if len(out) == 0 || out[len(out)-1].face != f {
			out = append(out, run{face: f})
		}
		out[len(out)-1].text += string(r)
	}
	return out
}

// wrap breaks a text into lines no wider than width millimetres: at spaces, after
// hyphens and slashes, and inside a word only when the word alone is wider than a line.
func (t typeface) wrap(s string, f face, size, width float64) []string {
	limit := int(width / (size * mmPerPoint) * 1000)
	if !strings.Contains(s, "\n") && t.units(s, f) <= limit {
		return []string{s}
	}
	var lines []string
	for _, paragraph := range strings.Split(s, "\n") {
		lines = append(lines, t.wrapLine(paragraph, f, limit)...)
	}
	return lines
}

func (t typeface) wrapLine(s string, f face, limit int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range words(s) {
		units := t.units(word, f)
		if used > 0 && used+t.units(strings.TrimRight(word, " "), f) > limit {
			lines = append(lines, strings.TrimRight(line, " "))
			line, used = "", 0
		}
		for t.units(strings.TrimRight(word, " "), f) > limit {
			head, tail := t.cutWord(word, f, limit)
			lines = append(lines, head)
			word, units = tail, t.units(tail, f)
		}
		line, used = line+word, used+units
	}
	return append(lines, strings.TrimRight(line, " "))
}

// cutWord takes as many characters as fit, at least one.
func (t typeface) cutWord(word string, f face, limit int) (head, tail string) {
	used := 0
	for i, r := range word {
		used += t.runeUnits(r, f)
		if used > limit && i > 0 {
			return word[:i], word[i:]
		}
	}
	return word, ""
}

// words cuts a line after each run of spaces and after hyphens and slashes inside words.
func words(s string) []string {
	var out []string
	start := 0
	for i, r := range s {
		next := i + utf8.RuneLen(r)
		if r == utf8.RuneError {
			_, size := utf8.DecodeRuneInString(s[i:])
			next = i + size
		}
		if next >= len(s) {
			break
		}
		breaks := r == ' ' && s[next] != ' ' ||
			(r == '-' || r == '/' || r == '–') && s[next] != ' ' && next-start > 2
		if breaks {
			out = append(out, s[start:next])
			start = next
		}
	}
	if start < len(s) {
		out = append(out, s[start:])
	}
	return out
}

// widestWord is the width of the widest unbreakable piece in thousandths of the type size.
func (t typeface) widestWord(s string, f face) int {
	widest := 0
	for _, line := range strings.Split(s, "\n") {
		for _, word := range words(line) {
			widest = max(widest, t.units(strings.TrimRight(word, " "), f))
		}
	}
	return widest
}

// widestLine is the width that the text takes without any break of ours.
func (t typeface) widestLine(s string, f face) int {
	if !strings.Contains(s, "\n") {
		return t.units(s, f)
	}
	widest := 0
	for _, line := range strings.Split(s, "\n") {
		widest = max(widest, t.units(line, f))
	}
	return widest
}

// shorten cuts a text to one line of the given width, with an ellipsis where it was cut.
func (t typeface) shorten(s string, f face, size, width float64) string {
	s = strings.ReplaceAll(s, "\n", " ")
	if t.width(s, f, size) <= width {
		return s
	}
	limit := int(width/(size*mmPerPoint)*1000) - t.runeUnits('…', f)
	head, _ := t.cutWord(s, f, max(limit, 0))
	return strings.TrimRight(head, " ") + "…"
}
