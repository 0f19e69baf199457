package radio

import "math"

// Edge is a link of a mesh between two of its nodes, with its margin in dB.
type Edge struct {
	A, B   int
	Margin float64
}

// Mesh is the graph of what hears what: gateway and routers as nodes, links that
// hold as edges.
type Mesh struct {
	edges []Edge
	next  [][]hop
}

type hop struct{ to, edge int }

// NewMesh builds a mesh of n nodes. An edge from a node to itself is left out.
func NewMesh(n int, edges []Edge) *Mesh {
	m := &Mesh{edges: edges, next: make([][]hop, n)}
	degree := make([]int, n)
	for _, e := range edges {
		if e.A != e.B {
			degree[e.A]++
			degree[e.B]++
		}
	}
	all := make([]hop, 2*len(edges)) // of which each node gets its piece
	for v, d := range degree {
		m.next[v], all = all[:0:d], all[d:]
	}
	for i, e := range edges {
		if e.A != e.B {
			m.next[e.A] = append(m.next[e.A], hop{e.B, i})
			m.next[e.B] = append(m.next[e.B], hop{e.A, i})
		}
	}
	return m
}

// Neighbours gives how many links a node has.
func (m *Mesh) Neighbours(node int) int { return len(m.next[node]) }

// Hops gives the least number of links from the root to each node, -1 where
// there is no way.
func (m *Mesh) Hops(root int) []int {
	hops := make([]int, len(m.next))
	for i := range hops {
		hops[i] = -1
	}
	hops[root] = 0
	for queue := []int{root}; len(queue) > 0; queue = queue[1:] {
		for _, h := range m.next[queue[0]] {
			if hops[h.to] < 0 {
				hops[h.to] = hops[queue[0]] + 1
				queue = append(queue, h.to)
			}
		}
	}
	return hops
}

// Bottlenecks gives, for each node, the margin of the weakest link on the best
// way to the root, +Inf for the root and -Inf where there is no way.
func (m *Mesh) Bottlenecks(root int) []float64 {
	best, done := make([]float64, len(m.next)), make([]bool, len(m.next))
	for i := range best {
		best[i] = math.Inf(-1)
	}
	best[root] = math.Inf(1)
	for {
		at := -1
		for i := range best {
			if !done[i] && !math.IsInf(best[i], -1) && (at < 0 || best[i] > best[at]) {
				at = i
			}
		}
		if at < 0 {
			return best
		}
		done[at] = true
		for _, h := range m.next[at] {
			best[h.to] = math.Max(best[h.to], math.Min(best[at], m.edges[h.edge].Margin))
		}
	}
}

// Weak are the parts whose loss cuts a mesh: nodes (articulation points) and
// links (bridges, by the index of their edge).
type Weak struct{ Nodes, Links []int }

// Weak finds them by one search in depth with low points (Tarjan; Hopcroft and
// Tarjan 1973, from memory): n nodes and e edges cost n + e.
func (m *Mesh) Weak() Weak {
	n := len(m.next)
	var w Weak
	depth, low, cut := make([]int, n), make([]int, n), make([]bool, n)
	type frame struct{ node, by, next, children int }
	for root := range n {
		if depth[root] > 0 {
			continue
		}
		depth[root], low[root] = 1, 1
		stack := []frame{{node: root, by: -1}}
		for len(stack) > 0 {
			top := &stack[len(stack)-1]
			v := top.node
			if top.next < len(m.next[v]) {
				h := m.next[v][top.next]
				top.next++
				switch {
				case h.edge == top.by:
				case depth[h.to] > 0:
					low[v] = min(low[v], depth[h.to])
				default:
					top.children++
					depth[h.to] = depth[v] + 1
					low[h.to] = depth[h.to]
					stack = append(stack, frame{node: h.to, by: h.edge})
				}
				continue
			}
			by, children := top.by, top.children
			stack = stack[:len(stack)-1]
			if len(stack) == 0 {
				cut[v] = children > 1
				continue
			}
			parent := stack[len(stack)-1].node
			low[parent] = min(low[parent], low[v])
			if low[v] > depth[parent] {
				w.Links = append(w.Links, by)
			}
			if len(stack) > 1 && low[v] >= depth[parent] {
				cut[parent] = true
			}
		}
	}
	for v := range cut {
		if cut[v] {
			w.Nodes = append(w.Nodes, v)
		}
	}
	return w
}

// Disjoint gives how many ways from a node to the root share no other node
// (Menger): a maximum flow in which each node but the two lets one unit pass. A
// direct link is one way.
func (m *Mesh) Disjoint(node, root int) int {
	if node == root {
		return 0
	}
	// Each node v is split: 2v takes in, 2v+1 gives out.
	type arc struct{ to, free int }
	var arcs []arc
	from := make([][]int, 2*len(m.next))
	add := func(a, b, free int) {
		from[a], from[b] = append(from[a], len(arcs)), append(from[b], len(arcs)+1)
		arcs = append(arcs, arc{b, free}, arc{a, 0})
	}
	for v := range m.next {
		through := 1
		if v == node || v == root {
			through = len(m.next)
		}
		add(2*v, 2*v+1, through)
	}
	for _, e := range m.edges {
		if e.A != e.B {
			add(2*e.A+1, 2*e.B, 1)
			add(2*e.B+1, 2*e.A, 1)
		}
	}
	for ways := 0; ; ways++ {
		by := make([]int, len(from))
		for i := range by {
			by[i] = -1
		}
		queue := []int{2 * node}
		by[2*node] = len(arcs)
		for len(queue) > 0 && by[2*root+1] < 0 {
			v := queue[0]
			queue = queue[1:]
			for _, a := range from[v] {
				if to := arcs[a].to; arcs[a].free > 0 && by[to] < 0 {
					by[to] = a
					queue = append(queue, to)
				}
			}
		}
		if by[2*root+1] < 0 {
			return ways
		}
		for v := 2*root + 1; v != 2*node; v = arcs[by[v]^1].to {
			arcs[by[v]].free--
			arcs[by[v]^1].free++
		}
	}
}
