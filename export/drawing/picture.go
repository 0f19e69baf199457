package drawing

import (
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Picture is a finished drawing, in millimeters on paper from its top left corner.
type Picture struct {
	Title         string
	Scale         Scale
	Origin        Point // of the plan, meters: where the top left corner of the picture lies
	Width, Height float64
	Items         []Item // in the order in which they are drawn
	Legend        []LegendEntry
	Units         units.System

	// Underlay is the picture beneath, nil where there is none or it is not shown.
	Underlay *Image
}

// Image is a stored picture beneath the drawing. Turn is counterclockwise
// about its lower left corner At.
type Image struct {
	Picture       string // SHA-256 of its content
	At            Point
	Width, Height float64
	Turn          float64
	Opacity       float64

	Stored          // empty on screen, which fetches the picture by its address
	Clip   geom.Box // of a print: what of the paper it may cover, y down
}

// Item is one thing of the drawing with its shapes.
type Item struct {
	// ID is the element's: "room-<id>", "name-<room>", "wall-<id>", "opening-<wall>-<id>", "rooflight-<id>",
	// "device-<room>-<id>", "fixture-<room>-<id>", "seat-<room>-<id>", "finding-<id>";
	// rooms of one typical share the IDs of their devices. "" for what is not a thing
	// of the plan.
	ID        string
	Of, Ref   string // the room or wall that holds it ("" for a room or wall itself), and its own ID there
	Layer     Layer
	Class     string // what it is: "device", "room", ...
	Title     string // what it is called, for tooltips and screen readers
	Highlight bool
	Shapes    []Shape
}

// Shape is one mark. The set is closed: Area, Line, Disc, Text, Symbol.
type Shape interface{ shape() }

// Area is filled and outlined; rings within the first are holes (even-odd rule).
type Area struct {
	Rings [][]Point
	Style Style
}

// Line is an open run of straight lines.
type Line struct {
	Points []Point
	Style  Style
}

// Disc is a circle.
type Disc struct {
	At     Point
	Radius float64
	Style  Style
}

// Anchor is where a text's place lies along it.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Text stands on its baseline at At. Turn is counterclockwise, in degrees.
type Text struct {
	At     Point
	Text   string
	Size   float64 // of the type, millimeters
	Anchor Anchor
	Bold   bool
	Turn   float64
	Style  Style
}

// Symbol is one of the plain shapes with letters, see Symbols. Turn is
// counterclockwise, in degrees; letters keep upright.
type Symbol struct {
	Name   string
	At     Point
	Size   float64 // height in millimeters
	Turn   float64
	Facing bool // a pointer shows which way it faces
	Bare   bool // without its letters
}

func (Area) shape()   {}
func (Line) shape()   {}
func (Disc) shape()   {}
func (Text) shape()   {}
func (Symbol) shape() {}

// ToPaper maps a place on the plan in meters to the picture.
func (p *Picture) ToPaper(at Point) Point {
	k := p.Scale.PerMeter()
	return Point{X: (at.X - p.Origin.X) * k, Y: (p.Origin.Y - at.Y) * k}
}

// Each hands over every shape in the order in which it is drawn, symbols taken
// apart into plain shapes, so that a printer needs to know Area, Line, Disc
// and Text only.
func (p *Picture) Each(f func(Shape)) {
	for i := range p.Items {
		for _, s := range p.Items[i].Shapes {
			if symbol, ok := s.(Symbol); ok {
				for _, part := range symbol.parts() {
					f(part)
				}
				continue
			}
			f(s)
		}
	}
}

// Texts lists what the picture says, in the order in which it is drawn.
func (p *Picture) Texts() []string {
	var out []string
	p.Each(func(s Shape) {
		if t, ok := s.(Text); ok {
			out = append(out, t.Text)
		}
	})
	return out
}
