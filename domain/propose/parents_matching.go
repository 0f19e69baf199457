package propose

import "math"

// pairing asks which child goes to which router, as many as possible and none
// beyond a router's capacity: a b-matching of least cost. Costs are compared in
// the order of their parts.
type pairing struct {
	capacity []int
	choices  [][]choice // by child
}

// choice is a router that a child hears.
type choice struct {
	router int
	kept   bool    // it is the parent that the designer chose
	weak   bool    // its link is one that would be warned of
	loss   float64 // dB
}

// price is the cost of an assignment: children on weak links, then children that
// leave the parent that was chosen for them, then crowding, the sum of the squares
// of the routers' children, which is least where they are even; then the loss.
type price struct {
	weak, moved, crowd int
	loss               float64
}

func (a price) plus(b price) price {
	return price{a.weak + b.weak, a.moved + b.moved, a.crowd + b.crowd, a.loss + b.loss}
}

func (a price) minus(b price) price {
	return price{a.weak - b.weak, a.moved - b.moved, a.crowd - b.crowd, a.loss - b.loss}
}

// hair is the loss in dB that counts as none, so that rounding makes no circles.
const hair = 1e-9

func (a price) less(b price) bool {
	switch {
	case a.weak != b.weak:
		return a.weak < b.weak
	case a.moved != b.moved:
		return a.moved < b.moved
	case a.crowd != b.crowd:
		return a.crowd < b.crowd
	}
	return a.loss < b.loss-hair
}

func (c choice) price() price {
	p := price{loss: c.loss}
	if c.weak {
		p.weak = 1
	}
	if !c.kept {
		p.moved = 1
	}
	return p
}

// solve gives each child's router, -1 where it finds none: the most children, at
// the least price. Children are placed one by one over the cheapest way of moving
// others along (successive shortest paths, Bellman 1958 and Ford 1956, from
// memory), which keeps each number of placed children at its least price; the
// price of one child more on a router grows, so that this holds for crowding, too.
func (p *pairing) solve() []int {
	s := &pairingState{pairing: p, router: make([]int, len(p.choices)), used: make([]int, len(p.capacity))}
	for i := range s.router {
		s.router[i] = -1
	}
	for s.augment() {
	}
	return s.router
}

type pairingState struct {
	*pairing
	router, used []int

	cost []price // by router: of the cheapest way that ends there
	from []int   // by router: the child that would come
	open []bool  // by router: there is a way
}

// augment places one child more, if any finds room.
func (s *pairingState) augment() bool {
	n := len(s.capacity)
	s.cost, s.from, s.open = make([]price, n), make([]int, n), make([]bool, n)
	for c := range s.choices {
		if s.router[c] < 0 {
			s.step(c, price{})
		}
	}
	// A cheapest way has each router once at most: n rounds find all.
	for changed, round := true, 0; changed && round <= n; round++ {
		changed = false
		for c, r := range s.router {
			if r >= 0 && s.open[r] && s.step(c, s.cost[r].minus(s.leaving(c, r))) {
				changed = true
			}
		}
	}
	best := -1
	var least price
	for r := range n {
		if !s.open[r] || s.used[r] >= s.capacity[r] {
			continue
		}
		if total := s.cost[r].plus(price{crowd: 2*s.used[r] + 1}); best < 0 || total.less(least) {
			best, least = r, total
		}
	}
	if best < 0 {
		return false
	}
	s.used[best]++
	for r := best; r >= 0; {
		c := s.from[r]
		r, s.router[c] = s.router[c], r
	}
	return true
}

// leaving is what a child on a router costs there, apart from crowding: its place
// is taken by the one that comes.
func (s *pairingState) leaving(c, r int) price {
	for _, k := range s.choices[c] {
		if k.router == r {
			return k.price()
		}
	}
	return price{}
}

// step offers a child that can be had at a price to the routers that it hears.
func (s *pairingState) step(c int, at price) (changed bool) {
	for _, k := range s.choices[c] {
		if k.router == s.router[c] {
			continue
		}
		if total := at.plus(k.price()); !s.open[k.router] || total.less(s.cost[k.router]) {
			s.cost[k.router], s.from[k.router], s.open[k.router] = total, c, true
			changed = true
		}
	}
	return changed
}

// evenly solves it so that, of the answers of least price, the worst link is as
// good as can be: links as bad as the worst are left out while that costs nothing.
func (p *pairing) evenly() []int {
	best := p.solve()
	placed, least, worst := p.sum(best)
	for placed > 0 {
		without := &pairing{capacity: p.capacity, choices: make([][]choice, len(p.choices))}
		for c, list := range p.choices {
			for _, k := range list {
				if k.loss < worst-hair {
					without.choices[c] = append(without.choices[c], k)
				}
			}
		}
		next := without.solve()
		n, sum, w := p.sum(next)
		if n < placed || least.less(sum) {
			return best
		}
		best, worst = next, w
	}
	return best
}

// sum gives how many are placed, at what price, and the loss of the worst link.
func (p *pairing) sum(router []int) (placed int, total price, worst float64) {
	used, worst := make([]int, len(p.capacity)), math.Inf(-1)
	for c, r := range router {
		if r < 0 {
			continue
		}
		placed, used[r] = placed+1, used[r]+1
		total.crowd += 2*used[r] - 1
		for _, k := range p.choices[c] {
			if k.router == r {
				total, worst = total.plus(k.price()), math.Max(worst, k.loss)
			}
		}
	}
	return placed, total, worst
}
