package propose

import (
	"slices"

	"scopewright/domain/geom"
)

// overlayWork is what cutting a shape with holes counts for.
const overlayWork = 1500

// chordsAt gives the stretches of a line that lie within a shape, from low to
// high: those within it on both sides of the line.
func (s *split) chordsAt(shape geom.Polygon, axis int, pos float64) [][2]float64 {
	s.work -= 2 * len(shape.Outer)
	a, b := stretches(shape, axis, pos-besideLine), stretches(shape, axis, pos+besideLine)
	var out [][2]float64
	for i, j := 0, 0; i < len(a) && j < len(b); {
		from, to := max(a[i][0], b[j][0]), min(a[i][1], b[j][1])
		if to-from > 4*besideLine {
			out = append(out, [2]float64{from, to})
		}
		if a[i][1] < b[j][1] {
			i++
		} else {
			j++
		}
	}
	return out
}

// stretches gives the parts of a line within a shape by the even-odd rule.
func stretches(shape geom.Polygon, axis int, pos float64) [][2]float64 {
	var at []float64
	for _, ring := range shape.Rings() {
		last := ring[len(ring)-1]
		for _, p := range ring {
			if v, ok := crosses(last, p, axis, pos); ok {
				at = append(at, v)
			}
			last = p
		}
	}
	slices.Sort(at)
	out := make([][2]float64, 0, len(at)/2)
	for i := 0; i+1 < len(at); i += 2 {
		out = append(out, [2]float64{at[i], at[i+1]})
	}
	return out
}

// cutAlong cuts a shape along a cut, which must leave two parts.
func (s *split) cutAlong(shape geom.Polygon, c *cut) (low, high geom.Polygon, ok bool) {
	a, b := c.ends()
	i, from, found := onEdge(shape.Outer, a)
	j, to, also := onEdge(shape.Outer, b)
	switch {
	case c.straight && len(shape.Holes) > 0:
		s.work -= overlayWork
		left, right, err := shape.SplitByLine(a, b)
		if err != nil || len(left) != 1 || len(right) != 1 {
			return low, high, false
		}
		low, high = left[0], right[0]
	case !found || !also || i == j:
		return low, high, false // along a side, or to a hole
	default:
		low, high = walk(shape.Outer, from, i, to, j), walk(shape.Outer, to, j, from, i)
		if low.Empty() || high.Empty() {
			return low, high, false
		}
		for _, hole := range shape.Holes {
			if within(low, c.axis, hole[0]) {
				low.Holes = append(low.Holes, hole)
			} else {
				high.Holes = append(high.Holes, hole)
			}
		}
	}
	if along(low.Centroid(), c.axis) > along(high.Centroid(), c.axis) {
		low, high = high, low
	}
	return low, high, true
}

// onEdge finds the edge of a ring that a point lies on, within some slack for
// slanted edges beside which the point was found.
func onEdge(ring []geom.Point, p geom.Point) (edge int, at geom.Point, ok bool) {
	least := 0.02 * 0.02
	for i, a := range ring {
		way := ring[(i+1)%len(ring)].Sub(a)
		t := p.Sub(a).Dot(way) / max(way.Dot(way), geom.NoArea)
		near := a.Add(way.Times(min(1, max(0, t))))
		if off := p.Sub(near); off.Dot(off) < least {
			edge, at, least, ok = i, near, off.Dot(off), true
		}
	}
	return edge, at, ok
}

// walk gives the part of a ring from one point on it to another.
func walk(ring []geom.Point, a geom.Point, i int, b geom.Point, j int) geom.Polygon {
	out := append(make([]geom.Point, 0, len(ring)+2), a)
	same := func(p, q geom.Point) bool { off := p.Sub(q); return off.Dot(off) <= geom.Coincident*geom.Coincident }
	add := func(p geom.Point) {
		if !same(out[len(out)-1], p) && !same(out[0], p) {
			out = append(out, p)
		}
	}
	for n := i; n != j; {
		n = (n + 1) % len(ring)
		add(ring[n])
	}
	add(b)
	return geom.Polygon{Outer: out}
}
