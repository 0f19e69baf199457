package radio

import (
	"cmp"
	"slices"

	"scopewright/domain/units"
)

// measure works out what the links of the backbone say.
func (b *Backbone) measure() {
	edges := make([]Edge, 0, len(b.margins))
	for pair, margin := range b.margins {
		if units.AtMost(b.needed, margin) {
			edges = append(edges, Edge{pair[0], pair[1], margin})
		}
	}
	slices.SortFunc(edges, func(x, y Edge) int { return cmp.Or(cmp.Compare(x.A, y.A), cmp.Compare(x.B, y.B)) })
	b.mesh = NewMesh(len(b.Gates), edges)
	b.Parts, b.Cuts = nil, nil
	seen := make([]bool, len(b.Gates))
	for i := range b.Gates {
		if !seen[i] {
			b.Parts = append(b.Parts, b.mesh.reach(i, -1, seen))
		}
	}
	slices.SortStableFunc(b.Parts, func(x, y []int) int { return len(y) - len(x) })
	b.cut()
	b.center()
}

// cut finds the gates that the largest part hangs on.
func (b *Backbone) cut() {
	for _, v := range b.mesh.Weak().Nodes {
		if !slices.Contains(b.Parts[0], v) {
			continue
		}
		seen := make([]bool, len(b.Gates))
		seen[v] = true
		var largest, off []int
		for _, i := range b.Parts[0] {
			if seen[i] {
				continue
			}
			piece := b.mesh.reach(i, v, seen)
			if len(piece) > len(largest) {
				piece, largest = largest, piece
			}
			off = append(off, piece...)
		}
		slices.Sort(off)
		b.Cuts = append(b.Cuts, Cut{v, off})
	}
}

// center finds the head. The middle of a longest way is tried first and is
// enough if all are in reach of it; each gate is tried only if not.
func (b *Backbone) center() {
	part := b.Parts[0]
	try := func(v int) int {
		hops, far := b.mesh.Hops(v), 0
		for _, i := range part {
			far = max(far, hops[i])
		}
		if b.Head < 0 || far < b.Farthest() {
			b.Head, b.Hops = v, hops
		}
		return far
	}
	b.Head, b.Hops = -1, nil
	one := b.farthestFrom(part[0])
	other := b.farthestFrom(one)
	if far := try(b.between(one, other)); far <= b.Settings.Backbone {
		return
	}
	for _, v := range part {
		try(v)
	}
}

func (b *Backbone) farthestFrom(v int) int {
	hops := b.mesh.Hops(v)
	far := v
	for _, i := range b.Parts[0] {
		if hops[i] > hops[far] {
			far = i
		}
	}
	return far
}

// between gives a gate in the middle of a shortest way between two.
func (b *Backbone) between(from, to int) int {
	near, far := b.mesh.Hops(from), b.mesh.Hops(to)
	whole := near[to]
	for _, i := range b.Parts[0] {
		if near[i] == whole/2 && near[i]+far[i] == whole {
			return i
		}
	}
	return from
}
