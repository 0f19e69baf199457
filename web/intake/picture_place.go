package intake

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// placing lays a picture under a storey by two points on it: where the first
// lies on the plan, how far the second is from it, and in which direction.
type placing struct {
	A, B      geom.Point // pixels from the picture's upper left corner, y down
	Distance  units.Metres
	Direction float64 // of B from A on the plan, degrees counterclockwise from the right
	Turned    bool    // Direction is stated; else the picture keeps its own
	At        geom.Point
	Opacity   float64 // 0 to 1
}

// closest is how near the two points may be, in pixels: nearer, one pixel
// wrong at each end is more than a tenth of every length.
const closest = 20

// The largest picture in meters, and the farthest from the plan's zero.
const (
	largestPicture = 10_000
	farthest       = 1e6
)

// underlay gives the picture's place beneath the plan.
func (p placing) underlay(picture string, width, height int) (*domain.Underlay, error) {
	up := func(q geom.Point) geom.Point { return geom.Pt(q.X, float64(height)-q.Y) }
	a, b := up(p.A), up(p.B)
	apart := a.Distance(b)
	switch {
	case !a.Finite() || !b.Finite() || !p.At.Finite() || !within(p.A, width, height) || !within(p.B, width, height):
		return nil, edits.Refusef("the two points have to lie on the picture, 0 to %d across and 0 to %d down", width, height)
	case apart < closest:
		return nil, edits.Refusef("the two points are %.0f pixels apart: choose points that are farther from each other, for a better scale", apart)
	case !(p.Distance > 0):
		return nil, edits.Refusef("say how far the two points are from each other on the building")
	}
	scale := float64(p.Distance) / apart // meters to a pixel
	turn := 0.0
	if p.Turned {
		turn = p.Direction*math.Pi/180 - math.Atan2(b.Y-a.Y, b.X-a.X)
	}
	corner := p.At.Sub(a.Times(scale).Rotate(geom.Point{}, turn))
	out := &domain.Underlay{Picture: picture, At: geom.Pt(thousandth(corner.X), thousandth(corner.Y)),
		Width: units.Metres(thousandth(float64(width) * scale)), Height: units.Metres(thousandth(float64(height) * scale)),
		Turn: degrees(turn), Opacity: p.Opacity}
	if out.Width > largestPicture || out.Height > largestPicture || math.Abs(out.At.X) > farthest || math.Abs(out.At.Y) > farthest {
		return nil, edits.Refusef("the picture would be %.0f m wide and lie %.0f m from the plan's zero: look at the distance and its unit again", float64(out.Width), math.Hypot(out.At.X, out.At.Y))
	}
	return out, nil
}

// doubt gives the part by which every length on the picture is wrong if each of
// the two points is one pixel off along their line.
func (p placing) doubt() float64 { return 2 / p.A.Distance(p.B) }

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
