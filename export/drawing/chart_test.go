package drawing_test

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/energy"
	"scopewright/export/drawing"
)

func threeParts() []drawing.Series {
	return []drawing.Series{{Name: "lamps", Pattern: drawing.Filled}, {Name: "standby", Pattern: drawing.Hatched}, {Name: "saved", Pattern: drawing.Hollow}}
}

// widthOf gives the extents of the fields that are filled: lamps by StyleFacing,
// standby by StyleLuminaire.
func widthsOf(p *drawing.Picture, style drawing.Style) (out []float64) {
	p.Each(func(s drawing.Shape) {
		if a, ok := s.(drawing.Area); ok && a.Style == style {
			out = append(out, a.Rings[0][1].X-a.Rings[0][0].X)
		}
	})
	return out
}

// Parts are as long as their values: 300, 100 and 200 kWh of lamps stand 3 : 1 : 2.
func TestBars_areToScale(t *testing.T) {
	b := &drawing.Bars{Title: "Energy by storey", Unit: "kWh/yr", Series: threeParts(), Rows: []drawing.Bar{
		{Name: "Level 1", Values: []float64{300, 60, 120}, Text: "360"}, {Name: "Level 2", Values: []float64{100, 0, -5}, Text: "100"}, {Name: "Level 3", Values: []float64{200, 20, 0}, Text: "220"}}}
	p := b.Picture(160)
	lamps := widthsOf(p, drawing.StyleFacing)
	require.Len(t, lamps, 4, "the legend's swatch comes first")
	assert.InDelta(t, 3, lamps[1]/lamps[2], 1e-9)
	assert.InDelta(t, 2, lamps[3]/lamps[2], 1e-9)
	assert.Len(t, widthsOf(p, drawing.StyleLuminaire), 3, "a part of nothing is not drawn")
	for _, word := range b.Words() {
		assert.Contains(t, p.Texts(), word)
	}
	assert.Subset(t, p.Texts(), []string{"0", "100", "500"})
}

// Whatever the numbers and names, all that is drawn lies on the picture.
func TestCharts_keepWithinTheirPicture(t *testing.T) {
	within := func(t *rapid.T, p *drawing.Picture) {
		p.Each(func(s drawing.Shape) {
			var points []drawing.Point
			switch v := s.(type) {
			case drawing.Area:
				points = v.Rings[0]
			case drawing.Line:
				points = v.Points
			case drawing.Disc:
				points = []drawing.Point{v.At}
			case drawing.Text:
				points = []drawing.Point{v.At}
			}
			for _, at := range points {
				require.True(t, at.X >= -1e-9 && at.X <= p.Width+1e-9 && at.Y >= -1e-9 && at.Y <= p.Height+1e-9, "%#v on %g x %g", s, p.Width, p.Height)
			}
		})
	}
	rapid.Check(t, func(t *rapid.T) {
		b := &drawing.Bars{Unit: "kWh/yr", Series: threeParts()}
		value := rapid.OneOf(rapid.Float64Range(-1e3, 1e7), rapid.Just(0.0), rapid.Float64Range(0, 1e-6))
		for range rapid.IntRange(0, 12).Draw(t, "rows") {
			b.Rows = append(b.Rows, drawing.Bar{Name: rapid.StringN(0, 60, -1).Draw(t, "name"), Values: []float64{value.Draw(t, "a"), value.Draw(t, "b"), value.Draw(t, "c")}, Text: rapid.StringN(0, 14, -1).Draw(t, "text")})
		}
		within(t, b.Picture(rapid.Float64Range(80, 300).Draw(t, "width")))
		d := &drawing.Day{Unit: "kW", Series: threeParts(), ShareName: "people in"}
		for h := range d.Columns {
			d.Columns[h], d.Share[h] = []float64{value.Draw(t, "a"), value.Draw(t, "b")}, rapid.Float64Range(0, 1).Draw(t, "share")
		}
		within(t, d.Picture(rapid.Float64Range(80, 300).Draw(t, "width")))
	})
}

