package energy

import (
	"context"
	"io"

	"github.com/a-h/templ"

	"scopewright/export/drawing"
)

// Widths of charts on screen, in the millimeters in which they are drawn: the page sets
// their size, and shows the one whose letters can be read.
const (
	wideChart   = 150
	narrowChart = 78
)

// chart writes a chart into the page, once for a wide window and once for a phone.
func chart(c drawing.Chart) templ.Component {
	wide, narrow := c.Picture(wideChart), c.Picture(narrowChart)
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		if err := drawing.SVG(w, wide, drawing.SVGOptions{Screen: true, Class: "chart wide"}); err != nil {
			return err
		}
		return drawing.SVG(w, narrow, drawing.SVGOptions{Screen: true, Class: "chart narrow"})
	})
}
