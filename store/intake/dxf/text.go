package dxf

import (
	"regexp"
	"strconv"
	"strings"

	"scopewright/domain/geom"
)

// letterWidth is the usual width of a letter over its height, for guessing
// where the middle of a text lies (common practice, no published source).
const letterWidth = 0.65

// label reads TEXT, MTEXT and ATTRIB. ATTDEF is only the form for an attribute,
// shown as such where it is constant (70 & 2).
func (p *parser) label(r *record) {
	if r.name == "ATTDEF" && r.flags(70)&2 == 0 || r.name == "ATTRIB" && r.flags(70)&1 != 0 {
		return
	}
	l := &label{layer: p.layer(r), line: r.line, height: r.num(40, 0), turn: r.num(50, 0), narrower: 1}
	if r.name == "MTEXT" {
		l.lines = plainLines(p.d.decoder.text(longText(r)), true)
		p.placeParagraph(l, r)
	} else {
		raw, _ := r.raw(1)
		l.lines = plainLines(p.d.decoder.text(raw), false)
		l.narrower = r.num(41, 1)
		p.placeText(l, r)
	}
	if r.name == "ATTRIB" {
		raw, _ := r.raw(2)
		l.tag = strings.ToUpper(strings.TrimSpace(p.d.decoder.text(raw)))
		if p.stamp != nil {
			l.stamp = p.stamp.line
			if l.layer == 0 {
				l.layer = p.stamp.layer
			}
		}
	}
	if len(l.lines) == 0 || !p.sound(r) {
		return
	}
	p.into.labels = append(p.into.labels, l)
}

// longText joins the pieces of a paragraph: 3, 3, ... 1.
func longText(r *record) []byte {
	var out []byte
	for _, q := range r.pairs {
		if (q.code == 3 || q.code == 1) && len(out) < maxTextBytes {
			out = append(out, q.text...)
		}
	}
	return out
}

func (l *label) width() float64 {
	most := 0
	for _, s := range l.lines {
		most = max(most, len([]rune(s)))
	}
	return float64(most) * l.height * letterWidth * l.narrower
}

// placeText finds the middle of a line of text: 72 is 0 left, 1 center, 2
// right, 3 aligned, 4 middle, 5 fit; 73 is 0 baseline, 1 bottom, 2 middle, 3 top.
func (p *parser) placeText(l *label, r *record) {
	across, up := r.flags(72), r.flags(73)
	if r.name == "ATTRIB" || r.name == "ATTDEF" {
		up = r.flags(74)
	}
	l.at = r.point(10)
	half := geom.Point{X: l.width() / 2, Y: l.height / 2}
	if across != 0 || up != 0 {
		end := r.point(11)
		switch across {
		case 3, 5:
			half.X = l.at.Distance(end) / 2
		case 4:
			l.at, half = end, geom.Point{}
		default:
			l.at = end
			half.X *= []float64{1, 0, -1}[min(max(across, 0), 2)]
			half.Y *= []float64{1, 1, 0, -1}[min(max(up, 0), 3)]
		}
	}
	l.middle = l.at.Add(turned(l.turn).apply(half))
	if m := r.plane(); m != nil {
		l.at, l.middle = m.apply(l.at), m.apply(l.middle)
	}
}

// placeParagraph finds the middle of an MTEXT: 71 counts its nine attachment
// points from top left to bottom right.
func (p *parser) placeParagraph(l *label, r *record) {
	l.at = r.point(10)
	attach := min(max(r.flags(71), 1), 9) - 1
	tall := l.height * (1 + 1.6*float64(max(0, len(l.lines)-1)))
	half := geom.Point{X: l.width() / 2 * float64(1-attach%3), Y: tall / 2 * float64(attach/3-1)}
	turn := turned(l.turn)
	if r.has(11) {
		if along := r.point(11); along.Distance(geom.Point{}) > 0 {
			along = along.Times(1 / along.Distance(geom.Point{}))
			turn = affine{a: along.X, b: along.Y, c: -along.Y, d: along.X}
		}
	}
	l.middle = l.at.Add(turn.apply(half))
}

var percentCode = regexp.MustCompile(`%%([uUoOkKdDpPcC%]|[0-9]{3})`)

// plainLines takes formatting out of a text and gives its lines, none empty.
func plainLines(s string, paragraph bool) []string {
	s = percentCode.ReplaceAllStringFunc(s, func(m string) string {
		switch m[2] {
		case 'u', 'U', 'o', 'O', 'k', 'K':
			return ""
		case 'd', 'D':
			return "°"
		case 'p', 'P':
			return "±"
		case 'c', 'C':
			return "Ø"
		case '%':
			return "%"
		}
		if n, err := strconv.Atoi(m[2:]); err == nil && n >= 32 && n < 256 && n != 127 {
			return string(rune(n))
		}
		return ""
	})
	if paragraph {
		s = unformat(s)
	}
	var out []string
	for _, line := range strings.Split(s, "\n") {
		line = strings.Join(strings.Fields(line), " ")
		if line != "" {
			out = append(out, line)
		}
	}
	return out
}

// unformat takes the codes out of a paragraph: \P new line, \f...; and others
// that end with a semicolon, \S a/b; stacked, {} groups, \\ \{ \} themselves.
func unformat(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '{' || c == '}':
		case c == '^' && i+1 < len(s): // ^I tab, ^J new line, "^ " the caret
			i++
			switch s[i] {
			case 'J':
				b.WriteByte('\n')
			case 'I':
				b.WriteByte(' ')
			case ' ':
				b.WriteByte('^')
			}
		case c != '\\' || i+1 >= len(s):
			b.WriteByte(c)
		default:
			i++
			i = command(&b, s, i)
		}
	}
	return b.String()
}

// command handles the code whose letter is at i and gives its last byte.
func command(b *strings.Builder, s string, i int) int {
	switch s[i] {
	case 'P', 'X', 'N': // paragraph, dimension line, column
		b.WriteByte('\n')
	case '~':
		b.WriteByte(' ')
	case '\\', '{', '}':
		b.WriteByte(s[i])
	case 'L', 'l', 'O', 'o', 'K', 'k':
	case 'f', 'F', 'H', 'W', 'Q', 'T', 'A', 'C', 'c', 'p', 'S', 'M':
		end := strings.IndexByte(s[i:], ';')
		if end < 0 {
			return len(s)
		}
		if s[i] == 'S' {
			b.WriteString(strings.Map(func(r rune) rune {
				if r == '^' || r == '#' {
					return '/'
				}
				return r
			}, s[i+1:i+end]))
		}
		return i + end
	default:
		b.WriteByte(s[i])
	}
	return i
}
