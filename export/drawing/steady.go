package drawing

import (
	"bufio"
	"bytes"
	"io"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Steady is the drawing of a storey for a screen, in pieces that stay as they
// are while what they show does: who holds an earlier one sees by the pieces
// what has changed. Labels keep clear of what is in their own room and of walls,
// so that no room's piece hangs on what its neighbors hold.
type Steady struct {
	Picture  *Picture // its frame, without items
	Box      geom.Box // of what is drawn, meters
	Walls    *Piece   // with rooflights
	Rooms    []*Piece // in the order of the rooms
	Findings *Piece
	found    map[Finding][]Element
}

// Piece is what a drawing shows of one room, of the walls or of the findings. It
// is shared between drawings and never changed.
type Piece struct {
	Elements []Element // by layer
	of       pieceOf
	walls    *wallGround // of the walls' own piece
}

// Element is one thing of the drawing as a group of SVG.
type Element struct {
	ID     string // see Item
	Layer  Layer
	Markup string
}

// pieceOf is all that a piece hangs on. Values are shared and never change, so
// they are told apart by their addresses.
type pieceOf struct {
	project *domain.Project
	plan    *domain.Plan
	room    *domain.Resolved
	frame   frame
}

// frame is where the picture lies on the plan.
type frame struct {
	origin        Point
	width, height float64
	scale         Scale
}

// frameStep is the grid that a screen's drawing ends on, in meters: what grows
// at the edge seldom moves the corner that all else is measured from.
const frameStep = 4.0

// NewSteady draws a storey for a screen and takes over from an earlier drawing
// of it, which may be nil, what has not changed.
func NewSteady(p *domain.Project, plan *domain.Plan, rooms []*domain.Resolved, opt Options, before *Steady) *Steady {
	if opt.Scale.Ratio <= 0 {
		opt.Scale = DefaultScale
	}
	v := StoreyView(p, plan, rooms, opt)
	s := &Steady{Box: v.box}
	if !v.empty {
		v.box = outward(v.box, frameStep)
	}
	b := newBoard(v, opt.Scale, 0)
	b.underlay()
	s.Picture = b.pic
	of := pieceOf{project: p, plan: v.plan, frame: frame{b.pic.Origin, b.pic.Width, b.pic.Height, b.pic.Scale}}
	s.Walls = steadyWalls(v, of, before)
	kept := before.byRoom(of)
	for _, r := range rooms {
		of.room = r
		one := kept[r]
		if one == nil || s.Walls != before.Walls && !s.Walls.walls.sameAround(before.Walls.walls, roomGround(r)) {
			one = b.steadyRoom(r, of, s.Walls)
		}
		s.Rooms = append(s.Rooms, one)
	}
	s.Findings, s.found = v.steadyFindings(of, before)
	return s
}

// steadyFindings draws only those that the drawing before did not mark alike.
func (v *View) steadyFindings(of pieceOf, before *Steady) (*Piece, map[Finding][]Element) {
	of.plan, of.room = nil, nil
	out, found := &Piece{of: of}, make(map[Finding][]Element, len(v.opt.Findings))
	alike := before != nil && before.Findings.of == of
	for _, f := range v.opt.Findings {
		elements, drawn := []Element(nil), false
		if alike {
			elements, drawn = before.found[f]
		}
		if !drawn {
			one := *v
			one.opt.Findings = []Finding{f}
			b := newBoard(&one, v.opt.Scale, 0)
			b.findings()
			elements = b.piece(of).Elements
		}
		found[f] = elements
		out.Elements = append(out.Elements, elements...)
	}
	return out, found
}

func outward(b geom.Box, step float64) geom.Box {
	return geom.Box{Min: Point{X: math.Floor(b.Min.X/step) * step, Y: math.Floor(b.Min.Y/step) * step},
		Max: Point{X: math.Ceil(b.Max.X/step) * step, Y: math.Ceil(b.Max.Y/step) * step}}
}

// byRoom gives the pieces that hold as far as project and frame go.
func (s *Steady) byRoom(now pieceOf) map[*domain.Resolved]*Piece {
	if s == nil || len(s.Rooms) == 0 {
		return nil
	}
	out := make(map[*domain.Resolved]*Piece, len(s.Rooms))
	for _, one := range s.Rooms {
		if one.of.project == now.project && one.of.frame == now.frame {
			out[one.of.room] = one
		}
	}
	return out
}

func steadyWalls(v *View, of pieceOf, before *Steady) *Piece {
	if before != nil && before.Walls.of == of {
		return before.Walls
	}
	b := newBoard(v, v.opt.Scale, 0)
	b.walls()
	b.rooflights()
	out := b.piece(of)
	out.walls = &wallGround{walls: v.plan.Walls, taken: b.taken}
	return out
}

// steadyRoom draws one room alone, over the walls.
func (b *board) steadyRoom(r *domain.Resolved, of pieceOf, walls *Piece) *Piece {
	v := *b.v
	v.rooms = []*domain.Resolved{r}
	one := newBoard(&v, v.opt.Scale, 0)
	one.taken.beneath = &walls.walls.taken
	one.rooms()
	one.seats()
	one.luminaires()
	one.devices()
	one.names()
	one.tags()
	return one.piece(of)
}

func (b *board) piece(of pieceOf) *Piece {
	pic := b.finish()
	out := &Piece{of: of}
	var buf bytes.Buffer
	s := &svg{w: bufio.NewWriter(&buf), opt: SVGOptions{Screen: true}, p: pic}
	for i := range pic.Items {
		item := &pic.Items[i]
		if item.ID == "" {
			continue // nothing of a storey
		}
		buf.Reset()
		s.item(item)
		s.w.Flush() //nolint:errcheck // a buffer takes everything
		out.Elements = append(out.Elements, Element{item.ID, item.Layer, buf.String()})
	}
	return out
}

// wallGround is what the walls take of the ground, for the rooms' labels.
type wallGround struct {
	walls []domain.Wall
	taken crowd
}

// sameAround tells that the walls in a box are the same in both, and that either
// both have walls or none has.
func (g *wallGround) sameAround(before *wallGround, box geom.Box) bool {
	if (len(g.walls) == 0) != (len(before.walls) == 0) {
		return false
	}
	return slices.EqualFunc(g.around(box), before.around(box), sameWall)
}

func (g *wallGround) around(box geom.Box) []*domain.Wall {
	var out []*domain.Wall
	for i := range g.walls {
		if w := &g.walls[i]; w.A.Finite() && w.B.Finite() {
			if line, _ := geom.BoundsOf(w.A, w.B); line.Touches(box) {
				out = append(out, w)
			}
		}
	}
	return out
}

func sameWall(a, b *domain.Wall) bool {
	return a.A == b.A && a.B == b.B && a.Kind == b.Kind && a.Thickness == b.Thickness && slices.Equal(a.Openings, b.Openings)
}

// roomGround is where a room's labels may come to lie, meters.
func roomGround(r *domain.Resolved) geom.Box {
	places := append(slices.Clone(r.Outline.Outer), placesOf(r)...)
	box, _ := geom.BoundsOf(slices.DeleteFunc(places, func(p Point) bool { return !p.Finite() })...)
	return box.Grow(3)
}

// SVG writes the drawing as SVG does for a screen. Every layer has its group, also
// where it is empty.
func (s *Steady) SVG(w io.Writer, pictureURL func(string) string) error {
	out := &svg{w: bufio.NewWriterSize(w, 1<<16), opt: SVGOptions{Screen: true, PictureURL: pictureURL}, p: s.Picture}
	out.head()
	out.underlay()
	for _, l := range Layers() {
		if l == LayerUnderlay {
			continue
		}
		out.str(`<g data-layer="`, string(l), `">`)
		for _, p := range s.Pieces() {
			for i := range p.Elements {
				if p.Elements[i].Layer == l {
					out.str(p.Elements[i].Markup)
				}
			}
		}
		out.str("</g>")
	}
	out.str("</svg>")
	return out.w.Flush()
}

// Pieces lists all pieces in the order in which each layer holds them.
func (s *Steady) Pieces() []*Piece {
	return append(append([]*Piece{s.Walls}, s.Rooms...), s.Findings)
}

// Underlay gives the group of the picture beneath, "" for none.
func (s *Steady) Underlay(pictureURL func(string) string) string {
	var buf bytes.Buffer
	out := &svg{w: bufio.NewWriter(&buf), opt: SVGOptions{Screen: true, PictureURL: pictureURL}, p: s.Picture}
	out.underlay()
	out.w.Flush() //nolint:errcheck // a buffer takes everything
	return buf.String()
}
