package dxf

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Bounds of naming: texts looked at, texts of one room, and the longest group
// of lines that is still a name and not a remark.
const (
	maxTexts      = 200_000
	maxRoomTexts  = 60
	maxNameLines  = 4
	maxNameLength = 80
	nearby        = 8 // heights between a name and its number
)

// placedLabel is a text in a room, in meters.
type placedLabel struct {
	*label
	middle geom.Point
	height float64
	width  float64
	away   float64 // from the room's visual center
}

// wording is what a room's texts say.
type wording struct {
	number, name string
	area         units.SquareMetres
	rest         []string
}

// What a line of text in a room is, by its form.
var (
	areaText   = regexp.MustCompile(`(?i)^(?:(?:net |gross |floor )?area|a|fl(?:ä|ae)che)?\s*[:=]?\s*(\d[\d.,' ]*)\s*(m2|m²|m\^2|sq\.?\s?m\.?|sqm|qm|ft2|ft²|sq\.?\s?ft\.?|sqft|s\.?f\.?)$`)
	sizeText   = regexp.MustCompile(`(?i)^[+±-]\s*\d|^[\d.,'" /-]+\s*[x×]\s*[\d.,'" /-]+$|\d\s*(?:mm|cm|m|ft|in|'|")\b?\.?$|^(?:clg|ceiling|ffl|ch|h|rh|ht)[.:= ]+\+?\d`)
	numberText = regexp.MustCompile(`^(?:#\s*|(?i:no|nr|rm|room)\.?\s+)?(\p{L}{0,3}[-. ]?\d{1,5}(?:[-./]\d{1,4}){0,2}\p{L}{0,2})$`)
	bothText   = regexp.MustCompile(`^(\p{Lu}{0,3}-?\d{1,5}(?:[-./]\d{1,4})?\p{L}?)(?:\s*[-–—:]\s*|\s+)(\p{L}.*)$`)
	numberTag  = regexp.MustCompile(`(?:^|[^A-Z])(?:NUM|NUMB|NUMBER|NO|NR|ID)(?:$|[^A-Z])|(?:ROOM|RM|SPACE)_?-?(?:NO|NR|NUM|NUMBER|ID)`)
	nameTag    = regexp.MustCompile(`NAME|NOM|DESC|BEZ|USE`)
	areaTag    = regexp.MustCompile(`AREA|FLAECHE`)
)

// splitName takes "101 Kitchen" or "101-Vest." apart.
func splitName(text string) (number, name string, ok bool) {
	m := bothText.FindStringSubmatch(text)
	if m == nil || len([]rune(m[2])) < 2 {
		return "", "", false
	}
	return m[1], m[2], true
}

// readArea reads "60 m2" or "AREA: 648 SF".
func readArea(text string) (units.SquareMetres, bool) {
	m := areaText.FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	v, err := units.Number(strings.ReplaceAll(strings.TrimSpace(m[1]), "'", ""))
	if err != nil || v <= 0 {
		return 0, false
	}
	if strings.HasPrefix(strings.ToLower(m[2]), "m") || strings.HasSuffix(strings.TrimSuffix(strings.ToLower(m[2]), "."), "m") {
		return units.SquareMetres(v), true
	}
	return units.SquareMetres(v * units.SquareMetresPerSquareFoot), true
}

// word makes number and name of a room's texts, nearest its center first. The
// nearest group of lines that can be a name is it; the number stands with it or
// close by, for a door's or a section's mark farther off is none.
func word(labels []placedLabel) (w wording) {
	for _, l := range labels {
		if l.tag != "" {
			w.attribute(l.label)
		}
	}
	var all []reading
	name := -1
	for _, group := range groups(labels) {
		g := w.read(group)
		if name < 0 && w.name == "" && g.isName() {
			name = len(all)
		}
		all = append(all, g)
	}
	if name >= 0 {
		w.name = strings.Join(all[name].names, " ")
	}
	for i, g := range all {
		if w.number == "" && g.number != "" && (name < 0 || i == name || g.close(all[name])) {
			w.number, g.number = g.number, ""
		}
		if i != name {
			for _, line := range g.names {
				w.keep(line)
			}
		}
		if g.number != "" {
			w.keep(g.number)
		}
		for _, line := range g.rest {
			w.keep(line)
		}
	}
	w.number, w.name = clip(w.number), clip(w.name)
	return w
}

