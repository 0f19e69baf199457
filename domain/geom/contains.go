package geom

// Contains tells whether p lies inside the polygon. The boundary, that of holes
// too, counts as in: a point within OnEdge of an edge is contained.
func (p Polygon) Contains(q Point) bool {
	if p.Empty() || !p.Bounds().Grow(OnEdge).Contains(q) {
		return false
	}
	for _, ring := range p.Rings() {
		if onRing(ring, q) {
			return true
		}
	}
	return p.surrounds(q)
}

// surrounds is the even-odd rule over all rings; a point on an edge falls on
// either side by rounding.
func (p Polygon) surrounds(q Point) bool {
	in := crossesOdd(p.Outer, q)
	for _, hole := range p.Holes {
		if crossesOdd(hole, q) {
			in = !in
		}
	}
	return in
}

// crossesOdd counts the edges that a ray from q towards +x meets. An edge owns
// its lower end and not its upper one, so that a corner counts once.
func crossesOdd(ring []Point, q Point) bool {
	odd := false
	for s := range Edges(ring) {
		if (s.A.Y > q.Y) == (s.B.Y > q.Y) {
			continue
		}
		if q.X < s.A.X+(q.Y-s.A.Y)/(s.B.Y-s.A.Y)*(s.B.X-s.A.X) {
			odd = !odd
		}
	}
	return odd
}

func onRing(ring []Point, q Point) bool {
	for s := range Edges(ring) {
		if s.Distance(q) <= OnEdge {
			return true
		}
	}
	return false
}

// NearestOnBoundary gives the point of the outline or of a hole's edge that is
// nearest to q, with its distance in meters. It is q itself, at distance 0, for
// a polygon without outline.
func (p Polygon) NearestOnBoundary(q Point) (Point, float64) {
	nearest, best := q, -1.0
	for _, ring := range p.Rings() {
		for s := range Edges(ring) {
			near, _ := s.Nearest(q)
			if d := near.Distance(q); best < 0 || d < best {
				nearest, best = near, d
			}
		}
	}
	return nearest, max(best, 0)
}
