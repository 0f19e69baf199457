package geom

import "math"

// nodes merges points that lie within tolerance of one already there.
type nodes struct {
	tolerance float64
	cells     map[[2]int64][]int
	points    []Point
}

func newNodes(tolerance float64) *nodes {
	return &nodes{tolerance: tolerance, cells: map[[2]int64][]int{}}
}

// at gives the number of the node at p, a new one if none lies within tolerance.
func (n *nodes) at(p Point) int {
	x, y := int64(math.Floor(p.X/n.tolerance)), int64(math.Floor(p.Y/n.tolerance))
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, i := range n.cells[[2]int64{x + dx, y + dy}] {
				if n.points[i].Near(p, n.tolerance) {
					return i
				}
			}
		}
	}
	n.points = append(n.points, p)
	n.cells[[2]int64{x, y}] = append(n.cells[[2]int64{x, y}], len(n.points)-1)
	return len(n.points) - 1
}

// chain is a segment cut at nodes: their numbers in order from A to B.
type chain []int

// cutAtNodes merges the ends of segments within tolerance of each other and
// cuts each segment where another's end lies on it within tolerance or where
// they cross. Points move by about tolerance.
//
// Inserting the ends on edges is what keeps T-junctions closed: rounding
// coordinates alone opens them in rooms that stand at an angle. What is cut
// bends a little and can meet something new, so it goes on until nothing does.
func cutAtNodes(segments []Segment, tolerance float64) ([]Point, []chain, error) {
	n := newNodes(tolerance)
	chains, err := n.cut(segments)
	for pass := 0; pass < maxCuttingPasses && err == nil; pass++ {
		var pieces []Segment
		for _, c := range chains {
			for i := 1; i < len(c); i++ {
				pieces = append(pieces, Segment{n.points[c[i-1]], n.points[c[i]]})
			}
		}
		var finer []chain
		if finer, err = n.cut(pieces); err != nil {
			break
		}
		before := len(pieces)
		for i, c := range chains {
			steps := max(len(c)-1, 0)
			chains[i], finer = joined(c, finer[:steps]), finer[steps:]
			before -= max(len(chains[i])-1, 0)
		}
		if before == 0 {
			break
		}
	}
	return n.points, chains, err
}

const maxCuttingPasses = 8

// joined puts the chains of a chain's steps in a row.
func joined(c chain, steps []chain) chain {
	out := chain{c[0]}
	for _, step := range steps {
		for _, i := range step {
			if i != out[len(out)-1] {
				out = append(out, i)
			}
		}
	}
	return out
}

func (n *nodes) cut(segments []Segment) ([]chain, error) {
	tolerance := n.tolerance
	cuts := make([]chain, len(segments))
	for i, s := range segments {
		cuts[i] = chain{n.at(s.A), n.at(s.B)}
	}
	found := 0
	err := eachNearPair(segments, 2*tolerance, func(i, j int) error {
		for _, pair := range [][2]int{{i, j}, {j, i}} {
			on, ends := segments[pair[0]], cuts[pair[1]][:2]
			for _, end := range ends {
				if on.Distance(n.points[end]) <= tolerance {
					cuts[pair[0]] = append(cuts[pair[0]], end)
				}
			}
		}
		at, ok := segments[i].Intersect(segments[j])
		if !ok {
			return nil
		}
		if found++; found > maxCrossings+4*len(segments) {
			return ErrTangled
		}
		node := n.at(at)
		cuts[i], cuts[j] = append(cuts[i], node), append(cuts[j], node)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i := range cuts {
		cuts[i] = cuts[i].inOrder(n.points)
	}
	return cuts, nil
}

// inOrder sorts the nodes of a chain, whose first two are the segment's ends,
// from one end to the other and drops repeats.
func (c chain) inOrder(points []Point) chain {
	from, to := c[0], c[1]
	if from == to {
		return chain{from}
	}
	start := points[from]
	along := points[to].Sub(start)
	share := func(i int) float64 { return points[i].Sub(start).Dot(along) }
	var between chain
	for _, i := range c[2:] {
		if i != from && i != to && share(i) > 0 && share(i) < share(to) {
			between = append(between, i)
		}
	}
	sortBy(between, share)
	out := chain{from}
	for _, i := range append(between, to) {
		if i != out[len(out)-1] {
			out = append(out, i)
		}
	}
	return out
}

// alongChains gives p along the chains that its edges became, the first ones of
// chains. Rings that collapse are dropped; without its outer ring p is empty.
func alongChains(p Polygon, chains []chain, points []Point) (out Polygon) {
	for i, ring := range p.Rings() {
		cut := ringAlong(chains[:len(ring)], points)
		chains = chains[len(ring):]
		switch {
		case i == 0 && cut == nil:
			return Polygon{}
		case i == 0:
			out.Outer = cut
		case cut != nil:
			out.Holes = append(out.Holes, cut)
		}
	}
	return out
}

func ringAlong(chains []chain, points []Point) []Point {
	var ring []Point
	last := -1
	for _, c := range chains {
		for _, i := range c {
			if i != last {
				ring, last = append(ring, points[i]), i
			}
		}
	}
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	if len(ring) < 3 {
		return nil
	}
	return ring
}
