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

// place fits a placing and lays it.
func place(p placing) (*domain.Underlay, fitted, error) {
	f, err := p.fit()
	if err != nil {
		return nil, f, err
	}
	u, err := p.underlay("sha", f)
	return u, f, err
}

func TestPlacing_byHand(t *testing.T) {
	// 1000 x 500 pixels; 400 pixels across are 20 m, so a pixel is 50 mm.
	p := placing{width: 1000, height: 500, A: geom.Pt(100, 400), B: geom.Pt(500, 400), Distance: 20, At: geom.Pt(2, 3), Marked: true}
	u, f, err := place(p)
	require.NoError(t, err)
	assert.Equal(t, &domain.Underlay{Picture: "sha", At: geom.Pt(-3, -2), Width: 50, Height: 25}, u)
	assert.InDelta(t, 0.005, f.Doubt, 1e-12, "2 pixels of 400")

	// The same line upright on the plan: the picture turns by a quarter.
	p.Turned, p.Direction = true, 90
	u, _, err = place(p)
	require.NoError(t, err)
	assert.InDelta(t, 90, u.Turn, 1e-9)
	assert.InDelta(t, 7, u.At.X, 1e-9)
	assert.InDelta(t, -2, u.At.Y, 1e-9)
}

// A sheet of 841 x 594 mm at 1:100 is 84.1 x 59.4 m; at 1/8" = 1'-0", which is
// 1:96, a foot of paper is 96 feet.
func TestPlacing_byScale(t *testing.T) {
	p := placing{width: 8410, height: 5940, Across: 0.0001, Down: 0.0001, Scale: 100, At: geom.Pt(5, 6)}
	u, f, err := place(p)
	require.NoError(t, err)
	assert.Equal(t, &domain.Underlay{Picture: "sha", At: geom.Pt(5, 6), Width: 84.1, Height: 59.4}, u, "the lower left corner lies there")
	assert.Zero(t, f.Doubt)

	p.Marked, p.A = true, geom.Pt(1000, 4940) // 10 m from the left, 10 m from below
	p.Turn = 90
	u, _, err = place(p)
	require.NoError(t, err)
	assert.InDelta(t, 15, u.At.X, 1e-9)
	assert.InDelta(t, -4, u.At.Y, 1e-9)

	// 2000 pixels are 20 m by the scale; the tape says 19.8 m.
	p.B, p.Distance = geom.Pt(3000, 4940), 19.8
	_, f, err = place(p)
	require.NoError(t, err)
	assert.InDelta(t, 20, f.ByScale, 1e-9)

	p.Across = 0
	_, _, err = place(p)
	assert.ErrorContains(t, err, "how large its paper is")
}

// A scan 1 % longer across than down: 1010 pixels across are 10 m, 1000 down too.
func TestPlacing_secondPairSeesAStretch(t *testing.T) {
	p := placing{width: 2000, height: 2000, Marked: true, A: geom.Pt(100, 1900), B: geom.Pt(1110, 1900), Distance: 10,
		C: geom.Pt(100, 1900), D: geom.Pt(100, 900), Second: 10, Straight: true}
	u, f, err := place(p)
	require.NoError(t, err)
	assert.True(t, f.stretched())
	assert.InDelta(t, 1/1.01-1, f.Stretch, 1e-9)
	assert.InDelta(t, 2.0/1010+2.0/1000, f.Allowed, 1e-12, "one pixel at each of the four points")
	assert.InDelta(t, 2000*10.0/1010, float64(u.Width), 0.001)
	assert.InDelta(t, 2000*10.0/1000, float64(u.Height), 0.001)

	p.Straight = false
	u, _, err = place(p)
	require.NoError(t, err)
	assert.Equal(t, u.Width, u.Height, "left as it is")
	assert.InDelta(t, 2000*20.0/2010, float64(u.Width), 0.001, "both ways together")

	// 3 pixels of 1000 are less than four pixels in error allow.
	p.Straight, p.B = true, geom.Pt(1103, 1900)
	u, f, err = place(p)
	require.NoError(t, err)
	assert.False(t, f.stretched())
	assert.Equal(t, u.Width, u.Height)
	assert.InDelta(t, 4.0/2003, f.Doubt, 1e-12)

	for want, change := range map[string]func(*placing){
		"at about a right angle": func(p *placing) { p.D = geom.Pt(1100, 1850) },
		"contradict each other":  func(p *placing) { p.C, p.D, p.Second = geom.Pt(0, 0), geom.Pt(300, 1000), 1 },
		"C and D are 5 pixels":   func(p *placing) { p.D = geom.Pt(100, 1895) },
		"C and D have to lie on": func(p *placing) { p.D.Y = -1 },
	} {
		bad := p
		change(&bad)
		_, _, err := place(bad)
		assert.ErrorContains(t, err, want)
	}
}

