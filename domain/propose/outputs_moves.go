package propose

import (
	"cmp"
	"slices"

	"scopewright/domain"
	"scopewright/domain/units"
)

// mostMoves is how many loads a rearrangement may move: a person must be able to
// follow it.
const mostMoves = 8

// rebalance looks for the fewest moves after which every load hangs somewhere
// and no output is over: an output that is over must lose a load, so it tries
// each of them on each output that takes it, deepening by one move at a time.
// The first depth that succeeds is the fewest.
func (m *outputModel) rebalance() bool {
	m.out.Bound = m.leastMoves()
	if m.out.Bound == 0 {
		m.out.Proved = true
		return true
	}
	s := &moveSearch{outputModel: m, left: m.Nodes, moved: make([]bool, len(m.items))}
	if s.left == 0 {
		s.left = OutputNodes
	}
	for depth := m.out.Bound; depth <= mostMoves && s.left > 0; depth++ {
		if s.search(depth) {
			m.out.Proved, m.out.Bound = true, depth
			m.keepMoves(s.moved)
			return true
		}
	}
	return false
}

// keepMoves writes down where the moved items hang now.
func (m *outputModel) keepMoves(moved []bool) {
	for i := range m.items {
		if x := &m.items[i]; moved[i] {
			o := &m.outlets[x.at]
			m.out.Moves = append(m.out.Moves, Move{Load: x.load.ID, Part: x.part, Controller: o.device.ID, Output: o.output})
		}
	}
}

// leastMoves gives a number of moves that no answer goes below: each item that
// hangs nowhere, and for each output that is over as many as must leave it if
// the largest go first.
func (m *outputModel) leastMoves() int {
	n := 0
	for i := range m.items {
		if m.items[i].at < 0 && !m.items[i].left {
			n++
		}
	}
	for o := range m.outlets {
		n += max(m.mustLeave(o, func(x *carried) float64 { return x.amps }, m.outlets[o].amps), m.mustLeave(o, func(x *carried) float64 { return x.ma }, m.outlets[o].ma))
	}
	return n
}

func (m *outputModel) mustLeave(o int, what func(*carried) float64, most float64) int {
	var on []float64
	sum := 0.0
	for i := range m.items {
		if x := &m.items[i]; x.at == o && !x.left {
			on, sum = append(on, what(x)), sum+what(x)
		}
	}
	slices.SortFunc(on, func(a, b float64) int { return cmp.Compare(b, a) })
	n := 0
	for !units.AtMost(sum, most) && n < len(on) {
		sum -= on[n]
		n++
	}
	return n
}

type moveSearch struct {
	*outputModel
	left  int
	moved []bool
}

// search moves at most depth more items; it gives true with the items where they
// then hang, or false with all of them where they were.
func (s *moveSearch) search(depth int) bool {
	who := s.trouble()
	if who == nil {
		return true
	}
	if depth == 0 || s.left <= 0 {
		return false
	}
	s.left--
	for _, i := range who {
		x := &s.items[i]
		was := x.at
		for o := range s.outlets {
			if o == was || !s.mayGo(i, o) || s.sameAsBefore(o) {
				continue
			}
			x.at, s.moved[i] = o, true
			if s.search(depth - 1) {
				return true
			}
			x.at, s.moved[i] = was, false
		}
	}
	return false
}

// trouble gives the items of which one must move next: one that hangs nowhere,
// or those on the first output that is over; nil where all is well.
func (s *moveSearch) trouble() []int {
	for i := range s.items {
		if s.items[i].at < 0 && !s.items[i].left {
			return []int{i}
		}
	}
	for o := range s.outlets {
		if !s.over(o) {
			continue
		}
		who := []int{}
		for i := range s.items {
			if s.items[i].at == o && !s.moved[i] && !s.items[i].left {
				who = append(who, i)
			}
		}
		slices.SortStableFunc(who, func(a, b int) int { return cmp.Compare(s.items[b].amps, s.items[a].amps) })
		return who
	}
	return nil
}

func (m *outputModel) over(o int) bool {
	var amps, ma float64
	for i := range m.items {
		if x := &m.items[i]; x.at == o && !x.left {
			amps, ma = amps+x.amps, ma+x.ma
		}
	}
	return !units.AtMost(amps, m.outlets[o].amps) || !units.AtMost(ma, m.outlets[o].ma)
}

// mayGo tells that an item may hang on an output with what hangs there, apart
// from whether it is too much.
func (m *outputModel) mayGo(i, o int) bool {
	x := &m.items[i]
	if !m.takes(m.outlets[o].typ, x) {
		return false
	}
	for j := range m.items {
		y := &m.items[j]
		if j == i || y.at < 0 {
			continue
		}
		if y.at == o && !m.alike(x, y) || m.outlets[y.at].owner == m.outlets[o].owner && x.emergency != y.emergency && (x.load.Circuit != "" && y.load.Circuit != "") {
			return false
		}
	}
	return true
}

// sameAsBefore tells that an output is empty and so is one ahead of it on the
// same controller: trying both is trying one twice.
func (m *outputModel) sameAsBefore(o int) bool {
	if !m.empty(o) {
		return false
	}
	for before := o - 1; before >= 0 && m.outlets[before].owner == m.outlets[o].owner; before-- {
		if m.empty(before) {
			return true
		}
	}
	return false
}

func (m *outputModel) empty(o int) bool {
	return !slices.ContainsFunc(m.items, func(x carried) bool { return x.at == o })
}

// extend takes off what is over, the largest first, puts what it can on outputs
// that are free, and adds controllers for the rest.
func (m *outputModel) extend() {
	moved := make([]bool, len(m.items))
	var rest []int
	for i := range m.items {
		if m.items[i].at < 0 && !m.items[i].left {
			rest = append(rest, i)
		}
	}
	for o := range m.outlets {
		for m.over(o) {
			at := -1
			for i := range m.items {
				if x := &m.items[i]; x.at == o && !x.left && (at < 0 || x.amps > m.items[at].amps) {
					at = i
				}
			}
			m.items[at].at = -1
			rest = append(rest, at)
		}
	}
	slices.SortStableFunc(rest, func(a, b int) int { return cmp.Compare(m.items[b].amps, m.items[a].amps) })
	var homeless []int
	for _, i := range rest {
		if moved[i] = m.firstFree(i); !moved[i] {
			homeless = append(homeless, i)
		}
	}
	m.keepMoves(moved)
	slices.Sort(homeless)
	m.addControllers(homeless)
}

func (m *outputModel) firstFree(i int) bool {
	for o := range m.outlets {
		if !m.mayGo(i, o) {
			continue
		}
		if m.items[i].at = o; !m.over(o) {
			return true
		}
		m.items[i].at = -1
	}
	return false
}

// loadsOf lists the loads that items are of, each once.
func (m *outputModel) loadsOf(items []int) []domain.ID {
	var out []domain.ID
	for _, i := range items {
		if id := m.items[i].load.ID; !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}
