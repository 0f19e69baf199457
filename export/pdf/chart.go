package pdf

import (
	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// chart sets a chart as wide as the page, in one piece with its caption and note.
func (s setter) chart(c sheet.Chart) []*piece {
	pieces := s.caption(clean(c.Caption))
	notes := s.note(c.Note)
	pic := c.Chart.Picture(s.width)
	pieces = append(pieces, &piece{height: pic.Height + drawingGap, keep: len(notes) > 0, draw: func(p *page, x, y float64) {
		pic.Each(func(shape drawing.Shape) { p.shape(x, y+drawingGap, shape) })
	}})
	return gap(3, append(pieces, notes...))
}
