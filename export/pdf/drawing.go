package pdf

import (
	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// drawing sets a plan at the largest standard scale that the width of the page and the
// height of its first page, or the block's own, hold.
func (s setter) drawing(d sheet.Drawing) []*piece {
	pieces := s.caption(clean(d.Caption))
	notes := s.note(d.Note)
	room := s.room
	for _, p := range append(pieces, notes...) {
		room -= p.height + p.before
	}
	if d.Height > 0 {
		room = min(room, d.Height)
	}
	pic := d.View.Fit(s.width, room-drawingGap)
	pieces = append(pieces, &piece{height: pic.Height + drawingGap, keep: len(notes) > 0, draw: func(p *page, x, y float64) {
		p.underlay(x, y+drawingGap, pic.Underlay)
		pic.Each(func(shape drawing.Shape) { p.shape(x, y+drawingGap, shape) })
	}})
	return gap(3, append(pieces, notes...))
}

// drawingGap is the room above a drawing.
const drawingGap = 1.5

// shape puts one mark of a drawing whose top left corner is x, y on the page.
func (p *page) shape(x, y float64, shape drawing.Shape) {
	p.ops = append(p.ops, op{kind: opShape, x: x, y: y, shape: shape})
}

// shape draws one mark. Styles stay set from one mark to the next of the same style.
func (p *painter) shape(o op) {
	switch v := o.shape.(type) {
	case drawing.Area:
		how := p.style(v.Style)
		for _, ring := range v.Rings {
			p.run(o, ring)
			p.out.ClosePath()
		}
		p.out.DrawPath(how)
	case drawing.Line:
		p.style(v.Style)
		p.run(o, v.Points)
		p.out.DrawPath("S")
	case drawing.Disc:
		how := p.style(v.Style)
		if how == "f*" || how == "B*" {
			how = map[string]string{"f*": "F", "B*": "DF"}[how]
		}
		p.out.Circle(o.x+v.At.X, o.y+v.At.Y, v.Radius, how)
	case drawing.Text:
		p.drawnText(o, v)
	}
}

func (p *painter) run(o op, points []drawing.Point) {
	for i, at := range points {
		if i == 0 {
			p.out.MoveTo(o.x+at.X, o.y+at.Y)
		} else {
			p.out.LineTo(o.x+at.X, o.y+at.Y)
		}
	}
}

// style sets pen and colors and gives the operator that paints with them.
func (p *painter) style(s drawing.Style) string {
	look := s.Look()
	if s != p.pen {
		p.out.SetDrawColor(look.Line[0], look.Line[1], look.Line[2])
		p.out.SetFillColor(look.Fill[0], look.Fill[1], look.Fill[2])
		if look.Pen > 0 {
			p.out.SetLineWidth(look.Pen)
		}
		if look.Dash != p.dash {
			p.dash = look.Dash
			if p.dash > 0 {
				p.out.SetDashPattern([]float64{p.dash, p.dash}, 0)
			} else {
				p.out.SetDashPattern(nil, 0)
			}
		}
		p.pen = s
	}
	switch {
	case look.Solid && look.Pen > 0:
		return "B*"
	case look.Solid:
		return "f*"
	}
	return "S"
}

// endDrawing takes back what the styles of a drawing have set.
func (p *painter) endDrawing() {
	if p.pen == "" {
		return
	}
	if p.dash > 0 {
		p.out.SetDashPattern(nil, 0)
	}
	p.pen, p.dash = "", 0
	p.lineWidth = -1
	p.setText(p.textColor, true)
	p.setLine(p.lineColor, true)
	p.setFill(p.fillColor, true)
}

// drawnText writes a text whose place, size and turn the drawing says.
func (p *painter) drawnText(o op, v drawing.Text) {
	f, text, points := regular, p.printable(v.Text), v.Size/mmPerPoint
	if v.Bold {
		f = bold
	}
	x, y := o.x+v.At.X, o.y+v.At.Y
	left := x
	switch v.Anchor {
	case drawing.Middle:
		left -= p.t.width(text, f, points) / 2
	case drawing.End:
		left -= p.t.width(text, f, points)
	case drawing.Start:
	}
	p.style(v.Style)
	look := v.Style.Look()
	p.out.SetTextColor(look.Fill[0], look.Fill[1], look.Fill[2])
	if v.Turn != 0 {
		p.out.TransformBegin()
		p.out.TransformRotate(v.Turn, x, y)
	}
	for _, r := range p.t.runs(text, f) {
		p.setFont(r.face, points)
		p.out.Text(left, y, r.text)
		left += p.t.width(r.text, r.face, points)
	}
	if v.Turn != 0 {
		p.out.TransformEnd()
		p.fontSet, p.pen = false, "-" // the transform's end restores what was set before
	}
}
