package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"

	"scopewright/domain/geom"
)

// Tracing is somebody else's drawing as lines, to lie beneath a plan and to be
// traced. It is kept as a picture: an SVG of a form of its own, which browsers
// show, paper draws as lines, and the plan's tools read for ends to snap to. A
// pixel of it is a millimeter of the building; places are whole tenths of one.
type Tracing struct {
	Width, Height int // pixels
	Runs          []Run
}

// Run is an open or closed run of straight pieces, in tenths of a pixel from the
// upper left corner, y down.
type Run struct {
	Points [][2]int32
	Closed bool
}

// Stroke is a run in meters, y up, on its way into a Tracing.
type Stroke struct {
	Points []Point
	Closed bool
}

// TracingMedia is the media type under which a Tracing is kept.
const TracingMedia = "image/svg+xml"

// Bounds of a Tracing: a plan of 100,000 pieces is a large one, and a kilometer
// holds a site.
const (
	MaxTracingPoints = 400_000
	MaxTracingSide   = 2_000_000 // pixels
)

// tenths of a pixel, and how thick lines show on screen: 0.13 mm at 1:100.
const (
	tenth        = 10
	tracingPen   = 130
	tracingEdge  = 0.1  // meters around the lines, so that none is cut along the edge
	tracingGroup = 1000 // pieces of a path: browsers leave out paths that are not seen
)

// Errors of making and reading a Tracing.
var (
	ErrTracingEmpty = errors.New("no line is left to show")
	ErrTracingLarge = errors.New("more lines than can be shown at once")
	errNoTracing    = errors.New("this is no drawing of lines as they are kept")
)

// NewTracing takes runs in meters, y up, and gives with the picture the place of
// its lower left corner among them. Pieces shorter than a tenth of a millimeter
// are left out.
func NewTracing(lines []Stroke) (*Tracing, Point, error) {
	var all []Point
	for _, l := range lines {
		all = append(all, l.Points...)
	}
	box, ok := geom.BoundsOf(all...)
	if !ok || !box.Min.Finite() || !box.Max.Finite() {
		return nil, Point{}, ErrTracingEmpty
	}
	box = box.Grow(tracingEdge)
	const hair = 1e-3 // pixels, of rounding
	t := &Tracing{Width: int(math.Ceil(box.Width()*1000 - hair)), Height: int(math.Ceil(box.Height()*1000 - hair))}
	if t.Width > MaxTracingSide || t.Height > MaxTracingSide {
		return nil, Point{}, fmt.Errorf("the drawing is %.0f x %.0f m large: %w", box.Width(), box.Height(), ErrTracingLarge)
	}
	n := 0
	for _, l := range lines {
		run := Run{Closed: l.Closed}
		for _, p := range l.Points {
			at := [2]int32{int32(math.Round((p.X - box.Min.X) * 1000 * tenth)), int32(t.Height*tenth) - int32(math.Round((p.Y-box.Min.Y)*1000*tenth))}
			if k := len(run.Points); k == 0 || run.Points[k-1] != at {
				run.Points = append(run.Points, at)
			}
		}
		if len(run.Points) < 2 {
			continue
		}
		if n += len(run.Points); n > MaxTracingPoints {
			return nil, Point{}, ErrTracingLarge
		}
		t.Runs = append(t.Runs, run)
	}
	if t.Runs == nil {
		return nil, Point{}, ErrTracingEmpty
	}
	return t, box.Min, nil
}

// Pieces counts the straight pieces.
func (t *Tracing) Pieces() (n int) {
	for _, r := range t.Runs {
		n += len(r.Points) - 1
		if r.Closed {
			n++
		}
	}
	return n
}

// Encode writes the picture.
func (t *Tracing) Encode() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, tracingHead, t.Width, t.Height, t.Width*tenth, t.Height*tenth, tracingPen)
	inPath := 0
	for _, r := range t.Runs {
		if inPath == 0 {
			b.WriteString(`<path d="`)
		}
		r.write(&b)
		if inPath += len(r.Points); inPath >= tracingGroup {
			b.WriteString(`"/>`)
			inPath = 0
		}
	}
	if inPath > 0 {
		b.WriteString(`"/>`)
	}
	b.WriteString(tracingFoot)
	return b.Bytes()
}

