package html

import (
	"fmt"
	"strings"
	"unicode"

	"scopewright/export/sheet"
)

// PageStyles gives a style sheet with one named page for each sheet, so that a browser's
// print repeats the sheet's number, title, revision, date and caution on every page. It is
// served as a file of its own, since the content policy allows no inline style. paper is
// one of those that PDF prints on.
func PageStyles(doc sheet.Document, paper string) (string, error) {
	size, ok := papers[paper]
	if !ok {
		return "", fmt.Errorf("paper %q is unknown: use letter, a4, tabloid, a3, arch-c, a2, arch-d or a1", paper)
	}
	if err := doc.Validate(); err != nil {
		return "", err
	}
	var css strings.Builder
	for _, s := range doc.Sheets {
		width, height := size.width, size.height
		if s.Landscape {
			width, height = height, width
		}
		h := s.Head
		state := fmt.Sprintf("Revision %s · %s · %s", h.RevisionText(), h.Date, h.Units)
		if h.Invented {
			state = sheet.InventedNotice + " · " + state
		}
		fmt.Fprintf(&css, "@page s-%s {\n  size: %gmm %gmm;\n  margin: 16mm 12mm 14mm;\n  font: 7pt sans-serif;\n", s.ID, width, height)
		fmt.Fprintf(&css, "  @top-left { content: %s; }\n", cssString(brief(s.Number, 24)+"  "+brief(s.Title, 70)))
		fmt.Fprintf(&css, "  @top-right { content: %s; }\n", cssString(brief(state, 90)))
		fmt.Fprintf(&css, "  @bottom-left { content: %s; width: 80%%; overflow-wrap: anywhere; }\n", cssString(brief(h.Caution, 240)))
		fmt.Fprintf(&css, "  @bottom-right { content: \"page \" counter(page) \" of \" counter(pages); }\n}\n")
		fmt.Fprintf(&css, ".sheet[id=\"%s\"] { page: s-%s; }\n", s.ID, s.ID)
	}
	return css.String(), nil
}

// brief cuts a text to what a margin of the page holds; the whole text stands on the sheet.
func brief(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most-1]) + "…"
}

// cssString quotes a text for CSS. All but letters, digits and plain signs become escapes,
// so that no name can close the string (CSS Syntax Module Level 3, section 4.3.7, from memory).
func cssString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), strings.ContainsRune(" .,:;-–·…()+%/=", r):
			b.WriteRune(r)
		case r == 0:
			b.WriteString("\\FFFD ")
		default:
			fmt.Fprintf(&b, "\\%X ", r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
