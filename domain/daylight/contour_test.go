package daylight_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
)

// field is a grid of points whose factor a function gives.
func field(columns, rows int, step float64, of func(p geom.Point) float64) Grid {
	g := Grid{Step: step}
	for r := range rows {
		for c := range columns {
			p := geom.Pt(3+(float64(c)+0.5)*step, -2+(float64(r)+0.5)*step)
			g.Cells = append(g.Cells, Cell{p, Factor{Sky: of(p)}})
		}
	}
	return g
}

// A plane a x + b y + c has straight contours, which linear interpolation gives
// exactly: every end lies on it, and together they cross the whole grid.
func TestContour_ofAPlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		f := func(p geom.Point) float64 { return 5 + math.Cos(turn)*(p.X-6) + math.Sin(turn)*(p.Y-1) }
		level := rapid.Float64Range(4, 6).Draw(t, "level")
		length := 0.0
		for _, s := range field(12, 12, 0.5, f).Contour(level) {
			require.InDelta(t, level, f(s.A), 1e-9)
			require.InDelta(t, level, f(s.B), 1e-9)
			length += s.Length()
		}
		require.Greater(t, length, 4.0, "the grid of 5.5 m is crossed within 1 m of its middle")
		require.Less(t, length, 5.5*math.Sqrt2+1e-9)
	})
}

// A ring about a peak: 2 pi r within what chords of a 0.1 m grid leave.
func TestContour_ofAPeak(t *testing.T) {
	f := func(p geom.Point) float64 { return 10 - p.Distance(geom.Pt(6, 1)) }
	length := 0.0
	for _, s := range field(60, 60, 0.1, f).Contour(8) {
		assert.InDelta(t, 2, s.At(0.5).Distance(geom.Pt(6, 1)), 0.002)
		length += s.Length()
	}
	assert.InEpsilon(t, 4*math.Pi, length, 0.002)
}

// Crosswise corners: the middle says which two are joined. Points that are missing
// leave their squares without a line.
func TestContour_saddlesAndGaps(t *testing.T) {
	saddle := func(low float64) Grid {
		g := field(2, 2, 1, func(geom.Point) float64 { return 0 })
		for i, v := range []float64{4, low, low, 4} { // lower left, lower right, upper left, upper right
			g.Cells[i].Sky = v
		}
		return g
	}
	joined := saddle(1).Contour(2) // middle 2.5: the high corners are joined
	require.Len(t, joined, 2)
	for _, s := range joined {
		assert.Less(t, s.Length(), 1.0)
	}
	near := func(s geom.Segment, p geom.Point) float64 { return s.At(0.5).Distance(p) }
	low := geom.Pt(4.5, -1.5)
	assert.Less(t, min(near(joined[0], low), near(joined[1], low)), 0.5, "each line cuts off a low corner")
	apart := saddle(-1).Contour(2) // middle 1.5: the low ones are
	require.Len(t, apart, 2)
	high := geom.Pt(3.5, -1.5)
	assert.Less(t, min(near(apart[0], high), near(apart[1], high)), 0.5)
	g := saddle(1)
	g.Cells = g.Cells[:3]
	assert.Empty(t, g.Contour(2))
	assert.Empty(t, Grid{}.Contour(2))
	assert.Empty(t, saddle(1).Contour(5), "all lie below")
}
