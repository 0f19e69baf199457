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
	width, height := sizeOf(s, opt)
	height -= pageFurnish
	if d.Height > 0 {
		height = min(height, d.Height)
	}
	pic := d.View.Fit(width-pageMargins, height)
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		return drawing.SVG(w, pic, drawing.SVGOptions{PictureURL: opt.PictureURL})
	})
}

// chart writes a chart as wide as the paper holds.
func chart(s sheet.Sheet, c sheet.Chart, opt Options) templ.Component {
	width, _ := sizeOf(s, opt)
	pic := c.Chart.Picture(width - pageMargins)
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		return drawing.SVG(w, pic, drawing.SVGOptions{})
	})
}

// sizeOf gives the paper of a sheet as it lies, in millimeters.
func sizeOf(s sheet.Sheet, opt Options) (width, height float64) {
	paper, known := papers[opt.Paper]
	if !known {
		paper = papers["letter"]
	}
	if s.Landscape {
		return paper.height, paper.width
	}
	return paper.width, paper.height
}
