package radio

import (
	"cmp"
	"math"
	"slices"
)

// Net is the mesh of a room's routers, by the nodes of the Room. A link is part
// of it if it has the margin that is needed. Battery devices are no part of the
// mesh: they hang on it, and have the hops of their router and one more.
type Net struct {
	Root       int       // the gateway; in a room without one, the first router; -1 without routers
	Gateway    bool      // Root is a gateway
	Parts      [][]int   // routers that hear each other, directly or through others; that of Root first
	Hops       []int     // by node: links to Root, -1 where there is no way
	Bottleneck []float64 // by router: dB of the weakest link on its best way to Root; -Inf where there is none
	Cuts       []Cut     // routers whose loss parts the mesh of Root, but for the gateway
	Spans      []Span    // links whose loss does

	room *Room
	mesh *Mesh
}

// Cut is a router without which others have no way to the root (an articulation
// point of the mesh).
type Cut struct {
	Node int
	Off  []int // the routers that are cut off
}

// Span is a link without which routers have no way to the root (a bridge of the
// mesh).
type Span struct {
	Near, Far int // as seen from the root
	Margin    float64
	Off       []int // the routers that are cut off, Far among them
}

// Net works out the mesh. A gateway among others is the root; the root of a room
// without one is only where counting starts, and its own loss counts like that of
// others.
func (r *Room) Net() *Net {
	n := &Net{Root: -1, room: r}
	var edges []Edge
	for i := range r.Nodes {
		if !r.Nodes[i].Routes {
			continue
		}
		if n.Root < 0 || r.Nodes[i].Gateway() && !r.Nodes[n.Root].Gateway() {
			n.Root = i
		}
		for j := range i {
			if r.Nodes[j].Routes && r.Hears(i, j) {
				edges = append(edges, Edge{j, i, r.Margin(i, j)})
			}
		}
	}
	n.mesh = NewMesh(len(r.Nodes), edges)
	if n.Root < 0 {
		n.Hops = slices.Repeat([]int{-1}, len(r.Nodes))
		return n
	}
	n.Gateway = r.Nodes[n.Root].Gateway()
	n.Hops, n.Bottleneck = n.mesh.Hops(n.Root), n.mesh.Bottlenecks(n.Root)
	n.part()
	n.weaken()
	n.hang()
	return n
}

// part sorts the routers into parts.
func (n *Net) part() {
	seen := make([]bool, len(n.room.Nodes))
	for _, from := range append([]int{n.Root}, n.room.routers()...) {
		if !seen[from] {
			n.Parts = append(n.Parts, n.mesh.reach(from, -1, seen))
		}
	}
}

func (r *Room) routers() []int {
	var out []int
	for i := range r.Nodes {
		if r.Nodes[i].Routes {
			out = append(out, i)
		}
	}
	return out
}

// reach lists the nodes that hang together with one when another is gone, in
// order, and marks them.
func (m *Mesh) reach(from, without int, seen []bool) []int {
	seen[from] = true
	out := []int{from}
	for k := 0; k < len(out); k++ {
		for _, h := range m.next[out[k]] {
			if h.to != without && !seen[h.to] {
				seen[h.to] = true
				out = append(out, h.to)
			}
		}
	}
	slices.Sort(out)
	return out
}

// weaken finds what the mesh of the root hangs on.
func (n *Net) weaken() {
	weak := n.mesh.Weak()
	for _, v := range weak.Nodes {
		switch {
		case n.Hops[v] < 0 || v == n.Root && n.Gateway:
		case v == n.Root:
			// Without a gateway the part with the most routers goes on.
			n.Cuts = append(n.Cuts, Cut{v, n.smallerParts(v)})
		default:
			n.Cuts = append(n.Cuts, Cut{v, n.beyond(v)})
		}
	}
	for _, e := range weak.Links {
		near, far := n.mesh.edges[e].A, n.mesh.edges[e].B
		if n.Hops[near] > n.Hops[far] {
			near, far = far, near
		}
		if n.Hops[near] < 0 {
			continue
		}
		seen := make([]bool, len(n.room.Nodes))
		n.Spans = append(n.Spans, Span{near, far, n.mesh.edges[e].Margin, n.mesh.reach(far, near, seen)})
	}
	slices.SortFunc(n.Spans, func(a, b Span) int { return a.Far - b.Far })
}

// beyond gives the routers that reach the root only through one.
func (n *Net) beyond(v int) []int {
	seen := make([]bool, len(n.room.Nodes))
	n.mesh.reach(n.Root, v, seen)
	var off []int
	for _, i := range n.Parts[0] {
		if !seen[i] && i != v {
			off = append(off, i)
		}
	}
	return off
}

// smallerParts gives the routers outside of the largest part that is left when
// one is gone.
func (n *Net) smallerParts(v int) []int {
	seen := make([]bool, len(n.room.Nodes))
	seen[v] = true
	var largest, off []int
	for _, i := range n.Parts[0] {
		if seen[i] {
			continue
		}
		part := n.mesh.reach(i, v, seen)
		if len(part) > len(largest) {
			part, largest = largest, part
		}
		off = append(off, part...)
	}
	slices.Sort(off)
	return off
}

// hang gives the devices that do not relay their hops: those of the parent where
// they have one that they hear, else of the best router in reach.
func (n *Net) hang() {
	for i := range n.room.Nodes {
		d := &n.room.Nodes[i]
		if d.Routes {
			continue
		}
		best := -1
		for j := range n.room.Nodes {
			if n.Hops[j] < 0 || !n.room.Nodes[j].Routes || !n.room.Hears(i, j) {
				continue
			}
			if n.room.Nodes[j].Device.ID == d.Device.Parent {
				best = n.Hops[j]
				break
			}
			if best < 0 || n.Hops[j] < best {
				best = n.Hops[j]
			}
		}
		if best >= 0 {
			n.Hops[i] = best + 1
		}
	}
}

// Ways gives how many ways a router has to the root that share no other router
// (Menger); 0 for the root and where there is none. Two or more is sound.
func (n *Net) Ways(node int) int {
	if n.Root < 0 {
		return 0
	}
	return n.mesh.Disjoint(node, n.Root)
}

// Neighbours gives how many routers a router hears.
func (n *Net) Neighbours(node int) int { return n.mesh.Neighbours(node) }

// Reached gives the routers that a device hears, the best one first, and the
// margin to the best router of all, heard or not: -Inf where there is none.
func (r *Room) Reached(node int) (routers []int, best float64) {
	if r.heard[node].best < 0 {
		return nil, math.Inf(-1)
	}
	for j := range r.Nodes {
		if j != node && r.Nodes[j].Routes && r.Hears(node, j) {
			routers = append(routers, j)
		}
	}
	slices.SortStableFunc(routers, func(a, b int) int { return -cmp.Compare(r.Margin(node, a), r.Margin(node, b)) })
	return routers, r.Margin(node, r.heard[node].best)
}