// However a picture was stretched and turned, two pairs near its edges find both
// scales again, and the first point lands where it is said to.
func TestPlacing_straightensWhatWasStretched(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(0.002, 0.02).Draw(t, "across"), 0.0
		y = x * rapid.Float64Range(0.8, 1.25).Draw(t, "stretch")
		lean := rapid.Float64Range(-20, 20).Draw(t, "lean") * math.Pi / 180
		p := placing{width: 4000, height: 4000, Marked: true, Straight: true, A: geom.Pt(1500, 2500), At: geom.Pt(3, 4), Turned: true,
			Direction: rapid.Float64Range(-180, 180).Draw(t, "direction")}
		p.B = p.A.Add(geom.Pt(1000, 0).Rotate(geom.Point{}, lean))
		p.C, p.D = p.A, p.A.Add(geom.Pt(0, -1000).Rotate(geom.Point{}, lean))
		way := func(a, b geom.Point) units.Metres { return units.Metres(math.Hypot((b.X-a.X)*x, (b.Y-a.Y)*y)) }
		p.Distance, p.Second = way(p.A, p.B), way(p.C, p.D)
		u, f, err := place(p)
		if err != nil {
			t.Fatal(err)
		}
		if f.stretched() && (math.Abs(f.X/x-1) > 1e-6 || math.Abs(f.Y/y-1) > 1e-6) {
			t.Fatalf("%v, %v came out as %v, %v", x, y, f.X, f.Y)
		}
		if !onPlan(u, p.A, 4000, 4000).Near(p.At, 0.01) {
			t.Fatal("A does not lie where it should")
		}
		if got := onPlan(u, p.B, 4000, 4000).Distance(p.At); math.Abs(got-float64(p.Distance)) > 0.01+0.011*float64(p.Distance) {
			t.Fatalf("B is %v from A, not %v", got, p.Distance)
		}
	})
}

func TestPlacing_refuses(t *testing.T) {
	ok := placing{width: 100, height: 100, A: geom.Pt(0, 0), B: geom.Pt(100, 0), Distance: 5, Marked: true}
	for want, change := range map[string]func(*placing){
		"farther from each other":   func(p *placing) { p.B = geom.Pt(19, 0) },
		"on the picture":            func(p *placing) { p.B.X = 101 },
		"say how far":               func(p *placing) { p.Distance = 0 },
		"its unit again":            func(p *placing) { p.Distance = 20_000 },
		"smaller than a millimeter": func(p *placing) { p.Distance = 1e-5 },
		"the plan's zero":           func(p *placing) { p.At.X = math.Inf(1) },
	} {
		p := ok
		change(&p)
		_, _, err := place(p)
		assert.ErrorContains(t, err, want)
	}
	nan := ok
	nan.A.X = math.NaN()
	_, _, err := place(nan)
	assert.Error(t, err)
}

// 1/8 in to the foot is 1:96 (12 in / (1/8 in)), 3/32 in 1:128, 1 in to 20 ft 1:240.
func TestParseScale(t *testing.T) {
	for text, want := range map[string]float64{
		"1:100": 100, " 1 : 50 ": 50, "1/200": 200, "2:100": 50, `1/8" = 1'-0"`: 96, `3/32"=1'-0"`: 128, "1/4 in = 1 ft": 48, `1 1/2" = 1'-0"`: 8,
		`1" = 20'`: 240, "1 in = 20 ft": 240, "1 cm = 1 m": 100, "1:1": 1, "1/8\u201d = 1\u2019-0\u201d": 96, "1:2500": 2500,
	} {
		got, err := parseScale(text)
		if assert.NoError(t, err, text) {
			assert.InDelta(t, want, got, 1e-9, text)
		}
	}
	for _, text := range []string{"", "100", "1:0", "0:100", "1:-5", "a = b", "1/0 in = 1 ft", "1:NaN", "1:1e9", "100:1", "=", ":", "1 in ="} {
		_, err := parseScale(text)
		assert.Error(t, err, text)
	}
}

// Wherever the points are, the first lands where it is said to lie, and the
// second at the distance and in the direction that are said.
func TestPlacing_bothPointsLandWhereTheyShould(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.IntRange(100, 4000).Draw(t, "width"), rapid.IntRange(100, 4000).Draw(t, "height")
		point := func(label string) geom.Point {
			return geom.Pt(rapid.Float64Range(0, float64(width)).Draw(t, label+" x"), rapid.Float64Range(0, float64(height)).Draw(t, label+" y"))
		}
		p := placing{width: width, height: height, Marked: true, A: point("a"), B: point("b"), Distance: units.Metres(rapid.Float64Range(1, 50).Draw(t, "distance")), Turned: true,
			Direction: rapid.Float64Range(-360, 360).Draw(t, "direction"), At: geom.Pt(rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y"))}
		if p.A.Distance(p.B) < 100 {
			t.Skip("too near")
		}
		u, _, err := place(p)
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
