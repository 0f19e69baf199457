package drawing

import (
	"bufio"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"scopewright/domain/units"
)

// SVGOptions say for whom an SVG is written.
type SVGOptions struct {
	// Screen writes element IDs, data attributes and classes, and leaves colors to
	// css/plan.css. Without it the SVG stands by itself: no IDs, all looks in
	// attributes, so that several may stand on a page or in a file.
	Screen bool
	// PictureURL gives the address of a stored picture; nil writes it into the file
	// where the drawing holds it.
	PictureURL func(picture string) string
	// Class is added to that of the root element, plan-drawing or plan-print.
	Class string
	// File writes a whole document, with the namespace and the size on paper.
	File bool
}

// SVG writes a picture. One unit is a millimeter on paper. The root carries
// data-origin-x, data-origin-y (meters) and data-per-meter, by which a place
// on the plan becomes ((x - origin x) * per meter, (origin y - y) * per meter).
func SVG(w io.Writer, p *Picture, opt SVGOptions) error {
	s := &svg{w: bufio.NewWriterSize(w, 1<<16), opt: opt, p: p}
	s.open()
	s.items()
	s.str("</svg>")
	if opt.File {
		s.str("\n")
	}
	return s.w.Flush() // a bufio.Writer keeps its first error
}

type svg struct {
	w   *bufio.Writer
	opt SVGOptions
	p   *Picture
	buf [32]byte
}

func (s *svg) str(parts ...string) {
	for _, t := range parts {
		s.w.WriteString(t) //nolint:errcheck // Flush gives it
	}
}

// num writes millimeters to the hundredth: finer than any printer.
func (s *svg) num(v float64) {
	b := strconv.AppendFloat(s.buf[:0], v, 'f', 2, 64)
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if b[len(b)-1] == '.' {
		b = b[:len(b)-1]
	}
	if string(b) == "-0" {
		b = b[1:]
	}
	s.w.Write(b) //nolint:errcheck // Flush gives it
}

func (s *svg) attr(name string, v float64) {
	s.str(" ", name, `="`)
	s.num(v)
	s.str(`"`)
}

func (s *svg) text(name, v string) { s.str(" ", name, `="`, escaped(v), `"`) }

// escaped quotes for XML and drops what XML 1.0 has no place for.
func escaped(t string) string {
	if strings.IndexFunc(t, func(r rune) bool {
		return r < ' ' || strings.ContainsRune(`<>&"'`, r) || r == utf8.RuneError || r >= 0xFFFE
	}) < 0 {
		return t
	}
	var b strings.Builder
	for _, r := range t {
		switch {
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '&':
			b.WriteString("&amp;")
		case r == '"':
			b.WriteString("&#34;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == '\n', r == '\t', r == '\r':
			b.WriteByte(' ')
		case r < ' ', r == 0xFFFE, r == 0xFFFF:
			b.WriteRune(utf8.RuneError)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func (s *svg) open() {
	s.head()
	s.underlay()
}

func (s *svg) head() {
	p := s.p
	s.str("<svg")
	if s.opt.File {
		s.str(` xmlns="http://www.w3.org/2000/svg" font-family="'Noto Sans', 'Liberation Sans', Arial, sans-serif"`)
	}
	class := "plan-print"
	if s.opt.Screen {
		class = "plan-drawing"
	}
	s.text("class", strings.TrimSpace(class+" "+s.opt.Class))
	if !s.opt.Screen {
		s.str(` width="`)
		s.num(p.Width)
		s.str(`mm" height="`)
		s.num(p.Height)
		s.str(`mm"`)
	}
	s.str(` viewBox="0 0 `)
	s.num(p.Width)
	s.str(" ")
	s.num(p.Height)
	s.str(`" role="img"`)
	s.text("aria-label", p.Title)
	if s.opt.Screen {
		s.str(` data-origin-x="`, units.Trim(p.Origin.X, 6), `" data-origin-y="`, units.Trim(p.Origin.Y, 6), `" data-per-meter="`, units.Trim(p.Scale.PerMeter(), 9), `"`)
	}
	s.str(">")
	if s.opt.File {
		s.str("<title>", escaped(p.Title), "</title>")
	}
}

func (s *svg) turn(degrees float64, at Point) {
	s.str(` transform="rotate(`)
	s.num(-degrees)
	s.str(" ")
	s.num(at.X)
	s.str(" ")
	s.num(at.Y)
	s.str(`)"`)
}

// items writes a group a layer and, on screen, a group a thing in it.
func (s *svg) items() {
	var layer Layer
	for i := range s.p.Items {
		item := &s.p.Items[i]
		if item.Layer != layer {
			if layer != "" {
				s.str("</g>")
			}
			layer = item.Layer
			s.str(`<g data-layer="`, string(layer), `">`)
		}
		s.item(item)
	}
	if layer != "" {
		s.str("</g>")
	}
}

func (s *svg) item(item *Item) {
	grouped := s.opt.Screen && item.ID != ""
	if grouped {
		s.str("<g")
		s.text("id", item.ID)
		s.str(` class="`, item.Class)
		if item.Highlight {
			s.str(" highlight")
		}
		s.str(`"`)
		if item.Of != "" {
			s.text("data-of", item.Of)
		}
		s.text("data-ref", item.Ref)
		s.str(">")
		if item.Layer == LayerRooms || item.Layer == LayerWalls || item.Layer == LayerDevices || item.Layer == LayerFindings {
			s.str("<title>", escaped(item.Title), "</title>")
		}
	}
	for _, shape := range item.Shapes {
		s.shape(shape)
	}
	if grouped {
		s.str("</g>")
	}
}
