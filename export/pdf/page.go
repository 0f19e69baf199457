package pdf

import "scopewright/export/drawing"

// color is an entry of the palette. Everything that carries meaning by color also
// carries a word or a sign.
type color uint8

const (
	ink color = iota
	gray
	hairline
	tint
	accent
	red
	amber
	white
)

// palette holds red, green, blue; all text colors have a contrast of at least 4.5 to 1 on white.
var palette = [...][3]int{
	ink:      {24, 28, 33},
	gray:     {92, 101, 112},
	hairline: {196, 203, 210},
	tint:     {242, 245, 247},
	accent:   {19, 69, 72},
	red:      {160, 34, 26},
	amber:    {134, 84, 0},
	white:    {255, 255, 255},
}

type opKind uint8

const (
	opText opKind = iota
	opUpright
	opLine
	opRect
	opFill
	opTriangle
	opPageOf
	opShape
	opUnderlay
)

// op is one mark on the paper, in millimetres from the top left corner. Text stands on
// its baseline; x, y of an upright text is the foot of its baseline, reading upwards.
type op struct {
	kind       opKind
	face       face
	color      color
	size       float64 // points, or line width in millimetres
	x, y, w, h float64
	text       string
	shape      drawing.Shape  // of a drawing whose top left corner is x, y
	underlay   *drawing.Image // of that drawing
}

// page is a laid-out page, before it becomes PDF.
type page struct {
	width, height float64
	ops           []op
}

func (p *page) text(x, y float64, s string, f face, size float64, c color) {
	if s != "" {
		p.ops = append(p.ops, op{kind: opText, x: x, y: y, text: s, face: f, size: size, color: c})
	}
}

// upright writes a text that reads from bottom to top.
func (p *page) upright(x, y float64, s string, f face, size float64, c color) {
	if s != "" {
		p.ops = append(p.ops, op{kind: opUpright, x: x, y: y, text: s, face: f, size: size, color: c})
	}
}

func (p *page) line(x1, y1, x2, y2, width float64, c color) {
	p.ops = append(p.ops, op{kind: opLine, x: x1, y: y1, w: x2 - x1, h: y2 - y1, size: width, color: c})
}

func (p *page) rect(x, y, w, h, width float64, c color) {
	p.ops = append(p.ops, op{kind: opRect, x: x, y: y, w: w, h: h, size: width, color: c})
}

func (p *page) fill(x, y, w, h float64, c color) {
	p.ops = append(p.ops, op{kind: opFill, x: x, y: y, w: w, h: h, color: c})
}

// triangle draws a revision triangle in the box.
func (p *page) triangle(x, y, w, h float64, c color) {
	p.ops = append(p.ops, op{kind: opTriangle, x: x, y: y, w: w, h: h, size: 0.2, color: c})
}

// pageOf leaves room for the page on which the numbered sheet starts, right aligned at x + w.
// fallback is printed when the document has no such sheet.
func (p *page) pageOf(number, fallback string, x, y, w, size float64) {
	p.ops = append(p.ops, op{kind: opPageOf, x: x, y: y, w: w, text: number + "\x00" + fallback, size: size, color: ink})
}
