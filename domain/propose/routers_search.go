package propose

import "math/bits"

// RelayProblem asks at which of some sites more routers must stand so that all
// routers have a way to the first of them, and all battery devices a router with
// room. Nodes are the routers, the first being the root, and after them the sites.
type RelayProblem struct {
	Routers  int
	Sites    int
	Links    [][2]int // of nodes that hear each other
	Capacity []int    // by node: battery devices that it takes
	Children []RelayChild
	Ways     int  // that each router is to have to the root, sharing no router: 1 or 2
	Alike    bool // the root is a router like others, which two ways must do without, too

	// Most bounds how many sites an answer may have; 0: all of them.
	Most int
	// Checks bounds how many sets of sites are looked at; 0: RelayChecks.
	Checks int
}

// RelayChild is a battery device.
type RelayChild struct {
	Hears []int // nodes
	Wants int   // how many it is to hear; 0 counts as 1
	Mains bool  // it sleeps not and takes no router's room
}

// RelayChecks is how many sets of sites a search looks at before it settles for
// a good one: some milliseconds' work.
const RelayChecks = 20_000

// Relays is the answer. Bound is a number that no answer at these sites goes
// below; Proved tells that Chosen is the fewest. Found is false where not even all
// sites together do, and where none of at most Most was found.
type Relays struct {
	Chosen []int
	Bound  int
	Proved bool
	Found  bool
}

// Solve tries sets of sites by their size, the smallest first, which finds the
// fewest (a node-weighted Steiner tree where only ways are asked for). A site that
// hears no more than others do is left out where enough of those are at hand. When
// the sets become too many it adds sites while that helps, then takes away what is
// not needed: a heuristic that promises nothing (Proved is false).
func (p RelayProblem) Solve() Relays {
	s := newRelaySearch(p)
	if s.does(nil) {
		return Relays{Found: true, Proved: true}
	}
	all := make([]int, p.Sites)
	for i := range all {
		all[i] = i
	}
	if !s.does(all) {
		return Relays{}
	}
	out := Relays{Found: true, Bound: s.bound()}
	if s.Most > 0 && out.Bound > s.Most {
		return Relays{Bound: out.Bound}
	}
	left := p.Checks
	if left == 0 {
		left = RelayChecks
	}
	for ; out.Bound <= p.Sites; out.Bound++ {
		sites := s.undominated(out.Bound)
		if left -= choose(len(sites), out.Bound); left < 0 {
			break
		}
		if found := s.ofSize(sites, out.Bound, nil); found != nil {
			out.Chosen, out.Proved = found, true
			return out
		}
	}
	if out.Chosen = s.grow(all); out.Chosen == nil || s.Most > 0 && len(out.Chosen) > s.Most {
		return Relays{Bound: out.Bound}
	}
	out.Proved = len(out.Chosen) == out.Bound
	return out
}

// choose gives the number of sets of k out of n, at most a number beyond any bound.
func choose(n, k int) int {
	out := 1
	for i := range k {
		if out = out * (n - i) / (i + 1); out > 1<<30 {
			return 1 << 30
		}
	}
	return max(0, out)
}

type relaySearch struct {
	RelayProblem
	words int
	near  [][]uint64 // by node: the nodes that it hears
	heard [][]uint64 // by node: the children that hear it
	flow  filling
}

func newRelaySearch(p RelayProblem) *relaySearch {
	n := p.Routers + p.Sites
	s := &relaySearch{RelayProblem: p, words: (n + 63) / 64}
	s.near, s.heard = make([][]uint64, n), make([][]uint64, n)
	for i := range n {
		s.near[i], s.heard[i] = make([]uint64, s.words), make([]uint64, (len(p.Children)+63)/64)
	}
	for _, l := range p.Links {
		if l[0] != l[1] {
			put(s.near[l[0]], l[1])
			put(s.near[l[1]], l[0])
		}
	}
	for c, child := range p.Children {
		for _, r := range child.Hears {
			put(s.heard[r], c)
		}
	}
	s.flow = filling{room: make([]int, n), by: make([][]int, n), seen: make([]bool, n)}
	for _, child := range p.Children {
		if !child.Mains {
			s.flow.hears = append(s.flow.hears, child.Hears)
		}
	}
	return s
}

func put(set []uint64, i int)      { set[i/64] |= 1 << (i % 64) }
func drop(set []uint64, i int)     { set[i/64] &^= 1 << (i % 64) }
func has(set []uint64, i int) bool { return set[i/64]>>(i%64)&1 != 0 }

// among gives the set of the routers and of some sites.
func (s *relaySearch) among(sites []int) []uint64 {
	set := make([]uint64, s.words)
	for i := range s.Routers {
		put(set, i)
	}
	for _, i := range sites {
		put(set, s.Routers+i)
	}
	return set
}

// joined gives the nodes of a set that have a way to the root within it. Where
// there is no router yet, each group of sites that hear each other could be the
// network: all are given.
func (s *relaySearch) joined(set []uint64) [][]uint64 {
	if s.Routers > 0 {
		seen := make([]uint64, s.words)
		put(seen, 0)
		return [][]uint64{s.spread(set, seen, []int{0})}
	}
	var out [][]uint64
	done := make([]uint64, s.words)
	for i := range s.Sites {
		if has(set, i) && !has(done, i) {
			seen := make([]uint64, s.words)
			put(seen, i)
			group := s.spread(set, seen, []int{i})
			for w := range done {
				done[w] |= group[w]
			}
			out = append(out, group)
		}
	}
	if out == nil {
		out = [][]uint64{done}
	}
	return out
}

func (s *relaySearch) spread(set, seen []uint64, queue []int) []uint64 {
	for len(queue) > 0 {
		v := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for w, x := range s.near[v] {
			for x = x & set[w] &^ seen[w]; x != 0; x &= x - 1 {
				i := w*64 + bits.TrailingZeros64(x)
				put(seen, i)
				queue = append(queue, i)
			}
		}
	}
	return seen
}

// does tells that these sites are enough.
func (s *relaySearch) does(sites []int) bool {
	set := s.among(sites)
	for _, joined := range s.joined(set) {
		if s.holds(joined) && s.hearEnough(joined) && (s.Ways < 2 || s.lacking(set) == 0) && s.unplaced(joined) == 0 {
			return true
		}
	}
	return false
}

// holds tells that all routers are joined.
func (s *relaySearch) holds(joined []uint64) bool {
	for i := range s.Routers {
		if !has(joined, i) {
			return false
		}
	}
	return true
}

func (s *relaySearch) hearEnough(joined []uint64) bool {
	for c := range s.Children {
		if s.hears(c, joined) < max(1, s.Children[c].Wants) {
			return false
		}
	}
	return true
}

func (s *relaySearch) hears(c int, joined []uint64) (n int) {
	for _, r := range s.Children[c].Hears {
		if has(joined, r) {
			n++
		}
	}
	return n
}

// unplaced counts the children that find no router with room.
func (s *relaySearch) unplaced(joined []uint64) int {
	for r := range s.flow.room {
		if s.flow.room[r] = 0; has(joined, r) {
			s.flow.room[r] = s.Capacity[r]
		}
	}
	return s.flow.short()
}
