package propose

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Hanging is a load that changes its controller, so that it can go to the area
// that its luminaires hang in.
type Hanging struct {
	Load, Controller domain.ID // one of the area's, or of those that it gets
	Output           int
}

// settle lets stations go with their loads: one whose links all lead to one other
// area belongs there, wherever its line on the plan runs, as long as both areas
// fit then. It leaves the pieces as they are and gives new ones.
func (s *split) settle(leaves []*piece) []*piece {
	parts := make([]*piece, len(leaves))
	for i, p := range leaves {
		copied := *p
		parts[i] = &copied
	}
	areaOf := s.areasOf(parts)
	for b := range s.bundles {
		to := s.allTiesTo(b, areaOf)
		if to < 0 || to == areaOf[b] || !s.onlyStations(b) {
			continue
		}
		from, into := s.without(parts[areaOf[b]], b), s.with(parts[to], b)
		if from.tally.devices > 0 && s.leafFits(from) && s.leafFits(into) {
			parts[areaOf[b]], parts[to] = from, into
			areaOf[b] = to
		}
	}
	return parts
}

// allTiesTo gives the one area that all links of a bundle lead to, -1 where there
// is none.
func (s *split) allTiesTo(b int, areaOf []int) int {
	to := -1
	for _, t := range s.ties[b] {
		if to >= 0 && areaOf[t.to] != to {
			return -1
		}
		to = areaOf[t.to]
	}
	return to
}

// onlyStations tells that a bundle is nothing but buttons: a sensor watches the
// place that it hangs over and stays there.
func (s *split) onlyStations(b int) bool {
	x := &s.bundles[b]
	return len(x.loads) == 0 && !slices.ContainsFunc(x.devices, func(i int) bool {
		return s.types[i] == nil || !s.types[i].Kind.Traits().Buttons
	})
}

func (s *split) with(p *piece, b int) *piece {
	out := *p
	out.has = slices.Clone(p.has)
	out.has.add(b)
	out.tally = p.tally.plus(s.bundles[b].tally)
	return &out
}

func (s *split) without(p *piece, b int) *piece {
	out := *p
	one := newSet(len(s.bundles))
	one.add(b)
	out.has, out.tally = p.has.but(one), p.tally.minus(s.bundles[b].tally)
	return &out
}

// lots are the areas' shares while they are worked out: the area of each device
// and load, and what each area gets so that its loads have controllers of its own.
type lots struct {
	parts    []*piece
	deviceIn []int
	loadIn   []int
	hung     [][]Hanging
	added    [][]domain.Device
}

func (s *split) shares(parts []*piece) *lots {
	areaOf := s.areasOf(parts)
	l := &lots{parts: parts, deviceIn: make([]int, len(s.d.Devices)), loadIn: make([]int, len(s.d.Loads)),
		hung: make([][]Hanging, len(parts)), added: make([][]domain.Device, len(parts))}
	for i, b := range s.ofDevice {
		l.deviceIn[i] = areaOf[b]
	}
	for i, b := range s.ofLoad {
		l.loadIn[i] = areaOf[b]
	}
	return l
}

// rehang lets loads go to the area that all of their luminaires hang in where
// their controller stays behind with other loads: onto free outputs there or onto
// controllers that are added, as OutputProblem finds them. Where that would move
// other loads, divide some or break a limit, they stay with their controller and
// are told as strays.
func (s *split) rehang(l *lots, areas []Area) {
	for n := range areas {
		moving := s.hangingIn(l, areas, n)
		if len(moving) == 0 {
			continue
		}
		sub := s.designOf(l, n)
		for _, i := range moving {
			load := s.d.Loads[i]
			load.Controller, load.Output = "", 0
			sub.Loads = append(sub.Loads, load)
		}
		among := func(id domain.ID) bool {
			return slices.ContainsFunc(moving, func(i int) bool { return s.d.Loads[i].ID == id })
		}
		found := OutputProblem{Project: s.p, Design: &sub, Leave: func(x *domain.Load) bool { return !among(x.ID) }, Whole: func(*domain.Load) bool { return true }}.Solve()
		if len(found.Short) > 0 || len(found.Moves) != len(moving) || slices.ContainsFunc(found.Moves, func(m Move) bool { return !among(m.Load) }) {
			continue
		}
		s.hang(l, n, &sub, &found)
	}
}

// hang carries an answer out if the area still fits with what it adds.
func (s *split) hang(l *lots, n int, sub *domain.Design, found *Spread) {
	grown := *l.parts[n]
	var added []domain.Device
	for _, typ := range found.Added {
		dev := domain.Device{ID: s.fresh(sub, "controller"), Type: typ}
		sub.Devices, added = append(sub.Devices, dev), append(added, dev)
		grown.tally = grown.tally.plus(s.caps.count(s.p.Book.Find(typ), &dev))
	}
	if !s.leafFits(&grown) {
		return
	}
	l.parts[n], l.added[n] = &grown, added
	for _, m := range found.Moves {
		by := m.Controller
		if by == "" {
			by = added[m.Added].ID
		}
		l.hung[n] = append(l.hung[n], Hanging{m.Load, by, m.Output})
		l.loadIn[s.loadAt[m.Load]] = n
	}
}

// designOf gives the devices and loads of one area, with all that is said of them.
func (s *split) designOf(l *lots, n int) domain.Design {
	out := *s.d
	out.Devices, out.Loads = nil, nil
	for i := range s.d.Devices {
		if l.deviceIn[i] == n {
			out.Devices = append(out.Devices, s.d.Devices[i])
		}
	}
	for i := range s.d.Loads {
		if l.loadIn[i] == n {
			out.Loads = append(out.Loads, s.d.Loads[i])
		}
	}
	return out
}

// hangingIn gives the loads whose luminaires all hang in an area that they do not
// belong to, and whose controller keeps another load.
func (s *split) hangingIn(l *lots, areas []Area, n int) []int {
	keeps := map[domain.ID]int{}
	var out []int
	for i := range s.d.Loads {
		keeps[s.d.Loads[i].Controller]++
	}
	for i := range s.d.Loads {
		load := &s.d.Loads[i]
		if l.loadIn[i] == n || load.Controller == "" || len(s.fixturesOf[i]) == 0 || keeps[load.Controller] < 2 {
			continue
		}
		elsewhere := slices.ContainsFunc(s.fixturesOf[i], func(at geom.Point) bool { return standsIn(areas, l.loadIn[i], s.plan(at), 0) != n })
		if !elsewhere {
			keeps[load.Controller]--
			out = append(out, i)
		}
	}
	return out
}
