package drawing_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// lit draws the first classroom with something of daylight over it.
func lit(d *drawing.Daylight, without ...drawing.Layer) *drawing.Picture {
	p, plan, rooms := classrooms(1, units.SI)
	v := drawing.RoomView(p, plan, rooms[0], rooms, drawing.Options{Furniture: true, Daylight: d, Layers: drawing.Without(append(without, drawing.LayerSeats, drawing.LayerNames, drawing.LayerDevices)...)})
	return v.Draw(drawing.Scale{Ratio: 50, Name: "1:50"})
}

func lines(p *drawing.Picture, style drawing.Style, class string) (out []drawing.Line) {
	for _, item := range p.Items {
		for _, s := range item.Shapes {
			if l, is := s.(drawing.Line); is && l.Style == style && item.Class == class {
				out = append(out, l)
			}
		}
	}
	return out
}

// Lines at an even spacing have together an area's size over the spacing: 1.8 mm for a
// primary zone, 3.2 mm for a secondary one, within a line's part at the edges. None of
// them leaves the zone.
func TestDaylight_hatchFillsItsZoneAndNothingElse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := rapid.Float64Range(-3, 3).Draw(t, "turn")
		w, h := rapid.Float64Range(2, 4).Draw(t, "w"), rapid.Float64Range(2, 4).Draw(t, "h")
		zone := geom.Rectangle(2, 2, w, h).Rotate(geom.Pt(3, 3), turn)
		kind, spacing := drawing.PrimaryZone, 1.8
		if rapid.Bool().Draw(t, "secondary") {
			kind, spacing = drawing.SecondaryZone, 3.2
		}
		pic := lit(&drawing.Daylight{Zones: []drawing.DaylightZone{{Kind: kind, Parts: []geom.Polygon{zone}, Label: []string{"Zone"}}}})
		sum := 0.0
		onPaper := zone.Map(pic.ToPaper)
		for _, l := range lines(pic, drawing.StyleHatch, "zone") {
			sum += l.Points[0].Distance(l.Points[1])
			middle := l.Points[0].Add(l.Points[1]).Times(0.5)
			require.True(t, onPaper.Contains(middle))
			for _, end := range l.Points {
				_, off := onPaper.NearestOnBoundary(end)
				require.Less(t, off, 1e-6)
			}
		}
		area := w * h * 400 // mm2 at 1:50
		require.InEpsilon(t, area/spacing, sum, 0.08)
	})
}

// A hole in a zone stays free of lines.
func TestDaylight_hatchLeavesHolesOut(t *testing.T) {
	zone := geom.Polygon{Outer: geom.Rectangle(1, 1, 5, 5).Outer, Holes: [][]geom.Point{geom.Rectangle(2, 2, 3, 3).Outer}}
	pic := lit(&drawing.Daylight{Zones: []drawing.DaylightZone{{Kind: drawing.ToplitZone, Parts: []geom.Polygon{zone}, Label: []string{"Toplit"}}}})
	found := lines(pic, drawing.StyleHatch, "zone")
	require.NotEmpty(t, found)
	hole := geom.Rectangle(2, 2, 3, 3).Map(pic.ToPaper)
	for _, l := range found {
		assert.False(t, hole.Contains(l.Points[0].Add(l.Points[1]).Times(0.5)))
	}
}

// How a luminaire hangs shows in its shape, not in a color: full, half, empty.
func TestDaylight_luminairesDifferInShape(t *testing.T) {
	outline := geom.Rectangle(2, 2, 1.2, 0.3).Outer
	full := map[drawing.Hanging]float64{}
	for _, how := range []drawing.Hanging{drawing.HangsIn, drawing.HangsAcross, drawing.HangsOut} {
		pic := lit(&drawing.Daylight{Hung: []drawing.Hung{{ID: "f0", Outline: outline, How: how}}})
		for _, item := range pic.Items {
			for _, s := range item.Shapes {
				if a, is := s.(drawing.Area); is && item.Class == "fixture" && a.Style == drawing.StyleBar {
					full[how] += math.Abs(geom.SignedArea(a.Rings[0]))
				}
			}
		}
		assert.Contains(t, legendOf(pic), map[drawing.Hanging]string{drawing.HangsIn: "Luminaire within a zone", drawing.HangsAcross: "Luminaire across a zone's edge", drawing.HangsOut: "Luminaire in no zone"}[how])
	}
	size := 1.2 * 0.3 * 400 // mm2 at 1:50
	assert.InDelta(t, size, full[drawing.HangsIn], 1e-6)
	assert.InDelta(t, size/2, full[drawing.HangsAcross], 1e-6)
	assert.Zero(t, full[drawing.HangsOut])
}

