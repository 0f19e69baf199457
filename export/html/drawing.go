package html

import (
	"context"
	"io"

	"github.com/a-h/templ"

	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// paperSize is a paper upright, in millimeters.
type paperSize struct{ width, height float64 }

// papers are those of export/pdf, which a test holds alike.
var papers = map[string]paperSize{
	"letter": {215.9, 279.4}, "a4": {210, 297}, "tabloid": {279.4, 431.8}, "a3": {297, 420},
	"arch-c": {457.2, 609.6}, "a2": {420, 594}, "arch-d": {609.6, 914.4}, "a1": {594, 841},
}

// What a page keeps free around and above a drawing, in millimeters: the margins of
// css/paper-*.css, and the title block and foot of a sheet.
const (
	pageMargins = 24.0
	pageFurnish = 82.0
)

// plan writes the drawing at the largest standard scale that the paper holds.
func plan(s sheet.Sheet, d sheet.Drawing, opt Options) templ.Component {
	paper, known := papers[opt.Paper]
	if !known {
		paper = papers["letter"]
	}
	width, height := paper.width, paper.height
	if s.Landscape {
		width, height = height, width
	}
	height -= pageFurnish
	if d.Height > 0 {
		height = min(height, d.Height)
	}
	pic := d.View.Fit(width-pageMargins, height)
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		return drawing.SVG(w, pic, drawing.SVGOptions{PictureURL: opt.PictureURL})
	})
}