const (
	tracingHead = `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" fill="none" stroke="#000" stroke-width="%d" stroke-linecap="round">`
	tracingFoot = "</svg>\n"
)

// write sets the run's first place, then the steps from place to place.
func (r Run) write(b *bytes.Buffer) {
	buf := b.AvailableBuffer()
	for i, p := range r.Points {
		switch i {
		case 0:
			buf = append(buf, 'M')
			buf = strconv.AppendInt(buf, int64(p[0]), 10)
			buf = append(buf, ' ')
			buf = strconv.AppendInt(buf, int64(p[1]), 10)
			continue
		case 1:
			buf = append(buf, 'l')
		default:
			buf = append(buf, ' ')
		}
		buf = strconv.AppendInt(buf, int64(p[0]-r.Points[i-1][0]), 10)
		buf = append(buf, ' ')
		buf = strconv.AppendInt(buf, int64(p[1]-r.Points[i-1][1]), 10)
	}
	if r.Closed {
		buf = append(buf, 'z')
	}
	b.Write(buf)
}

// ReadTracing reads what Encode wrote, and nothing else.
func ReadTracing(data []byte) (*Tracing, error) {
	t := &Tracing{}
	var wide, high, pen int
	head, body, ok := bytes.Cut(data, []byte(">"))
	if n, err := fmt.Sscanf(string(head)+">", tracingHead, &t.Width, &t.Height, &wide, &high, &pen); !ok || err != nil || n != 5 {
		return nil, errNoTracing
	}
	if t.Width <= 0 || t.Height <= 0 || t.Width > MaxTracingSide || t.Height > MaxTracingSide || wide != tenth*t.Width || high != tenth*t.Height {
		return nil, errNoTracing
	}
	points := 0
	for {
		rest, path := bytes.CutPrefix(body, []byte(`<path d="`))
		if !path {
			break
		}
		end := bytes.Index(rest, []byte(`"/>`))
		if end < 0 {
			return nil, errNoTracing
		}
		s := scanner{text: rest[:end]}
		for len(s.text) > 0 && !s.wrong {
			run := s.run()
			if points += len(run.Points); points > MaxTracingPoints {
				return nil, ErrTracingLarge
			}
			t.Runs = append(t.Runs, run)
		}
		if s.wrong {
			return nil, errNoTracing
		}
		body = rest[end+len(`"/>`):]
	}
	if string(body) != tracingFoot || t.Runs == nil {
		return nil, errNoTracing
	}
	return t, nil
}

// scanner reads the places of a path.
type scanner struct {
	text  []byte
	wrong bool
}

func (s *scanner) run() (r Run) {
	if !s.sign('M') {
		s.wrong = true
		return r
	}
	x := s.number()
	s.wrong = s.wrong || !s.sign(' ')
	y := s.number()
	s.wrong = s.wrong || outside(x) || outside(y) || !s.sign('l')
	r.Points = append(r.Points, [2]int32{int32(x), int32(y)})
	for !s.wrong && len(r.Points) <= MaxTracingPoints {
		x += s.number()
		s.wrong = s.wrong || !s.sign(' ')
		y += s.number()
		if s.wrong = s.wrong || outside(x) || outside(y); s.wrong {
			break
		}
		r.Points = append(r.Points, [2]int32{int32(x), int32(y)})
		if !s.sign(' ') {
			break
		}
	}
	r.Closed = s.sign('z')
	return r
}

func outside(v int64) bool { return v < -tenth || v > tenth*(MaxTracingSide+1) }

func (s *scanner) sign(c byte) bool {
	if len(s.text) == 0 || s.text[0] != c {
		return false
	}
	s.text = s.text[1:]
	return true
}

func (s *scanner) number() int64 {
	end := 0
	for end < len(s.text) && end < 10 && (s.text[end] == '-' && end == 0 || s.text[end] >= '0' && s.text[end] <= '9') {
		end++
	}
	v, err := strconv.ParseInt(string(s.text[:end]), 10, 64)
	s.text, s.wrong = s.text[end:], s.wrong || err != nil
	return v
}
