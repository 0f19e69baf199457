package drawing_test

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// large is a storey of 300 rooms with 10 devices, 18 luminaires and 12 seats each.
func large() *drawing.View {
	p, plan, rooms := classrooms(300, units.SI)
	for _, r := range rooms {
		box := r.Outline.Bounds()
		for i := range 4 {
			d := r.Design.Devices[3]
			at := geom.Pt(box.Min.X+1+1.9*float64(i), box.Min.Y+1.2)
			d.ID, d.Tag, d.At = d.ID+"x", "PS-9", &at
			d.ID += d.ID[:1]
			r.Design.Devices = append(r.Design.Devices, d)
		}
	}
	return drawing.StoreyView(p, plan, rooms, drawing.Options{})
}

type counter int

func (c *counter) Write(b []byte) (int, error) { *c += counter(len(b)); return len(b), nil }

func BenchmarkStoreyOf3000Devices(b *testing.B) {
	view := large()
	var size counter
	b.ReportAllocs()
	for b.Loop() {
		size = 0
		require.NoError(b, drawing.SVG(&size, view.Draw(drawing.DefaultScale), drawing.SVGOptions{Screen: true}))
	}
	b.ReportMetric(float64(size)/1e6, "MB")
}

func BenchmarkSVGOf3000Devices(b *testing.B) {
	pic := large().Draw(drawing.DefaultScale)
	for b.Loop() {
		require.NoError(b, drawing.SVG(io.Discard, pic, drawing.SVGOptions{Screen: true}))
	}
}
