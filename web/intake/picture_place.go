package intake

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// placing lays a picture under a storey: by two points on it whose distance is
// known, and two more at right angles to them if the picture may be stretched,
// or by the scale that is printed on it. Points are pixels from the picture's
// upper left corner, y down.
type placing struct {
	width, height int // of the picture, pixels

	A, B      geom.Point
	Distance  units.Metres // from A to B on the building
	Direction float64      // of B from A on the plan, degrees counterclockwise from the right
	Turned    bool         // Direction is stated; else the picture keeps its own

	C, D     geom.Point
	Second   units.Metres // from C to D; 0: there is no second pair
	Straight bool         // a stretched picture is made straight

	Scale        float64      // of the paper: 100 is 1:100; 0: the points say it
	Across, Down units.Metres // size of a pixel on paper
	Turn         float64      // of the picture by its scale, degrees counterclockwise

	At      geom.Point // where A lies on the plan; the lower left corner, where A is not marked
	Marked  bool       // A is
	Opacity float64    // 0 to 1
}

// closest is how near two points may be, in pixels: nearer, one pixel wrong at
// each end is more than a tenth of every length.
const closest = 20

// The largest picture in meters, and the farthest from the plan's zero.
const (
	largestPicture = 10_000
	farthest       = 1e6
)

// fitted says how large a picture is on the building, and how well that is known.
type fitted struct {
	X, Y    float64 // meters to a pixel, across and down
	Doubt   float64 // part by which lengths are wrong where each point is one pixel off; 0: not by points
	Second  bool    // a second pair was compared
	Stretch float64 // by that pair: across over down, less 1
	Allowed float64 // of it, by one pixel at each point
	Scale   float64 // that the size was taken from
	ByScale float64 // meters from A to B by the scale, where both are known; 0: not known
	Said    units.Metres
}

// stretched tells that the second pair says more than the points allow.
func (f fitted) stretched() bool { return f.Second && math.Abs(f.Stretch) > f.Allowed }

// fit gives the picture's size.
func (p placing) fit() (fitted, error) {
	if p.Scale > 0 {
		return p.byScale()
	}
	first, err := p.pair(p.A, p.B, p.Distance, "the two points")
	if err != nil {
		return fitted{}, err
	}
	one := float64(p.Distance) / first.length()
	f := fitted{X: one, Y: one, Doubt: 2 / first.length()}
	if p.Second == 0 {
		return f, nil
	}
	second, err := p.pair(p.C, p.D, p.Second, "the points C and D")
	if err != nil {
		return fitted{}, err
	}
	return p.compare(first, second)
}

func (p placing) byScale() (fitted, error) {
	f := fitted{X: p.Scale * float64(p.Across), Y: p.Scale * float64(p.Down), Scale: p.Scale}
	if !(f.X > 0) || !(f.Y > 0) {
		return f, edits.Refusef("the picture does not say how large its paper is: place it by two points")
	}
	if p.Marked && p.Distance > 0 {
		if pair, err := p.pair(p.A, p.B, p.Distance, "the two points"); err == nil {
			f.ByScale, f.Said = math.Hypot(pair.X*f.X, pair.Y*f.Y), p.Distance
		}
	}
	return f, nil
}

// pair is a way on the picture in pixels, y up.
type pair struct{ geom.Point }

func (p pair) length() float64 { return math.Hypot(p.X, p.Y) }

// flat is how much of the way runs across the picture, 0 to 1.
func (p pair) flat() float64 { return p.X * p.X / (p.X*p.X + p.Y*p.Y) }

func (p placing) pair(a, b geom.Point, apart units.Metres, what string) (pair, error) {
	if !a.Finite() || !b.Finite() || !within(a, p.width, p.height) || !within(b, p.width, p.height) {
		return pair{}, edits.Refusef("%s have to lie on the picture, 0 to %d across and 0 to %d down", what, p.width, p.height)
	}
	way := pair{geom.Pt(b.X-a.X, a.Y-b.Y)}
	switch {
	case way.length() < closest:
		return way, edits.Refusef("%s are %.0f pixels apart: choose points that are farther from each other, for a better scale", what, way.length())
	case !(apart > 0):
		return way, edits.Refusef("say how far %s are from each other on the building", what)
	}
	return way, nil
}

