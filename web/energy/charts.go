package energy

import (
	"context"
	"io"

	"github.com/a-h/templ"

	"scopewright/export/drawing"
)

// chartWidth is that of charts on screen, in the millimeters in which they are drawn:
// the page sets their size.
const chartWidth = 150

// chart writes a chart into the page.
func chart(c drawing.Chart) templ.Component {
	pic := c.Picture(chartWidth)
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		return drawing.SVG(w, pic, drawing.SVGOptions{Screen: true, Class: "chart"})
	})
}