func legendOf(p *drawing.Picture) (out []string) {
	for _, e := range p.Legend {
		out = append(out, e.Meaning)
	}
	return out
}

// Of a grid so many numbers are printed as have room, and none over another, over a
// contour or over a zone's label.
func TestDaylight_numbersHaveRoom(t *testing.T) {
	d := &drawing.Daylight{Step: 0.25, Contours: []drawing.Contour{{Label: "2 %", Main: true, Lines: []geom.Segment{{A: geom.Pt(4, 0.5), B: geom.Pt(4, 6)}}}}}
	for r := range 28 {
		for c := range 32 {
			d.Values = append(d.Values, drawing.Value{At: geom.Pt(0.125+0.25*float64(c), 0.125+0.25*float64(r)), Column: c, Row: r, Text: "2.5"})
		}
	}
	pic := lit(d, drawing.LayerLuminaires)
	var at []drawing.Point
	for _, item := range pic.Items {
		for _, s := range item.Shapes {
			if text, is := s.(drawing.Text); is && item.Class == "values" {
				at = append(at, text.At)
			}
		}
	}
	require.Greater(t, len(at), 100)
	require.Less(t, len(at), 28*32)
	line := pic.ToPaper(geom.Pt(4, 3)).X
	for i, p := range at {
		assert.Greater(t, math.Abs(p.X-line), 0.8, "the contour runs free")
		for _, q := range at[:i] {
			assert.True(t, math.Abs(p.X-q.X) > 4.9 || math.Abs(p.Y-q.Y) > 3.1, "%v and %v", p, q)
		}
	}
	assert.Contains(t, pic.Texts(), "2 %")
}

// A short window bears its tag alone; what a view says at any scale it says at each.
func TestDaylight_windowsAndWords(t *testing.T) {
	d := &drawing.Daylight{Windows: []drawing.WindowNote{{A: geom.Pt(1, 0), B: geom.Pt(5, 0), Tag: "W1", More: "2.1 m assumed"}, {A: geom.Pt(6, 0), B: geom.Pt(6.2, 0), Tag: "W2", More: "2.1 m assumed"}},
		Zones: []drawing.DaylightZone{{Kind: drawing.PrimaryZone, Parts: []geom.Polygon{geom.Rectangle(1, 0, 4, 3)}, Label: []string{"Primary", "12 m2"}}}}
	p, plan, rooms := classrooms(1, units.SI)
	v := drawing.RoomView(p, plan, rooms[0], rooms, drawing.Options{Furniture: true, Daylight: d, Layers: drawing.Without(drawing.LayerSeats, drawing.LayerNames, drawing.LayerLuminaires)})
	texts := v.Draw(drawing.Scale{Ratio: 50}).Texts()
	assert.Contains(t, texts, "W1 2.1 m assumed")
	assert.Contains(t, texts, "W2")
	for _, ratio := range []float64{20, 50, 100, 200, 500} {
		said := strings.Join(v.Draw(drawing.Scale{Ratio: ratio}).Texts(), "\n")
		for _, w := range v.Words() {
			if slices.Contains([]string{"W1", "W2", "Primary", "12 m2"}, w) {
				assert.Contains(t, said, w, "1:%g", ratio)
			}
		}
	}
}

func TestDaylightFactorText(t *testing.T) {
	for v, want := range map[float64]string{0.04: "0.0", 0.05: "0.1", 1.94: "1.9", 9.94: "9.9", 9.95: "10", 9.96: "10", 23.4: "23"} {
		assert.Equal(t, want, drawing.DaylightFactorText(v), "%g", v)
	}
}
