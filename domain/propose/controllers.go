package propose

import (
	"slices"

	"scopewright/domain/equipment"
)

// controllerNodes is how many choices of controllers are looked at for the
// fewest.
const controllerNodes = 20_000

// addControllers adds the fewest controllers of the book that carry items, each
// on an output of its own, and among those the fewest outputs. Items of the
// emergency source get controllers of their own.
func (m *outputModel) addControllers(items []int) {
	var normal, emergency []int
	for _, i := range items {
		if m.items[i].emergency {
			emergency = append(emergency, i)
		} else {
			normal = append(normal, i)
		}
	}
	m.out.AddedProved = true
	for _, some := range [][]int{normal, emergency} {
		if len(some) > 0 {
			m.addFor(some)
		}
	}
}

// controllerChoice is which types may carry which items: a problem of
// transport, in which each controller takes as many items as it has outputs.
type controllerChoice struct {
	types   []*equipment.Type
	takes   [][]bool // by item, type
	left    int
	best    []int // places in types, nil: none yet
	outputs int   // of best
}

func (m *outputModel) addFor(items []int) {
	c := &controllerChoice{left: controllerNodes}
	items = c.read(m, items)
	if len(items) == 0 {
		return
	}
	least, chosen := c.least(), c.greedy()
	for n := least; n <= len(chosen) && c.left > 0 && c.best == nil; n++ {
		c.search(nil, 0, n)
		if c.best == nil && c.left > 0 {
			least = n + 1
		}
	}
	if c.best != nil {
		chosen = c.best
	}
	m.out.AddedBound += least
	m.out.AddedProved = m.out.AddedProved && len(chosen) == least
	m.place(items, c, chosen)
}

// read keeps the types that carry some item and the items that some type
// carries; the others are short.
func (c *controllerChoice) read(m *outputModel, items []int) []int {
	var kept, short []int
	for t := range m.Project.Book {
		typ := &m.Project.Book[t]
		if slices.ContainsFunc(items, func(i int) bool { return m.takes(typ, &m.items[i]) }) {
			c.types = append(c.types, typ)
		}
	}
	for _, i := range items {
		row := make([]bool, len(c.types))
		for t := range c.types {
			row[t] = m.takes(c.types[t], &m.items[i])
		}
		if !slices.Contains(row, true) {
			short = append(short, i)
			continue
		}
		kept, c.takes = append(kept, i), append(c.takes, row)
	}
	m.out.Short = append(m.out.Short, m.loadsOf(short)...)
	return kept
}

// least gives a number of controllers that no choice goes below: items that no
// type carries together with another of them need one each; and the largest
// controller carries no more than its outputs.
func (c *controllerChoice) least() int {
	most := 1
	for _, t := range c.types {
		most = max(most, t.Outputs)
	}
	apart := []int{}
	for i := range c.takes {
		if !slices.ContainsFunc(apart, func(j int) bool { return c.together(i, j) }) {
			apart = append(apart, i)
		}
	}
	return max((len(c.takes)+most-1)/most, len(apart))
}

func (c *controllerChoice) together(i, j int) bool {
	for t := range c.types {
		if c.takes[i][t] && c.takes[j][t] {
			return true
		}
	}
	return false
}

// greedy takes the type that carries most of what is left each time, and of
// those the one with the fewest outputs.
func (c *controllerChoice) greedy() []int {
	done := make([]bool, len(c.takes))
	var out []int
	for slices.Contains(done, false) {
		best, gained := -1, 0
		for t := range c.types {
			n := 0
			for i := range done {
				if !done[i] && c.takes[i][t] && n < c.types[t].Outputs {
					n++
				}
			}
			if n > gained || n == gained && best >= 0 && c.types[t].Outputs < c.types[best].Outputs {
				best, gained = t, n
			}
		}
		out = append(out, best)
		for i := range done {
			if gained > 0 && !done[i] && c.takes[i][best] {
				done[i], gained = true, gained-1
			}
		}
	}
	return out
}

// search tries all choices of n more types, each choice once, and keeps the one
// with the fewest outputs.
func (c *controllerChoice) search(chosen []int, from, n int) {
	if c.left <= 0 {
		return
	}
	c.left--
	outputs := 0
	for _, t := range chosen {
		outputs += c.types[t].Outputs
	}
	if c.best != nil && outputs >= c.outputs {
		return
	}
	if n == 0 {
		if outputs >= len(c.takes) && c.assign(chosen) != nil {
			c.best, c.outputs = slices.Clone(chosen), outputs
		}
		return
	}
	for t := from; t < len(c.types); t++ {
		c.search(append(chosen, t), t, n-1)
	}
}

// assign gives a controller of the choice for each item, by augmenting paths
// (Ford and Fulkerson, 1956); nil where there is not room for all.
func (c *controllerChoice) assign(chosen []int) []int {
	at, used := make([]int, len(c.takes)), make([]int, len(chosen))
	for i := range at {
		at[i] = -1
	}
	for i := range at {
		if !c.augmentItem(i, chosen, at, used, make([]bool, len(chosen))) {
			return nil
		}
	}
	return at
}

func (c *controllerChoice) augmentItem(i int, chosen, at, used []int, seen []bool) bool {
	for k, t := range chosen {
		if seen[k] || !c.takes[i][t] {
			continue
		}
		seen[k] = true
		if used[k] < c.types[t].Outputs {
			at[i], used[k] = k, used[k]+1
			return true
		}
		for j := range at {
			if at[j] == k && c.augmentItem(j, chosen, at, used, seen) {
				at[i] = k // j has gone elsewhere and was counted there
				return true
			}
		}
	}
	return false
}

// place writes down the controllers and what hangs on each.
func (m *outputModel) place(items []int, c *controllerChoice, chosen []int) {
	at, next := c.assign(chosen), make([]int, len(chosen))
	first := len(m.out.Added)
	for _, t := range chosen {
		m.out.Added = append(m.out.Added, c.types[t].ID)
	}
	for n, i := range items {
		k := at[n]
		next[k]++
		x := &m.items[i]
		m.out.Moves = append(m.out.Moves, Move{Load: x.load.ID, Part: x.part, Added: first + k, Output: next[k]})
	}
}
