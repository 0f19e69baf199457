package dxf

import (
	"slices"

	"scopewright/domain/geom"
)

// maxCompared bounds the corners of outlines that are compared for overlaps,
// each time an outline is compared.
const maxCompared = 300_000

// storeyHolds is how many rooms an outline must hold, and what share of it they
// must cover, to be taken for the outline of the storey (common practice, no
// published source).
const (
	storeyHolds  = 3
	storeyShared = 0.5
)

// overlaps warns of outlines that lie in each other or share area.
func (b *builder) overlaps(found []*outline) error {
	order := slices.Clone(found)
	slices.SortStableFunc(order, func(a, c *outline) int { return cmpFloat(a.bounds.Min.X, c.bounds.Min.X) })
	type pair struct {
		small, large *outline
		area         float64
		inside       bool
	}
	var pairs []pair
	holds, covered := map[*outline]int{}, map[*outline]float64{}
	tested := 0
	for i, a := range order {
		if b.ctx.Err() != nil {
			return b.ctx.Err()
		}
		for _, c := range order[i+1:] {
			if c.bounds.Min.X >= a.bounds.Max.X-geom.OnEdge {
				break
			}
			if c.bounds.Min.Y >= a.bounds.Max.Y-geom.OnEdge || c.bounds.Max.Y <= a.bounds.Min.Y+geom.OnEdge {
				continue
			}
			if tested += len(a.poly.Outer) + len(c.poly.Outer); tested > maxCompared {
				b.note("The outlines have so many corners or lie on each other so often that not all were compared for overlaps.")
				return nil
			}
			small, large := a, c
			if small.area > large.area {
				small, large = large, small
			}
			shared, err := geom.OverlapArea(small.poly, large.poly)
			if err != nil || shared < smallestOutline {
				continue
			}
			in := shared > 0.99*small.area
			pairs = append(pairs, pair{small, large, shared, in})
			if in {
				holds[large]++
				covered[large] += small.area
			}
		}
	}
	for o, n := range holds {
		o.whole = n >= storeyHolds && covered[o] >= storeyShared*o.area
	}
	for _, o := range found {
		if o.whole {
			b.problem("overlaps", b.where(o.stroke), "%s (%.1f m2) holds %d of the other rooms. It looks like the outline of the storey, so it comes as unassigned.",
				upper(o.called(b)), o.area, holds[o])
		}
	}
	for _, p := range pairs {
		switch {
		case p.large.whole || p.small.whole:
		case p.inside:
			b.problem("overlaps", b.where(p.small.stroke), "%s lies inside %s (%.1f m2).", upper(p.small.called(b)), p.large.called(b), p.area)
		default:
			b.problem("overlaps", b.where(p.small.stroke), "%s and %s overlap by %.1f m2.", upper(p.small.called(b)), p.large.called(b), p.area)
		}
	}
	return nil
}
