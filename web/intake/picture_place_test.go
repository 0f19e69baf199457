package intake

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// onPlan gives where a pixel of a placed picture lies, by the definition of
// domain.Underlay: scaled to its width and height, turned about its lower left
// corner.
func onPlan(u *domain.Underlay, q geom.Point, width, height int) geom.Point {
	p := geom.Pt(q.X/float64(width)*float64(u.Width), (float64(height)-q.Y)/float64(height)*float64(u.Height))
	return u.At.Add(p.Rotate(geom.Point{}, u.Turn*math.Pi/180))
}

func TestPlacing_byHand(t *testing.T) {
	// 1000 x 500 pixels; 400 pixels across are 20 m, so a pixel is 50 mm.
	p := placing{A: geom.Pt(100, 400), B: geom.Pt(500, 400), Distance: 20, At: geom.Pt(2, 3)}
	u, err := p.underlay("sha", 1000, 500)
	require.NoError(t, err)
	assert.Equal(t, &domain.Underlay{Picture: "sha", At: geom.Pt(-3, -2), Width: 50, Height: 25}, u)
	assert.InDelta(t, 0.005, p.doubt(), 1e-12, "2 pixels of 400")

	// The same line upright on the plan: the picture turns by a quarter.
	p.Turned, p.Direction = true, 90
	u, err = p.underlay("sha", 1000, 500)
	require.NoError(t, err)
	assert.InDelta(t, 90, u.Turn, 1e-9)
	assert.InDelta(t, 7, u.At.X, 1e-9)
	assert.InDelta(t, -2, u.At.Y, 1e-9)
}

func TestPlacing_refuses(t *testing.T) {
	ok := placing{A: geom.Pt(0, 0), B: geom.Pt(100, 0), Distance: 5}
	for want, change := range map[string]func(*placing){
		"farther from each other": func(p *placing) { p.B = geom.Pt(19, 0) },
		"on the picture":          func(p *placing) { p.B.X = 101 },
		"say how far":             func(p *placing) { p.Distance = 0 },
		"its unit again":          func(p *placing) { p.Distance = 20_000 },
	} {
		p := ok
		change(&p)
		_, err := p.underlay("sha", 100, 100)
		assert.ErrorContains(t, err, want)
	}
	nan := ok
	nan.A.X = math.NaN()
	_, err := nan.underlay("sha", 100, 100)
	assert.Error(t, err)
}

// Wherever the points are, the first lands where it is said to lie, and the
// second at the distance and in the direction that are said.
func TestPlacing_bothPointsLandWhereTheyShould(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.IntRange(100, 4000).Draw(t, "width"), rapid.IntRange(100, 4000).Draw(t, "height")
		point := func(label string) geom.Point {
			return geom.Pt(rapid.Float64Range(0, float64(width)).Draw(t, label+" x"), rapid.Float64Range(0, float64(height)).Draw(t, label+" y"))
		}
		p := placing{A: point("a"), B: point("b"), Distance: units.Metres(rapid.Float64Range(1, 50).Draw(t, "distance")), Turned: true,
			Direction: rapid.Float64Range(-360, 360).Draw(t, "direction"), At: geom.Pt(rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y"))}
		if p.A.Distance(p.B) < 100 {
			t.Skip("too near")
		}
		u, err := p.underlay("sha", width, height)
		if err != nil {
			t.Fatal(err)
		}
		a, b := onPlan(u, p.A, width, height), onPlan(u, p.B, width, height)
		want := p.At.Add(geom.Pt(float64(p.Distance), 0).Rotate(geom.Point{}, p.Direction*math.Pi/180))
		// Places are kept to a millimeter and angles to a thousandth of a degree, on pictures up to 2 km.
		reach := math.Hypot(float64(u.Width), float64(u.Height))
		tolerance := 0.003 + reach*2e-5
		if !a.Near(p.At, tolerance) || !b.Near(want, tolerance) {
			t.Fatalf("%v is at %v, %v at %v; wanted %v and %v", p.A, a, p.B, b, p.At, want)
		}
	})
}