// apart is how much the two pairs have to differ in direction: the cosine of
// twice the angle by which they may lean from the picture's edges, here 30
// degrees. Nearer to its diagonals both see the same of a stretch.
const apart = 0.5

// compare finds the scale across and the scale down for which both pairs are as
// long as was said: for each, (x X)^2 + (y Y)^2 is the square of its length.
func (p placing) compare(first, second pair) (fitted, error) {
	lean := first.flat() - second.flat() // the determinant, for ways of unit length
	if math.Abs(lean) < apart {
		return fitted{}, edits.Refusef("C and D have to run at about a right angle to A and B, one pair along the picture and the other up it")
	}
	s1, s2 := square(float64(p.Distance)/first.length()), square(float64(p.Second)/second.length())
	across := (s1*(1-second.flat()) - s2*(1-first.flat())) / lean
	down := (s2*first.flat() - s1*second.flat()) / lean
	if !(across > 0) || !(down > 0) {
		return fitted{}, edits.Refusef("the two distances contradict each other: no picture is stretched that far; look at them and at their units again")
	}
	off1, off2 := 2/first.length(), 2/second.length()
	f := fitted{X: math.Sqrt(across), Y: math.Sqrt(down), Second: true, Allowed: (off1 + off2) / math.Abs(lean)}
	f.Stretch = f.X/f.Y - 1
	if f.stretched() && p.Straight {
		f.Doubt = max(off1, off2) / math.Abs(lean)
		return f, nil
	}
	// One scale for all: that of both ways together.
	long := first.length() + second.length()
	one := float64(p.Distance+p.Second) / long
	f.X, f.Y, f.Doubt = one, one, 4/long
	return f, nil
}

func square(v float64) float64 { return v * v }

// underlay gives the picture's place beneath the plan.
func (p placing) underlay(picture string, f fitted) (*domain.Underlay, error) {
	onBuilding := func(q geom.Point) geom.Point { return geom.Pt(q.X*f.X, (float64(p.height)-q.Y)*f.Y) }
	turn, held := p.Turn*math.Pi/180, geom.Point{}
	if p.Marked {
		held = onBuilding(p.A)
	}
	if p.Scale == 0 {
		turn = 0
		if p.Turned {
			way := onBuilding(p.B).Sub(held)
			turn = p.Direction*math.Pi/180 - math.Atan2(way.Y, way.X)
		}
	}
	corner := p.At.Sub(held.Rotate(geom.Point{}, turn))
	out := &domain.Underlay{Picture: picture, At: geom.Pt(thousandth(corner.X), thousandth(corner.Y)),
		Width: units.Metres(thousandth(float64(p.width) * f.X)), Height: units.Metres(thousandth(float64(p.height) * f.Y)),
		Turn: degrees(turn), Opacity: p.Opacity}
	switch {
	case !(out.Width > 0) || !(out.Height > 0):
		return nil, edits.Refusef("the picture would be smaller than a millimeter: look at the distance and its unit again")
	case !p.At.Finite() || out.Width > largestPicture || out.Height > largestPicture || math.Abs(out.At.X) > farthest || math.Abs(out.At.Y) > farthest:
		return nil, edits.Refusef("the picture would be %.0f m wide and lie %.0f m from the plan's zero: look at the distance and its unit again", float64(out.Width), math.Hypot(out.At.X, out.At.Y))
	}
	return out, nil
}

func within(q geom.Point, width, height int) bool {
	return q.X >= 0 && q.Y >= 0 && q.X <= float64(width) && q.Y <= float64(height)
}

func thousandth(v float64) float64 { return math.Round(v*1e3) / 1e3 }

// degrees gives an angle between -180 and 180, to a thousandth.
func degrees(radians float64) float64 {
	d := math.Remainder(radians*180/math.Pi, 360)
	if d = thousandth(d); d == 0 {
		return 0 // no minus zero
	}
	return d
}
