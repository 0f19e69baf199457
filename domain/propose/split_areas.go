package propose

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// carryOut turns an answer into areas on the plan.
func (s *split) carryOut(out *Division, found *answer) error {
	shapes, err := s.outlines(s.room.Outline.Oriented(), found)
	if err != nil {
		return err
	}
	leaves := found.leaves()
	settled := s.settle(leaves)
	var parts []*piece
	out.Areas, out.Cut, out.Strays = nil, nil, nil
	for _, i := range s.inOrder(leaves) {
		out.Areas, parts = append(out.Areas, Area{Outline: shapes[i]}), append(parts, settled[i])
	}
	l := s.shares(parts)
	s.rehang(l, out.Areas)
	for n := range out.Areas {
		s.equip(&out.Areas[n], l, n)
	}
	for i := range s.d.Links {
		k := &s.d.Links[i]
		if _, _, ok := s.ends(k); ok && l.deviceIn[s.deviceAt[k.Device]] != l.loadIn[s.loadAt[k.Load]] {
			out.Cut = append(out.Cut, *k)
		}
	}
	out.Length = units.Metres(float64(found.cost.length) / 1000)
	s.strays(out, l)
	return nil
}

// outlines cuts a shape on the plan as the answer says, in the order of its leaves.
func (s *split) outlines(shape geom.Polygon, a *answer) ([]geom.Polygon, error) {
	if a.cut == nil {
		if faults := shape.Validate(); len(faults) > 0 {
			return nil, fmt.Errorf("a part of it %s", faults[0].Message())
		}
		return []geom.Polygon{shape}, nil
	}
	low, high, err := s.cutOnPlan(shape, a.cut)
	if err != nil {
		return nil, err
	}
	below, err := s.outlines(low, a.low)
	if err != nil {
		return nil, err
	}
	above, err := s.outlines(high, a.high)
	return append(below, above...), err
}

func (s *split) cutOnPlan(shape geom.Polygon, c *cut) (low, high geom.Polygon, err error) {
	from, to := c.ends()
	a, b := s.plan(from), s.plan(to)
	if c.straight {
		left, right, err := shape.SplitByLine(a, b)
		if err != nil {
			return low, high, err
		}
		if len(left) == 1 && len(right) == 1 {
			if c.axis == 0 { // up along x = pos: lower x is on the left
				return left[0], right[0], nil
			}
			return right[0], left[0], nil
		}
	}
	way := b.Sub(a).Times(4 * besideLine / max(a.Distance(b), geom.OnEdge)) // past the ends, to reach the edges
	parts, err := shape.SplitByPath(a.Sub(way), b.Add(way))
	if err != nil {
		return low, high, err
	}
	if len(parts) != 2 {
		return low, high, fmt.Errorf("a cut leaves %d parts", len(parts))
	}
	if !parts[0].Contains(s.plan(c.low.LabelPoint())) {
		parts[0], parts[1] = parts[1], parts[0]
	}
	return parts[0], parts[1], nil
}

// inOrder sorts areas along the room, the one that has the room's gateway first:
// it stays known to the network under the number that it has.
func (s *split) inOrder(leaves []*piece) []int {
	axis := 0
	if box := s.shape.Bounds(); box.Height() > box.Width() {
		axis = 1
	}
	order := make([]int, len(leaves))
	for i := range order {
		order[i] = i
	}
	at := func(i, axis int) float64 { return math.Round(along(leaves[i].shape.Centroid(), axis) * 10) }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(min(1, leaves[b].tally.gateways), min(1, leaves[a].tally.gateways)), cmp.Compare(at(a, axis), at(b, axis)), cmp.Compare(at(a, 1-axis), at(b, 1-axis)))
	})
	return order
}

