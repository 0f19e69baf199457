package geom

import "math"

// Polygon is an outline with holes. Neither ring repeats its first point. The
// constructors of this package give the outer ring counterclockwise and holes
// clockwise; the measures below take any winding.
type Polygon struct {
	Outer []Point
	Holes [][]Point
}

// SignedArea gives the area of a ring in square meters by the shoelace formula,
// positive for counterclockwise. Coordinates are taken from the first point, so
// that survey coordinates lose no digits.
func SignedArea(ring []Point) float64 {
	if len(ring) < 3 {
		return 0
	}
	twice, origin := 0.0, ring[0]
	for i := 1; i+1 < len(ring); i++ {
		twice += ring[i].Sub(origin).Cross(ring[i+1].Sub(origin))
	}
	return twice / 2
}

// Area gives the area within the outer ring less that of the holes, in square
// meters. It presumes a shape that Validate accepts.
func (p Polygon) Area() float64 {
	area := math.Abs(SignedArea(p.Outer))
	for _, hole := range p.Holes {
		area -= math.Abs(SignedArea(hole))
	}
	return area
}

// Empty tells whether the polygon has no outline.
func (p Polygon) Empty() bool { return len(p.Outer) < 3 }

// Perimeter gives the length of the outer ring in meters; holes are left out.
func (p Polygon) Perimeter() float64 {
	var sum float64
	for s := range Edges(p.Outer) {
		sum += s.Length()
	}
	return sum
}

// Rings gives the outer ring and then the holes.
func (p Polygon) Rings() [][]Point {
	return append([][]Point{p.Outer}, p.Holes...)
}

// Oriented gives the same shape with the outer ring counterclockwise and the
// holes clockwise. The receiver is left as it is.
func (p Polygon) Oriented() Polygon {
	out := Polygon{Outer: wound(p.Outer, true)}
	for _, hole := range p.Holes {
		out.Holes = append(out.Holes, wound(hole, false))
	}
	return out
}

func wound(ring []Point, counterclockwise bool) []Point {
	out := append([]Point(nil), ring...)
	if (SignedArea(ring) > 0) != counterclockwise {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out
}

// Convex tells that the polygon has neither a hole nor a corner turned inwards:
// its edges then never stand between two of its points.
func (p Polygon) Convex() bool {
	if len(p.Holes) > 0 {
		return false
	}
	n, left, right := len(p.Outer), false, false
	for i := range p.Outer {
		a, b, c := p.Outer[i], p.Outer[(i+1)%n], p.Outer[(i+2)%n]
		turn := b.Sub(a).Cross(c.Sub(b))
		left, right = left || turn > 1e-9, right || turn < -1e-9
	}
	return !left || !right
}
