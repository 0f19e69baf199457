package geom

import "slices"

// Overlays work on the net of all edges: edges are cut where they meet (within
// Coincident, so rooms that share a wall up to rounding touch without slivers),
// the areas between them are found, and each is kept or not by which shapes it
// lies in. A ring that crosses itself covers what it goes around at least once.
// Results are sorted, the largest part first; parts and holes under NoArea are
// dropped; outer rings run counterclockwise, holes clockwise.
//
// The overlays of simplefeatures v0.50.0 were tried and left: of two shapes
// that touch at one corner, made by cutting one ring, its intersection gave the
// whole of one (GEOS gives the corner), and its union of many keeps a hole of
// one shape that another covers. The tests hold both cases.

// Union gives the area covered by any of the polygons.
func Union(polygons ...Polygon) ([]Polygon, error) {
	return overlay(polygons, func(in func(int) bool) bool {
		for i := range polygons {
			if in(i) {
				return true
			}
		}
		return false
	})
}

// Intersection gives the area that a and b share.
func Intersection(a, b Polygon) ([]Polygon, error) {
	if a.Empty() || b.Empty() || !a.Bounds().Touches(b.Bounds()) {
		return nil, nil
	}
	return overlay([]Polygon{a, b}, func(in func(int) bool) bool { return in(0) && in(1) })
}

// Difference gives the area of a that lies outside all of b.
func Difference(a Polygon, b ...Polygon) ([]Polygon, error) {
	return overlay(append([]Polygon{a}, b...), func(in func(int) bool) bool {
		if !in(0) {
			return false
		}
		for i := range b {
			if in(i + 1) {
				return false
			}
		}
		return true
	})
}

// Repair gives the sound parts of a ring that crosses, touches or runs back on
// itself, the largest first: all places that the ring goes around at least once
// (the winding number is not zero). So a bow-tie gives two triangles, and a loop
// with a slit to its hole gives an outline with a hole. Validate tells where a
// ring crosses itself.
func Repair(ring []Point) ([]Polygon, error) { return Union(Polygon{Outer: ring}) }

// OverlapArea gives the area in square meters that a and b share; shapes that
// only touch share none.
func OverlapArea(a, b Polygon) (float64, error) {
	parts, err := Intersection(a, b)
	return TotalArea(parts), err
}

// TotalArea adds up the areas of parts that do not overlap.
func TotalArea(parts []Polygon) (sum float64) {
	for _, p := range parts {
		sum += p.Area()
	}
	return sum
}

// maxFaceWork bounds how many edges are looked at to sort out the areas of an
// overlay: about a second.
const maxFaceWork = 200_000_000

// overlay keeps the areas for which keep, told what shapes an area lies in,
// says so. It works near the origin, where float64 is finest.
func overlay(polygons []Polygon, keep func(in func(int) bool) bool) ([]Polygon, error) {
	var corners []Point
	for _, p := range polygons {
		corners = append(corners, p.Outer...)
	}
	box, some := BoundsOf(corners...)
	if !some {
		return nil, nil
	}
	local := make([]Polygon, len(polygons))
	for i, p := range polygons {
		local[i] = p.Translate(Point{}.Sub(box.Min))
	}
	net, err := newNet(local)
	if err != nil {
		return nil, err
	}
	parts := net.parts(keep)
	for i := range parts {
		parts[i] = parts[i].Translate(box.Min)
	}
	return parts, nil
}

// net is the edges of several shapes, cut where they meet.
type net struct {
	points []Point
	edges  map[[2]int]bool
	cycles [][]int
	shapes []Polygon // along the cut edges
	boxes  []Box
}

func newNet(polygons []Polygon) (*net, error) {
	var segments []Segment
	for _, p := range polygons {
		segments = append(segments, p.Edges()...)
	}
	if len(segments) > maxVertices {
		return nil, ErrTangled
	}
	points, chains, err := cutAtNodes(segments, Coincident)
	if err != nil {
		return nil, err
	}
	n := &net{points: points, edges: undirected(chains)}
	for _, p := range polygons {
		shape := alongChains(p, chains, points)
		chains = chains[len(p.Edges()):]
		n.shapes, n.boxes = append(n.shapes, shape), append(n.boxes, shape.Bounds().Grow(Coincident))
	}
	n.cycles = withoutBridges(points, n.edges, walkCycles(points, n.edges))
	if len(n.cycles)*len(segments) > maxFaceWork {
		return nil, ErrTangled
	}
	return n, nil
}

// parts drops all edges but the rim of the kept area and reads that.
func (n *net) parts(keep func(in func(int) bool) bool) []Polygon {
	kept := func(ring []Point) bool {
		at := leftOf(ring)
		return keep(func(i int) bool { return n.boxes[i].Contains(at) && n.shapes[i].winds(at) })
	}
	left := map[[2]int]bool{} // directed edges with kept area to their left
	for _, cycle := range n.cycles {
		if !kept(ringOf(cycle, n.points)) {
			continue
		}
		for i, from := range cycle {
			left[[2]int{from, cycle[(i+1)%len(cycle)]}] = true
		}
	}
	for e := range n.edges {
		if left[e] == left[[2]int{e[1], e[0]}] {
			delete(n.edges, e)
		}
	}
	faces := nest(walkCycles(n.points, n.edges), n.points)
	return slices.DeleteFunc(faces, func(f Polygon) bool { return !kept(f.Outer) })
}
