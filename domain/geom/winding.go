package geom

// winds tells whether q is gone around by the outer ring and by no hole.
func (p Polygon) winds(q Point) bool {
	for _, hole := range p.Holes {
		if windingNumber(hole, q) != 0 {
			return false
		}
	}
	return windingNumber(p.Outer, q) != 0
}

// windingNumber counts how often the ring goes counterclockwise around q, by
// the edges that a ray from q towards +x meets going up, less those going down.
func windingNumber(ring []Point, q Point) (n int) {
	for s := range Edges(ring) {
		up := s.A.Y <= q.Y && s.B.Y > q.Y
		down := s.A.Y > q.Y && s.B.Y <= q.Y
		if !up && !down {
			continue
		}
		switch side := s.B.Sub(s.A).Cross(q.Sub(s.A)); {
		case up && side > 0:
			n++
		case down && side < 0:
			n--
		}
	}
	return n
}

// leftOf gives a point a hair's breadth (10 um) to the left of the ring's
// longest edge: inside it where it runs counterclockwise.
func leftOf(ring []Point) Point {
	var longest Segment
	for s := range Edges(ring) {
		if s.Length() > longest.Length() {
			longest = s
		}
	}
	d := longest.B.Sub(longest.A).Times(Coincident / 10 / longest.Length())
	return longest.Middle().Add(Point{-d.Y, d.X})
}
