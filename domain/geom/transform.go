package geom

import "math"

// Map gives the polygon with every point replaced by f of it.
func (p Polygon) Map(f func(Point) Point) Polygon {
	out := Polygon{Outer: mapRing(p.Outer, f)}
	for _, hole := range p.Holes {
		out.Holes = append(out.Holes, mapRing(hole, f))
	}
	return out
}

func mapRing(ring []Point, f func(Point) Point) []Point {
	if ring == nil {
		return nil
	}
	out := make([]Point, len(ring))
	for i, p := range ring {
		out[i] = f(p)
	}
	return out
}

// Translate moves the polygon by the vector by.
func (p Polygon) Translate(by Point) Polygon { return p.Map(by.Add) }

// Rotate turns the polygon about a point, counterclockwise by angle radians.
func (p Polygon) Rotate(about Point, angle float64) Polygon {
	return p.Map(func(q Point) Point { return q.Rotate(about, angle) })
}

// Scale stretches the polygon from the point from by factor. A negative factor
// turns it by half a turn; winding stays.
func (p Polygon) Scale(from Point, factor float64) Polygon {
	return p.Map(func(q Point) Point { return from.Add(q.Sub(from).Times(factor)) })
}

// Rotate turns the point about another, counterclockwise by angle radians.
func (p Point) Rotate(about Point, angle float64) Point {
	sin, cos := math.Sincos(angle)
	v := p.Sub(about)
	return about.Add(Point{v.X*cos - v.Y*sin, v.X*sin + v.Y*cos})
}
