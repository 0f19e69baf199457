package coverage

import (
	"math"

	"scopewright/domain/geom"
)

// DiscIn gives the area in m2 that a disc and a polygon share, exactly: the sum
// over the polygon's edges of the signed area between each edge, cut at the
// circle, and the center.
func DiscIn(p geom.Polygon, center geom.Point, r float64) float64 {
	sum := 0.0
	for i, ring := range p.Rings() {
		part := 0.0
		for e := range geom.Edges(ring) {
			part += discTriangle(e.A.Sub(center), e.B.Sub(center), r)
		}
		if part = math.Abs(part); i > 0 {
			part = -part
		}
		sum += part
	}
	return math.Max(0, sum)
}

// discTriangle gives the signed area that the disc about the origin and the
// triangle of the origin, a and b share.
func discTriangle(a, b geom.Point, r float64) float64 {
	d := b.Sub(a)
	qa, qb, qc := d.Dot(d), 2*a.Dot(d), a.Dot(a)-r*r
	if qa == 0 {
		return 0
	}
	sector := func(u, v geom.Point) float64 { return r * r / 2 * math.Atan2(u.Cross(v), u.Dot(v)) }
	disc := qb*qb - 4*qa*qc
	if disc <= 0 {
		return sector(a, b)
	}
	root := math.Sqrt(disc)
	t1, t2 := math.Max(0, (-qb-root)/(2*qa)), math.Min(1, (-qb+root)/(2*qa))
	if t1 >= t2 {
		return sector(a, b)
	}
	in, out := a.Add(d.Times(t1)), a.Add(d.Times(t2))
	area := in.Cross(out) / 2
	if t1 > 0 {
		area += sector(a, in)
	}
	if t2 < 1 {
		area += sector(out, b)
	}
	return area
}

// Sector gives the triangle fan's mantle for cutting: the polygon of a wedge at
// center that faces a direction and spans an angle, both in degrees, out to a
// distance that is beyond what is cut. An angle of 180 or less is one convex
// piece; a wider one has its corners far out, too.
func Sector(center geom.Point, facing, span, reach float64) geom.Polygon {
	const pieces = 8
	ring := []geom.Point{center}
	far := reach / math.Cos(span/pieces/2*math.Pi/180)
	for i := 0; i <= pieces; i++ {
		a := (facing - span/2 + span*float64(i)/pieces) * math.Pi / 180
		ring = append(ring, geom.Pt(center.X+far*math.Cos(a), center.Y+far*math.Sin(a)))
	}
	return geom.Polygon{Outer: ring}
}

// SectorIn gives the area in m2 that a wedge of radius r and a polygon share.
// The wedge's straight sides are cut exactly, its arc is DiscIn's.
func SectorIn(p geom.Polygon, center geom.Point, r, facing, span float64) (float64, error) {
	parts, err := geom.Intersection(p, Sector(center, facing, span, 2*r))
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for _, part := range parts {
		sum += DiscIn(part, center, r)
	}
	return sum, nil
}
