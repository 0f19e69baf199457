package radio

import (
	"math"
	"math/bits"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// between knows what stands between the nodes of a room. For each obstacle it
// holds on which side each node lies, so that a pair is tested only against
// those that have its ends on different sides.
type between struct {
	nodes     []Node
	obstacles []Obstacle
	strips    []strip
	words     int
	sides     []uint64 // by node: a bit for each obstacle that has it on its left
}

func newBetween(plan *domain.Plan, assumed Assumed, nodes []Node) between {
	b := between{nodes: nodes}
	if plan == nil {
		return b
	}
	box := geom.Box{Min: nodes[0].At, Max: nodes[0].At}
	for i := range nodes {
		box = box.With(nodes[i].At)
	}
	near := obstaclesIn(plan, assumed, box)
	b.obstacles, b.strips = near[:0], make([]strip, 0, len(near))
	for _, o := range near {
		s := strip{o.A.X, o.A.Y, o.B.X, o.B.Y, o.Bottom, o.Top, o.Loss}
		if parts(&s, nodes) {
			b.obstacles, b.strips = append(b.obstacles, o), append(b.strips, s)
		}
	}
	b.words = (len(b.strips) + 63) / 64
	b.sides = make([]uint64, b.words*len(nodes))
	for k := range b.strips {
		for i := range nodes {
			if b.strips[k].side(nodes[i].At) >= 0 {
				b.sides[i*b.words+k/64] |= 1 << (k % 64)
			}
		}
	}
	return b
}

// obstaclesIn gives the obstacles of the walls that reach into a box.
func obstaclesIn(plan *domain.Plan, assumed Assumed, box geom.Box) []Obstacle {
	var out []Obstacle
	for i := range plan.Walls {
		w := &plan.Walls[i]
		if w.Kind == domain.Boundary || w.A == w.B || !box.MayMeet(w.Line()) {
			continue
		}
		out = wallObstacles(out, w, assumed)
	}
	return out
}

// side is positive for a point to the left of the way from the strip's A to its B.
func (w *strip) side(p geom.Point) float64 {
	return (w.bx-w.ax)*(p.Y-w.ay) - (w.by-w.ay)*(p.X-w.ax)
}

// parts tells that nodes lie on both sides of a strip.
func parts(s *strip, nodes []Node) bool {
	first := s.side(nodes[0].At) >= 0
	for i := range nodes[1:] {
		if (s.side(nodes[i+1].At) >= 0) != first {
			return true
		}
	}
	return false
}

// loss sums what the obstacles between two nodes take, dB.
func (b *between) loss(i, j int) float64 {
	sum := 0.0
	for w := range b.words {
		for x := b.sides[i*b.words+w] ^ b.sides[j*b.words+w]; x != 0; x &= x - 1 {
			if s := &b.strips[w*64+bits.TrailingZeros64(x)]; s.crosses(b.nodes[i].Place, b.nodes[j].Place) {
				sum += s.loss
			}
		}
	}
	return sum
}

// Passage is an obstacle that a link goes through, with the point at which it does.
type Passage struct {
	Obstacle
	At Place
}

// crossed lists what stands between two nodes, from the first on.
func (b *between) crossed(i, j int) []Passage {
	var out []Passage
	from, to := b.nodes[i].Place, b.nodes[j].Place
	for k := range b.strips {
		if s := &b.strips[k]; s.crosses(from, to) {
			out = append(out, Passage{b.obstacles[k], s.where(from, to)})
		}
	}
	return inOrderFrom(from, out)
}

// where gives the point at which a line that crosses the strip does so.
func (w *strip) where(a, b Place) Place {
	from, to := w.side(a.At), w.side(b.At)
	t := from / (from - to)
	if math.IsNaN(t) || math.IsInf(t, 0) {
		t = 0
	}
	return Place{geom.Segment{A: a.At, B: b.At}.At(t), a.Z + (b.Z-a.Z)*t}
}
