package coverage

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain/geom"
)

// Visible gives the part of a room that a point sees, with further walls in
// it: a sweep around the point over the directions of all corners and crossings.
// Between two neighboring directions one wall is nearest. The point must lie in
// the room; elsewhere the answer is empty. n walls cost n2: a room has few.
func Visible(room geom.Polygon, from geom.Point, walls []geom.Segment) geom.Polygon {
	if !room.Contains(from) {
		return geom.Polygon{}
	}
	all := append(room.Edges(), walls...)
	angles := directions(all, from)
	var ring []geom.Point
	for i, a := range angles {
		b := angles[0] + 2*math.Pi
		if i+1 < len(angles) {
			b = angles[i+1]
		}
		if b-a < 1e-12 {
			continue
		}
		wall, ok := nearestWall(all, from, (a+b)/2)
		if !ok {
			continue
		}
		ring = appendApart(ring, onWall(wall, from, a))
		ring = appendApart(ring, onWall(wall, from, b))
	}
	if len(ring) > 1 && ring[0].Near(ring[len(ring)-1], geom.Coincident) {
		ring = ring[:len(ring)-1]
	}
	return geom.Polygon{Outer: ring}
}

// directions gives the sorted angles to the ends and crossings of walls.
func directions(walls []geom.Segment, from geom.Point) []float64 {
	var out []float64
	add := func(p geom.Point) {
		if !p.Near(from, geom.Coincident) {
			out = append(out, math.Atan2(p.Y-from.Y, p.X-from.X))
		}
	}
	for i, w := range walls {
		add(w.A)
		add(w.B)
		for _, o := range walls[i+1:] {
			if p, ok := w.Intersect(o); ok {
				add(p)
			}
		}
	}
	slices.SortFunc(out, cmp.Compare[float64])
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(b-a) < 1e-12 })
}

func nearestWall(walls []geom.Segment, from geom.Point, angle float64) (near geom.Segment, ok bool) {
	best := math.Inf(1)
	dir := geom.Pt(math.Cos(angle), math.Sin(angle))
	for _, w := range walls {
		along, to := w.B.Sub(w.A), w.A.Sub(from)
		turn := dir.Cross(along)
		if turn == 0 {
			continue
		}
		t, k := to.Cross(along)/turn, to.Cross(dir)/turn
		if t > 1e-9 && k >= 0 && k <= 1 && t < best {
			best, near, ok = t, w, true
		}
	}
	return near, ok
}

// onWall gives where the ray at an angle meets the line of a wall.
func onWall(w geom.Segment, from geom.Point, angle float64) geom.Point {
	dir, along := geom.Pt(math.Cos(angle), math.Sin(angle)), w.B.Sub(w.A)
	turn := dir.Cross(along)
	if turn == 0 {
		return w.A
	}
	return from.Add(dir.Times(w.A.Sub(from).Cross(along) / turn))
}

func appendApart(ring []geom.Point, p geom.Point) []geom.Point {
	if n := len(ring); n > 0 && ring[n-1].Near(p, geom.Coincident) {
		return ring
	}
	return append(ring, p)
}
