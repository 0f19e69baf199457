package building

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// A rectangle of any size, place, angle and winding is found again: drawn on a plan
// it covers what the file's shape covers.
func TestRooflightOf_findsRectanglesAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(0.1, 20)
		is := domain.Rooflight{At: geom.Pt(rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y")), Turn: float64(rapid.IntRange(0, 359).Draw(t, "turn"))}
		w, h := side.Draw(t, "width"), side.Draw(t, "length")
		is.Width, is.Length = 1, 1
		corners := scaled(is, w, h)
		if rapid.Bool().Draw(t, "clockwise") {
			corners[1], corners[3] = corners[3], corners[1]
		}
		l, exact, ok := RooflightOf(corners)
		require.True(t, ok)
		require.True(t, exact)
		require.True(t, l.Turn >= 0 && l.Turn < 90, "%g", l.Turn)
		require.InDelta(t, is.At.X, l.At.X, 1e-6)
		require.InDelta(t, is.At.Y, l.At.Y, 1e-6)
		require.InDelta(t, w*h, float64(l.Width*l.Length), 1e-6*w*h+1e-9)
		drawn := domain.Rooflight{At: l.At, Width: l.Width, Length: l.Length, Turn: l.Turn}
		both, err := geom.OverlapArea(drawn.Box(), geom.Polygon{Outer: corners}.Oriented())
		require.NoError(t, err)
		require.InDelta(t, w*h, both, 0.01*w*h, "the same place on the plan, to the hundredth of a degree that is kept")
	})
}

// scaled gives the corners of a turned rectangle by the rotation's own formula.
func scaled(l domain.Rooflight, w, h float64) []geom.Point {
	sin, cos := math.Sincos(l.Turn * math.Pi / 180)
	out := make([]geom.Point, 4)
	for i, c := range [][2]float64{{-w / 2, -h / 2}, {w / 2, -h / 2}, {w / 2, h / 2}, {-w / 2, h / 2}} {
		out[i] = geom.Pt(l.At.X+c[0]*cos-c[1]*sin, l.At.Y+c[0]*sin+c[1]*cos)
	}
	return out
}

func TestRooflightOf_otherShapesKeepTheirArea(t *testing.T) {
	l, exact, ok := RooflightOf([]geom.Point{geom.Pt(0, 0), geom.Pt(2, 0), geom.Pt(2, 1), geom.Pt(1, 1), geom.Pt(1, 2), geom.Pt(0, 2)})
	require.True(t, ok)
	assert.False(t, exact)
	assert.InDelta(t, 3, float64(l.Width*l.Length), 1e-9, "an L of 3 m2 in a square of 4 m2")
	assert.InDelta(t, math.Sqrt(3), float64(l.Width), 1e-9)
	assert.Equal(t, geom.Pt(1, 1), l.At)
	for _, none := range [][]geom.Point{nil, {geom.Pt(0, 0), geom.Pt(1, 0)}, {geom.Pt(0, 0), geom.Pt(1, 0), geom.Pt(2, 0)}, {geom.Pt(math.NaN(), 0), geom.Pt(1, 0), geom.Pt(1, 1)}} {
		_, _, ok := RooflightOf(none)
		assert.False(t, ok, "%v", none)
	}
}

// The share of Rivero's curve by direct summation: transmitted over incident flux
// of a uniform hemisphere, whose weight at incidence i is sin 2i.
func TestDiffuse_byRiverosCurve(t *testing.T) {
	const n = 100_000
	sum, weight := 0.0, 0.0
	for k := range n {
		i := (float64(k) + 0.5) / n * math.Pi / 2
		sin, cos := math.Sincos(i)
		w := math.Sin(2 * i)
		sum += w * 1.018 * cos * (1 + sin*sin*sin)
		weight += w
	}
	assert.InDelta(t, diffuseShare, sum/weight/1.018, 5e-5)
	assert.InDelta(t, 0.699, Diffuse(0.81), 1e-9, "0.81 x 0.8630")
	for _, v := range []float64{0, -0.1, 1.001, math.NaN(), math.Inf(1)} {
		assert.Zero(t, Diffuse(v), "%g", v)
	}
	assert.Positive(t, Diffuse(1))
}
