package geom

import (
	"math"

	sf "github.com/peterstace/simplefeatures/geom"
)

// Centroid gives the center of gravity of the area between outer ring and
// holes. It can lie outside: in an L or a C. Use LabelPoint for a text. A shape
// of no area gives the middle of its bounds.
func (p Polygon) Centroid() Point {
	if p.Empty() {
		return p.Bounds().Center()
	}
	var sum Point
	var area float64
	origin := p.Outer[0]
	for i, ring := range p.Rings() {
		moment, a := firstMoment(ring, origin)
		sign := 1.0
		if (a < 0) != (i > 0) { // outer ring counts positive, holes negative
			sign = -1
		}
		sum, area = sum.Add(moment.Times(sign)), area+a*sign
	}
	if math.Abs(area) < NoArea*NoArea {
		return p.Bounds().Center()
	}
	return origin.Add(sum.Times(1 / area))
}

// firstMoment gives the first moment of area of a ring about origin and its
// signed area, as sums over the triangles that origin spans with each edge.
func firstMoment(ring []Point, origin Point) (moment Point, area float64) {
	for s := range Edges(ring) {
		a, b := s.A.Sub(origin), s.B.Sub(origin)
		triangle := a.Cross(b) / 2
		moment, area = moment.Add(a.Add(b).Times(triangle/3)), area+triangle
	}
	return moment, area
}

// LabelPoint gives a point well inside the polygon for its name: the centroid
// where that lies inside with room around it, else the middle of the widest
// stretch of a horizontal line through the polygon's middle.
func (p Polygon) LabelPoint() Point {
	center := p.Centroid()
	if p.Empty() {
		return center
	}
	box := p.Bounds()
	roomy := math.Min(box.Width(), box.Height()) / 8
	if _, d := p.NearestOnBoundary(center); p.surrounds(center) && d >= roomy {
		return center
	}
	local := p.Translate(Point{}.Sub(box.Min))
	if at, ok := toPolygon(local).PointOnSurface().XY(); ok {
		return Point{at.X, at.Y}.Add(box.Min)
	}
	return center
}

func toPolygon(p Polygon) sf.Polygon {
	var rings []sf.LineString
	for _, ring := range p.Rings() {
		if len(ring) < 3 {
			continue
		}
		coords := make([]float64, 0, 2*len(ring)+2)
		for _, q := range ring {
			coords = append(coords, q.X, q.Y)
		}
		coords = append(coords, ring[0].X, ring[0].Y)
		rings = append(rings, sf.NewLineString(sf.NewSequence(coords, sf.DimXY)))
	}
	return sf.NewPolygon(rings)
}
