package geom

import "math"

// Box is an upright rectangle. The zero Box is the point 0, 0; an empty set of
// points has no box, see BoundsOf.
type Box struct{ Min, Max Point }

// BoundsOf gives the smallest box around points, and false where there are none.
func BoundsOf(points ...Point) (Box, bool) {
	if len(points) == 0 {
		return Box{}, false
	}
	b := Box{Min: points[0], Max: points[0]}
	for _, p := range points[1:] {
		b = b.With(p)
	}
	return b, true
}

// Bounds gives the box around the outer ring; the zero Box for no outline.
func (p Polygon) Bounds() Box {
	b, _ := BoundsOf(p.Outer...)
	return b
}

// With gives the box grown to hold p.
func (b Box) With(p Point) Box {
	return Box{
		Min: Point{math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y)},
		Max: Point{math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y)},
	}
}

// Join gives the box around both.
func (b Box) Join(o Box) Box { return b.With(o.Min).With(o.Max) }

// Grow gives the box with by meters more on every side.
func (b Box) Grow(by float64) Box {
	return Box{Min: Point{b.Min.X - by, b.Min.Y - by}, Max: Point{b.Max.X + by, b.Max.Y + by}}
}

// Width gives the extent in x, meters.
func (b Box) Width() float64 { return b.Max.X - b.Min.X }

// Height gives the extent in y, meters.
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Center gives the middle of the box.
func (b Box) Center() Point { return b.Min.Add(b.Max).Times(0.5) }

// Contains tells whether p lies in the box; its edge counts as in.
func (b Box) Contains(p Point) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// MayMeet tells whether the box around a segment shares at least a point with
// the box: where it does not, nor does the segment.
func (b Box) MayMeet(s Segment) bool {
	return min(s.A.X, s.B.X) <= b.Max.X && max(s.A.X, s.B.X) >= b.Min.X && min(s.A.Y, s.B.Y) <= b.Max.Y && max(s.A.Y, s.B.Y) >= b.Min.Y
}

// Touches tells whether two boxes share at least a point.
func (b Box) Touches(o Box) bool {
	return b.Min.X <= o.Max.X && o.Min.X <= b.Max.X && b.Min.Y <= o.Max.Y && o.Min.Y <= b.Max.Y
}

// Polygon gives the box as an outline.
func (b Box) Polygon() Polygon {
	return Polygon{Outer: []Point{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}}
}

// Rectangle gives the upright rectangle with its lower left corner at x, y.
func Rectangle(x, y, width, height float64) Polygon {
	return Box{Min: Point{x, y}, Max: Point{x + width, y + height}}.Polygon()
}