// On a phone's width nothing that the charts of energy say is cut or leaves the picture;
// letters are about half as wide as high, on average.
func TestCharts_narrow(t *testing.T) {
	sum := energy.Sum{Rooms: 2, Weeks: 2, Lamps: 22100, Standby: 1940, ByHand: 27200, Played: 28900, Hand: 40200}
	for name, c := range map[string]drawing.Chart{
		"storeys": drawing.EnergyBars("Energy", []string{"Level 1", "All"}, []energy.Sum{sum, sum}),
		"saving":  drawing.SavingBars(sum), "day": drawing.EnergyDay("Day", &energy.Played{}),
	} {
		p := c.Picture(78)
		p.Each(func(s drawing.Shape) {
			at, ok := s.(drawing.Text)
			if !ok {
				return
			}
			assert.NotContains(t, at.Text, "…", name)
			wide := 0.5 * at.Size * float64(len(at.Text))
			from := map[drawing.Anchor]float64{drawing.Start: 0, drawing.Middle: wide / 2, drawing.End: wide}[at.Anchor]
			assert.True(t, at.At.X-from >= -0.5 && at.At.X-from+wide <= p.Width+0.5, "%s: %q from %g to %g of %g", name, at.Text, at.At.X-from, at.At.X-from+wide, p.Width)
		})
	}
	assert.Contains(t, drawing.SavingBars(sum).Words(), "These rooms, weeks played")
	assert.Contains(t, drawing.SavingBars(sum).Words(), "28 %", "1 - 28,900/40,200")
	sum.Weeks = 1
	assert.NotContains(t, drawing.SavingBars(sum).Words(), "These rooms, weeks played", "some rooms are not all")
}

func TestDay_columnsStandOnEachOther(t *testing.T) {
	d := &drawing.Day{Title: "An average day", Unit: "kW", Series: threeParts()[:2], ShareName: "people in (right)"}
	for h := range d.Columns {
		d.Columns[h] = []float64{0, 0}
	}
	d.Columns[9], d.Share[9] = []float64{0.5, 0.25}, 1
	p := d.Picture(120)
	var heights []float64
	p.Each(func(s drawing.Shape) {
		if a, ok := s.(drawing.Area); ok {
			heights = append(heights, math.Abs(a.Rings[0][2].Y-a.Rings[0][1].Y))
		}
	})
	require.Len(t, heights, 4, "two swatches, two parts")
	assert.InDelta(t, 2, heights[2]/heights[3], 1e-9)
	for _, word := range append(d.Words(), "09:00", "12:00") {
		assert.Contains(t, p.Texts(), word)
	}
}

func TestCharts_areWrittenAsSVG(t *testing.T) {
	b := &drawing.Bars{Title: `Energy <by> "storey"`, Unit: "kWh/yr", Series: threeParts(), Rows: []drawing.Bar{{Name: "A & B", Values: []float64{1, 2, 3}, Text: "3"}}}
	var screen, print bytes.Buffer
	require.NoError(t, drawing.SVG(&screen, b.Picture(120), drawing.SVGOptions{Screen: true, Class: "chart"}))
	require.NoError(t, drawing.SVG(&print, b.Picture(120), drawing.SVGOptions{}))
	assert.Contains(t, screen.String(), `class="plan-drawing chart"`)
	assert.Contains(t, screen.String(), `aria-label="Energy &lt;by&gt; &#34;storey&#34;"`)
	assert.Contains(t, print.String(), "A &amp; B")
	assert.NotContains(t, screen.String(), "style=")
}

// The smallest number that there is has no step of its own: its power of ten is 0.
func TestCharts_ofNumbersTooSmallToShow(t *testing.T) {
	for _, v := range []float64{5e-324, 1e-300, 1e-10, math.Inf(1), math.NaN()} {
		b := &drawing.Bars{Unit: "kWh/yr", Series: threeParts(), Rows: []drawing.Bar{{Name: "a", Values: []float64{v, 0, 0}}}}
		assert.Less(t, len(b.Picture(100).Texts()), 20, v)
	}
}
