package propose

import (
	"math"
	"math/bits"
	"slices"
)

// CoverProblem asks for the fewest sets that cover what must be covered, and a
// share of what should. Sets are bits of words, an element a bit; all have the
// same length.
type CoverProblem struct {
	Sets   [][]uint64
	Must   []uint64 // each of these elements
	Should []uint64 // and Share of these, 0 to 1
	Share  float64
	// Nodes bounds the search, so that it ends alike on every machine; 0: SearchNodes.
	Nodes int
}

// SearchNodes is how many partial choices a search for the fewest looks at
// before it settles for the best so far: about a second's work.
const SearchNodes = 200_000

// Cover is the answer: which sets, a number that no answer can go below, and
// whether this one is proved to be the fewest.
type Cover struct {
	Chosen []int
	Bound  int
	Proved bool
	Missed int // elements of Must that no set has
	Short  int // elements of Should that are missing to the share with all sets taken
}

// Solve takes the set with the largest gain each time, which uses at most H(m)
// times the fewest, m the largest set and H(m) = 1 + 1/2 + ... + 1/m (Chvatal
// 1979, from memory); then it searches for fewer by branch and bound.
func (p CoverProblem) Solve() Cover {
	s := newCoverSearch(p)
	best := s.greedy()
	out := Cover{Chosen: best, Bound: s.bound(s.must, s.need), Missed: s.missed, Short: s.short}
	if len(best) <= out.Bound {
		out.Proved = true
		return out
	}
	s.best = best
	s.left = p.Nodes
	if s.left == 0 {
		s.left = SearchNodes
	}
	s.search(s.must, s.should, s.need, nil)
	out.Chosen = s.best
	if out.Proved = s.left > 0; out.Proved {
		out.Bound = len(out.Chosen)
	}
	return out
}

// Harmonic gives H(m), the most by which taking the largest gain each time
// exceeds the fewest.
func Harmonic(m int) float64 {
	sum := 0.0
	for i := 1; i <= m; i++ {
		sum += 1 / float64(i)
	}
	return sum
}

type coverSearch struct {
	sets         [][]uint64
	must, should []uint64
	need         int // how many of should are still to be covered
	missed       int
	short        int
	best         []int
	left         int
}

func newCoverSearch(p CoverProblem) *coverSearch {
	s := &coverSearch{sets: p.Sets, must: slices.Clone(p.Must), should: slices.Clone(p.Should)}
	all := make([]uint64, len(p.Must))
	for _, set := range p.Sets {
		for i, w := range set {
			all[i] |= w
		}
	}
	s.missed = count(s.must)
	s.must = and(s.must, all)
	s.missed -= count(s.must)
	s.need = int(math.Ceil(p.Share*float64(count(s.should)) - 1e-9))
	reachable := and(s.should, all)
	s.short = max(0, s.need-count(reachable))
	s.should, s.need = reachable, s.need-s.short
	return s
}

func count(w []uint64) (n int) {
	for _, x := range w {
		n += bits.OnesCount64(x)
	}
	return n
}

func and(a, b []uint64) []uint64 {
	out := make([]uint64, len(a))
	for i := range a {
		out[i] = a[i] & b[i]
	}
	return out
}

func without(a, b []uint64) []uint64 {
	out := make([]uint64, len(a))
	for i := range a {
		out[i] = a[i] &^ b[i]
	}
	return out
}

func gain(set, of []uint64) (n int) {
	for i := range of {
		n += bits.OnesCount64(set[i] & of[i])
	}
	return n
}

// greedy takes the largest gain each time: of what must be covered first.
func (s *coverSearch) greedy() []int {
	must, should, need := s.must, s.should, s.need
	var chosen []int
	for count(must) > 0 || need > 0 {
		pick, top, second := -1, -1, -1
		for i, set := range s.sets {
			m, a := gain(set, must), min(max(0, need), gain(set, should))
			if m > top || m == top && a > second {
				pick, top, second = i, m, a
			}
		}
		if pick < 0 || top+second <= 0 {
			break
		}
		need -= gain(s.sets[pick], should)
		must, should = without(must, s.sets[pick]), without(should, s.sets[pick])
		chosen = append(chosen, pick)
	}
	return chosen
}

// bound gives a number of further sets that no choice can go below.
func (s *coverSearch) bound(must []uint64, need int) int {
	m, a := 1, 1
	for _, set := range s.sets {
		m, a = max(m, gain(set, must)), max(a, gain(set, s.should))
	}
	n := count(must)
	return max((n+m-1)/m, (max(0, need)+a-1)/a, s.apart(must))
}

// apart gives how many elements of must there are of which no two share a set:
// each asks for one of its own.
func (s *coverSearch) apart(must []uint64) (n int) {
	left := slices.Clone(must)
	for w := range left {
		for left[w] != 0 {
			bit := uint64(1) << bits.TrailingZeros64(left[w])
			n++
			for _, set := range s.sets {
				if set[w]&bit != 0 {
					for i := range left {
						left[i] &^= set[i]
					}
				}
			}
			left[w] &^= bit
		}
	}
	return n
}

// search looks for fewer sets: it branches over the sets that have the element
// with the fewest of them, or over all where only the share is open.
func (s *coverSearch) search(must, should []uint64, need int, chosen []int) {
	if s.left <= 0 {
		return
	}
	s.left--
	if count(must) == 0 && need <= 0 {
		if len(chosen) < len(s.best) {
			s.best = slices.Clone(chosen)
		}
		return
	}
	if len(chosen)+s.bound(must, need) >= len(s.best) {
		return
	}
	for _, i := range s.branches(must, should, chosen) {
		s.search(without(must, s.sets[i]), without(should, s.sets[i]), need-gain(s.sets[i], should), append(chosen, i))
	}
}

func (s *coverSearch) branches(must, should []uint64, chosen []int) []int {
	var list []int
	if w, bit, ok := s.scarcest(must); ok {
		for i, set := range s.sets {
			if set[w]&bit != 0 {
				list = append(list, i)
			}
		}
	} else {
		// Order does not matter: further sets come behind the last one taken.
		from := 0
		if len(chosen) > 0 && count(s.must) == 0 {
			from = chosen[len(chosen)-1] + 1
		}
		for i := from; i < len(s.sets); i++ {
			if gain(s.sets[i], should) > 0 {
				list = append(list, i)
			}
		}
		if count(s.must) == 0 {
			return list
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return gain(s.sets[b], must) + gain(s.sets[b], should) - gain(s.sets[a], must) - gain(s.sets[a], should)
	})
	return list
}

// scarcest gives the element of must that the fewest sets have.
func (s *coverSearch) scarcest(must []uint64) (word int, bit uint64, ok bool) {
	least := math.MaxInt
	for w, left := range must {
		for left != 0 {
			b := uint64(1) << bits.TrailingZeros64(left)
			left &^= b
			n := 0
			for _, set := range s.sets {
				if set[w]&b != 0 {
					n++
				}
			}
			if n < least {
				least, word, bit, ok = n, w, b, true
			}
		}
	}
	return word, bit, ok
}