// reading is what a group of texts says.
type reading struct {
	labels []placedLabel
	number string
	names  []string
	length int
	rest   []string
}

func (g reading) isName() bool {
	return len(g.names) > 0 && len(g.names) <= maxNameLines && g.length <= maxNameLength
}

// close tells whether a text of one group stands within nearby heights of one
// of the other's.
func (g reading) close(o reading) bool {
	for _, a := range g.labels {
		for _, b := range o.labels {
			if a.middle.Distance(b.middle) <= nearby*math.Max(a.height, b.height) {
				return true
			}
		}
	}
	return false
}

func clip(s string) string {
	s = strings.TrimSpace(s)
	if r := []rune(s); len(r) > maxNameLetters {
		return string(r[:maxNameLetters])
	}
	return s
}

// attribute takes a field of a room stamp by its tag.
func (w *wording) attribute(l *label) {
	text := l.letters()
	switch {
	case areaTag.MatchString(l.tag):
		if a, ok := readArea(text); ok && w.area == 0 {
			w.area = a
		}
	case numberTag.MatchString(l.tag) && w.number == "":
		w.number = text
	case nameTag.MatchString(l.tag) && w.name == "":
		w.name = text
	}
}

// groups joins texts that stand under each other as one label's lines do: of
// about one height, one turn, at most 2.2 heights apart. Groups come in the
// order of their nearest text, their lines from top to bottom.
func groups(labels []placedLabel) (out [][]placedLabel) {
	left := slices.Clone(labels)
	for len(left) > 0 {
		group := []placedLabel{left[0]}
		left = left[1:]
		for grown := true; grown; {
			grown = false
			for i := 0; i < len(left); i++ {
				if slices.ContainsFunc(group, func(l placedLabel) bool { return l.stacked(left[i]) }) {
					group = append(group, left[i])
					left = slices.Delete(left, i, i+1)
					i--
					grown = true
				}
			}
		}
		up := turned(group[0].turn).apply(geom.Point{Y: 1})
		slices.SortStableFunc(group, func(a, c placedLabel) int { return cmpFloat(c.middle.Dot(up), a.middle.Dot(up)) })
		out = append(out, group)
	}
	return out
}

func (l placedLabel) stacked(o placedLabel) bool {
	if l.stamp != o.stamp || math.Abs(l.height-o.height) > 0.25*math.Max(l.height, o.height) || math.Abs(l.turn-o.turn) > 1 {
		return false
	}
	away := turned(-l.turn).apply(o.middle.Sub(l.middle))
	lines := float64(max(len(l.lines), len(o.lines)))
	return math.Abs(away.Y) <= (1+1.2*lines)*math.Max(l.height, o.height) && math.Abs(away.X) <= math.Max(l.width, o.width)/2+l.height
}

// read sorts the lines of a group; areas go to the wording at once.
func (w *wording) read(group []placedLabel) reading {
	g := reading{labels: group}
	for _, l := range group {
		for _, line := range l.lines {
			if line == w.number || line == w.name {
				continue // already taken from a stamp
			}
			if a, ok := readArea(line); ok {
				if w.area == 0 {
					w.area = a
				}
				continue
			}
			m := numberText.FindStringSubmatch(line)
			switch {
			case sizeText.MatchString(line):
				g.rest = append(g.rest, line)
			case m != nil && g.number == "":
				g.number = m[1]
			case m == nil && letters(line) >= 2:
				g.names = append(g.names, line)
				g.length += len([]rune(line)) + 1
			default:
				g.rest = append(g.rest, line)
			}
		}
	}
	return g
}

func (w *wording) keep(line string) {
	if line = clip(line); line != "" && len(w.rest) < 20 {
		w.rest = append(w.rest, line)
	}
}

func letters(s string) (n int) {
	for _, r := range s {
		if unicode.IsLetter(r) {
			n++
		}
	}
	return n
}

// upper starts a sentence.
func upper(s string) string {
	if strings.HasPrefix(s, "the ") {
		return fmt.Sprintf("T%s", s[1:])
	}
	return s
}
