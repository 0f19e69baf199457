package geom

// Simplify gives the polygon without repeated points and without points that
// lie within tolerance meters of the line between their neighbors, so its edge
// moves by no more than tolerance at each point dropped. A spike (the outline
// goes out and comes back on itself) goes as well. Rings that fewer than three
// points are left of are dropped; the result can be Empty.
func (p Polygon) Simplify(tolerance float64) Polygon {
	out := Polygon{Outer: simplifyRing(p.Outer, tolerance)}
	for _, hole := range p.Holes {
		if ring := simplifyRing(hole, tolerance); ring != nil {
			out.Holes = append(out.Holes, ring)
		}
	}
	return out
}

// simplifyRing walks the ring with a stack: a point stays as long as it turns.
func simplifyRing(ring []Point, tolerance float64) []Point {
	kept := make([]Point, 0, len(ring))
	for _, p := range ring {
		for len(kept) > 0 {
			n := len(kept)
			if kept[n-1].Near(p, tolerance) || n > 1 && straight(kept[n-2], kept[n-1], p, tolerance) {
				kept = kept[:n-1]
				continue
			}
			break
		}
		kept = append(kept, p)
	}
	for dropped := true; dropped && len(kept) >= 3; { // across the start
		n := len(kept)
		switch {
		case kept[n-1].Near(kept[0], tolerance), straight(kept[n-2], kept[n-1], kept[0], tolerance):
			kept = kept[:n-1]
		case straight(kept[n-1], kept[0], kept[1], tolerance):
			kept = kept[1:]
		default:
			dropped = false
		}
	}
	if len(kept) < 3 {
		return nil
	}
	return kept
}

// straight tells whether the corner b between a and c is none, or a spike.
func straight(a, b, c Point, tolerance float64) bool {
	if a.Near(c, tolerance) {
		return true
	}
	ac := c.Sub(a)
	off := ac.Cross(b.Sub(a)) / a.Distance(c)
	return off <= tolerance && off >= -tolerance
}
