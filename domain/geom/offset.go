package geom

import (
	"errors"
	"math"
)

// ErrNoOffset is given where a shape is too narrow for an offset.
var ErrNoOffset = errors.New("the outline is too narrow or too sharp for that distance")

// Offset moves every edge by the distance by in meters, outwards when positive
// and inwards when negative, and keeps the corners sharp. Holes shrink when the
// outline grows. It refuses where an edge would vanish or parts would meet.
func (p Polygon) Offset(by float64) (Polygon, error) {
	shape := p.Oriented()
	out := Polygon{}
	for i, ring := range shape.Rings() {
		moved, ok := offsetRing(simplifyRing(ring, Coincident), by)
		if !ok {
			return Polygon{}, ErrNoOffset
		}
		if i == 0 {
			out.Outer = moved
		} else {
			out.Holes = append(out.Holes, moved)
		}
	}
	if len(out.Validate()) > 0 {
		return Polygon{}, ErrNoOffset
	}
	return out, nil
}

// offsetRing moves edges to their right, which is outwards for the winding that
// Oriented gives to outer rings and holes alike.
func offsetRing(ring []Point, by float64) ([]Point, bool) {
	if len(ring) < 3 {
		return nil, false
	}
	right := func(i int) Point { // unit vector to the right of the edge from corner i
		a, b := ring[i%len(ring)], ring[(i+1)%len(ring)]
		d := b.Sub(a).Times(1 / a.Distance(b))
		return Point{d.Y, -d.X}
	}
	out := make([]Point, len(ring))
	for i, corner := range ring {
		n1, n2 := right(i+len(ring)-1), right(i)
		spread := 1 + n1.Dot(n2) // 2 for a straight line, 0 for a spike
		if spread < 0.02 {
			return nil, false
		}
		out[i] = corner.Add(n1.Add(n2).Times(by / spread))
	}
	for i := range ring {
		j := (i + 1) % len(ring)
		if out[j].Sub(out[i]).Dot(ring[j].Sub(ring[i])) <= Coincident*Coincident {
			return nil, false // the edge turned around
		}
	}
	return out, math.Abs(SignedArea(out)) >= NoArea
}
