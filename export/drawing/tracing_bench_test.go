package drawing_test

import (
	"testing"

	"scopewright/domain/geom"
	"scopewright/export/drawing"
)

// fine is a storey of 100 x 80 m drawn with 100,000 short pieces.
func fine() []drawing.Stroke {
	out := make([]drawing.Stroke, 0, 100_000)
	for i := range 100_000 {
		x, y := float64(i%1000)/10, float64(i/1000)*0.8
		out = append(out, drawing.Stroke{Points: []geom.Point{{X: x, Y: y}, {X: x + 0.07, Y: y + 0.3}}})
	}
	return out
}

func BenchmarkTracing_100000Pieces(b *testing.B) {
	lines := fine()
	b.ReportAllocs()
	for b.Loop() {
		t, _, err := drawing.NewTracing(lines)
		if err != nil {
			b.Fatal(err)
		}
		data := t.Encode()
		if _, err := drawing.ReadTracing(data); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(data))/1e6, "MB")
	}
}
