package propose

import (
	"math/bits"
	"slices"
)

// lacking counts the routers that the loss of one node, or of their own link to
// the root, cuts off: those that share no block with the root in which there is a
// way around (Menger; blocks by low points: Hopcroft and Tarjan, 1973, from memory).
func (s *relaySearch) lacking(set []uint64) int {
	if s.Routers == 0 {
		return 0
	}
	n := s.Routers + s.Sites
	b := &blocks{near: s.near, set: set, depth: make([]int, n), low: make([]int, n), with: make([]bool, n)}
	b.depth[0] = 1
	b.with[0] = true
	for w, x := range s.near[0] {
		for x &= set[w]; x != 0; x &= x - 1 {
			if c := w*64 + bits.TrailingZeros64(x); b.depth[c] == 0 {
				b.search(c, 0)
				b.with[c] = b.mark(c)
			}
		}
	}
	count := 0
	for i := range s.Routers {
		if !b.with[i] {
			count++
		}
	}
	return count + s.lackingRoot(set)
}

// lackingRoot counts the routers that hang together only by the root, where that
// is a router like others.
func (s *relaySearch) lackingRoot(set []uint64) int {
	if !s.Alike || s.Routers < 2 {
		return 0
	}
	without, seen := slices.Clone(set), make([]uint64, s.words)
	drop(without, 0)
	put(seen, 1)
	joined, count := s.spread(without, seen, []int{1}), 0
	for i := 1; i < s.Routers; i++ {
		if !has(joined, i) {
			count++
		}
	}
	return count
}

// blocks searches a graph in depth from node 0, of which it marks the neighbors
// in blocks.
type blocks struct {
	near       [][]uint64
	set        []uint64
	depth, low []int
	with       []bool // in a block with node 0 that has a way around
	order      []step // tree edges in the order of the search
}

type step struct{ from, to int }

func (b *blocks) search(v, from int) {
	b.depth[v] = b.depth[from] + 1
	b.low[v] = b.depth[v]
	for w, x := range b.near[v] {
		for x &= b.set[w]; x != 0; x &= x - 1 {
			u := w*64 + bits.TrailingZeros64(x)
			switch {
			case u == from:
			case b.depth[u] > 0:
				b.low[v] = min(b.low[v], b.depth[u])
			default:
				b.order = append(b.order, step{v, u})
				b.search(u, v)
				b.low[v] = min(b.low[v], b.low[u])
			}
		}
	}
}

// mark takes up the block of the link from node 0 to c, and tells whether it has
// more than that link.
func (b *blocks) mark(c int) (more bool) {
	in := map[int]bool{c: true}
	for _, e := range b.order {
		if in[e.from] && b.low[e.to] < b.depth[e.from] {
			in[e.to], b.with[e.to], more = true, true, true
		}
	}
	b.order = b.order[:0]
	return more
}
