package export

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// Room that a drawing's file leaves on its paper, in millimeters: the margins, and the
// lines at the foot that say what it is.
const (
	svgMargins = 20.0
	svgFoot    = 30.0
)

// writeSVG writes one of the document's drawings for its paper, with the words at its foot
// that a sheet carries in its title block.
func writeSVG(w io.Writer, doc sheet.Document, opt Options) error {
	d, err := oneDrawing(doc, opt)
	if err != nil {
		return fmt.Errorf("SVG of %q: %w", doc.Title, err)
	}
	width, height, err := opt.Paper.Size()
	if err != nil {
		return err
	}
	if d.Sheet.Landscape {
		width, height = height, width
	}
	pic := d.Drawing.View.Fit(width-svgMargins, height-svgMargins-svgFoot)
	pic.Foot(footOf(d)...)
	return drawing.SVG(w, pic, drawing.SVGOptions{File: true})
}

// writeDXF writes one of the document's drawings at full size, for other programs.
func writeDXF(w io.Writer, doc sheet.Document, opt Options) error {
	d, err := oneDrawing(doc, opt)
	if err != nil {
		return fmt.Errorf("DXF of %q: %w", doc.Title, err)
	}
	return drawing.DXF(w, d.Drawing.View)
}

// oneDrawing picks the drawing that the options name.
func oneDrawing(doc sheet.Document, opt Options) (sheet.NamedDrawing, error) {
	drawings := doc.Drawings()
	switch {
	case len(drawings) == 0:
		return sheet.NamedDrawing{}, errors.New("no storey has been drawn yet")
	case opt.Table < 0 || opt.Table >= len(drawings):
		return sheet.NamedDrawing{}, fmt.Errorf("drawing %d of %d does not exist", opt.Table+1, len(drawings))
	}
	return drawings[opt.Table], doc.Validate()
}

func footOf(d sheet.NamedDrawing) []string {
	h := d.Sheet.Head
	var origin, state []string
	for _, f := range h.Origin() {
		origin = append(origin, f.Value)
	}
	for _, f := range h.State() {
		state = append(state, f.Name+" "+f.Value)
	}
	lines := []string{d.Sheet.Number + ", " + d.Sheet.Title, strings.Join(origin, ", "), strings.Join(state, ", ")}
	if h.Invented {
		lines = append(lines, sheet.InventedNotice)
	}
	return append(lines, d.Drawing.Note, h.Caution)
}