// equip fills an area in: its devices and loads, what it needs besides, and a
// parent for each battery device. leafFits has told that it can be.
func (s *split) equip(area *Area, l *lots, n int) {
	sub := s.designOf(l, n)
	for i := range sub.Devices {
		area.Devices = append(area.Devices, sub.Devices[i].ID)
	}
	for i := range sub.Loads {
		area.Loads = append(area.Loads, sub.Loads[i].ID)
	}
	kept := len(sub.Devices)
	area.Hung, sub.Devices = l.hung[n], append(sub.Devices, l.added[n]...)
	p := l.parts[n]
	s.withGateway(&sub, p)
	parents := ParentsBy(s.p, &sub, s.radio)
	area.Parents = parents.Parent
	var router domain.ID
	for i, child := range parents.Short {
		if i%max(1, s.caps.takes) == 0 {
			router = s.fresh(&sub, "router")
			sub.Devices = append(sub.Devices, domain.Device{ID: router, Type: s.caps.router.ID})
		}
		area.Parents[child] = router
	}
	area.Added = slices.Clone(sub.Devices[kept:])
	t := p.tally
	for i := len(l.added[n]); i < len(area.Added); i++ { // the tally has the controllers already
		t = t.plus(s.caps.count(s.p.Book.Find(area.Added[i].Type), &area.Added[i]))
	}
	area.Counts = s.caps.ceilings(t)
}

// withGateway adds to the devices of a piece the gateway that it lacks.
func (s *split) withGateway(sub *domain.Design, p *piece) {
	if s.caps.gateway != nil && p.tally.gateways == 0 {
		sub.Devices = append(sub.Devices, domain.Device{ID: s.fresh(sub, "gateway"), Type: s.caps.gateway.ID})
	}
}

// within gives the devices of a piece as a design.
func (s *split) within(p *piece) (sub domain.Design) {
	for i := range s.d.Devices {
		if p.has.has(s.ofDevice[i]) {
			sub.Devices = append(sub.Devices, s.d.Devices[i])
		}
	}
	return sub
}

// fresh gives an ID that no device of the room has, nor of the area.
func (s *split) fresh(sub *domain.Design, name domain.ID) domain.ID {
	id := name
	for n := 2; s.d.Device(id) != nil || sub.Device(id) != nil; n++ {
		id = domain.ID(fmt.Sprintf("%s-%d", name, n))
	}
	return id
}

// strays finds what stands in another area than it belongs to. What stands in a
// wall counts as in its room.
func (s *split) strays(out *Division, l *lots) {
	wall := s.p.Limits.Value(domain.OutsideOutline)
	for i := range s.d.Loads {
		home := l.loadIn[i]
		in := make([]int, len(out.Areas))
		for _, at := range s.fixturesOf[i] {
			in[standsIn(out.Areas, home, s.plan(at), 0)]++
		}
		for n, count := range in {
			if n != home && count > 0 {
				out.Strays = append(out.Strays, Stray{Load: s.d.Loads[i].ID, Area: home, In: n, Count: count, Of: len(s.fixturesOf[i])})
			}
		}
	}
	for i := range s.d.Devices {
		d := &s.d.Devices[i]
		if d.At == nil {
			continue
		}
		home := l.deviceIn[i]
		if n := standsIn(out.Areas, home, *d.At, wall); n != home {
			out.Strays = append(out.Strays, Stray{Device: d.ID, Area: home, In: n, Count: 1, Of: 1})
		}
	}
}

// standsIn gives the area that a place lies in: its own one where it lies in it
// or no farther from it than slack, else the one that has it or is nearest.
func standsIn(areas []Area, home int, at geom.Point, slack float64) int {
	best, least := home, distanceTo(areas[home].Outline, at)
	if least <= slack {
		return home
	}
	for n := range areas {
		if far := distanceTo(areas[n].Outline, at); far < least {
			best, least = n, far
		}
	}
	return best
}

func distanceTo(shape geom.Polygon, at geom.Point) float64 {
	if shape.Contains(at) {
		return 0
	}
	_, far := shape.NearestOnBoundary(at)
	return far
}
