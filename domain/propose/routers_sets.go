package propose

import "slices"

// bound gives a number of sites that no answer goes below: those on the way with
// the fewest to a router or a child that has none, or as many as the children that
// are over take.
func (s *relaySearch) bound() int {
	far := s.sitesOnWay()
	most, largest := 1, 0
	for i := range s.Routers {
		most = max(most, far[i])
	}
	for c := range s.Children {
		nearest := s.Sites + 1
		for _, r := range s.Children[c].Hears {
			nearest = min(nearest, far[r])
		}
		most = max(most, nearest)
	}
	for i := range s.Sites {
		largest = max(largest, s.Capacity[s.Routers+i])
	}
	routers := s.among(nil)
	if over := s.unplaced(routers); largest > 0 {
		most = max(most, (over+largest-1)/largest)
	}
	return most
}

// sitesOnWay gives, for each node, the fewest sites on a way to it from the root,
// itself counting where it is one.
func (s *relaySearch) sitesOnWay() []int {
	n := s.Routers + s.Sites
	far := slices.Repeat([]int{s.Sites + 1}, n)
	var queue []int
	if s.Routers > 0 {
		far[0], queue = 0, []int{0}
	} else {
		for i := range s.Sites {
			far[i], queue = 1, append(queue, i)
		}
	}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for u := range n {
			if !has(s.near[v], u) {
				continue
			}
			by := far[v]
			if u >= s.Routers {
				by++
			}
			if by < far[u] {
				far[u] = by
				queue = append(queue, u)
			}
		}
	}
	return far
}

// undominated gives the sites of which fewer than k others hear all that they
// hear and take as many: in an answer of k sites, one of the k others could stand
// in for each site left out.
func (s *relaySearch) undominated(k int) []int {
	var out []int
	for i := range s.Sites {
		better := 0
		for j := range s.Sites {
			if i != j && s.dominates(j, i) && (j < i || !s.dominates(i, j)) {
				better++
			}
		}
		if better < k {
			out = append(out, i)
		}
	}
	return out
}

func (s *relaySearch) dominates(j, i int) bool {
	a, b := s.Routers+j, s.Routers+i
	if s.Capacity[a] < s.Capacity[b] {
		return false
	}
	for w, x := range s.near[b] {
		x &^= s.near[a][w]
		if w == a/64 {
			x &^= 1 << (a % 64)
		}
		if x != 0 {
			return false
		}
	}
	for w, x := range s.heard[b] {
		if x&^s.heard[a][w] != 0 {
			return false
		}
	}
	return true
}

// ofSize looks for k of some sites that are enough together with those taken.
func (s *relaySearch) ofSize(sites []int, k int, taken []int) []int {
	if k == 0 {
		if s.does(taken) {
			return slices.Clone(taken)
		}
		return nil
	}
	for i := 0; i+k <= len(sites); i++ {
		if found := s.ofSize(sites[i+1:], k-1, append(taken, sites[i])); found != nil {
			return found
		}
	}
	return nil
}

// grow adds the site that helps most each time, all of them where none helps by
// itself, and then takes away what is not needed. It gives up beyond Most.
func (s *relaySearch) grow(all []int) []int {
	var chosen []int
	for want := s.wanting(nil); !s.does(chosen); {
		if s.Most > 0 && len(chosen) >= s.Most {
			return nil
		}
		pick, best := -1, want
		for _, i := range all {
			if slices.Contains(chosen, i) {
				continue
			}
			if w := s.wanting(append(slices.Clip(chosen), i)); w < best {
				pick, best = i, w
			}
		}
		if pick < 0 {
			chosen = slices.Clone(all)
			break
		}
		chosen, want = append(chosen, pick), best
	}
	for i := 0; i < len(chosen); {
		if rest := slices.Delete(slices.Clone(chosen), i, i+1); s.does(rest) {
			chosen = rest
		} else {
			i++
		}
	}
	slices.Sort(chosen)
	return chosen
}

// wanting measures what is still amiss with some sites: sites still on the way to
// each router and child, ways, and children without room.
func (s *relaySearch) wanting(sites []int) int {
	set, least := s.among(sites), -1
	for _, joined := range s.joined(set) {
		if amiss := s.amiss(set, joined); least < 0 || amiss < least {
			least = amiss
		}
	}
	return least
}

// amiss counts children without room only where nothing else is, so that each of
// those is more than all of these.
func (s *relaySearch) amiss(set, joined []uint64) int {
	sum := 0
	for i := range s.Routers {
		if !has(joined, i) {
			sum += 2 + s.hopsFrom(joined, func(v int) bool { return v == i })
		}
	}
	for c := range s.Children {
		if n := s.hears(c, joined); n < max(1, s.Children[c].Wants) {
			sum += 2*(max(1, s.Children[c].Wants)-n) + s.hopsFrom(joined, func(v int) bool { return has(s.heard[v], c) && !has(joined, v) })
		}
	}
	if s.Ways > 1 {
		sum += s.lacking(set)
	}
	if sum > 0 {
		return sum + len(s.Children)
	}
	return s.unplaced(joined)
}

// hopsFrom gives the number of links from joined nodes to the nearest node as
// asked, over all nodes.
func (s *relaySearch) hopsFrom(joined []uint64, want func(int) bool) int {
	seen := slices.Clone(joined)
	edge := slices.Clone(joined)
	for hops := 1; ; hops++ {
		next := make([]uint64, s.words)
		for v := range s.Routers + s.Sites {
			if has(edge, v) {
				for w := range next {
					next[w] |= s.near[v][w] &^ seen[w]
				}
			}
		}
		if count(next) == 0 {
			return s.Routers + s.Sites
		}
		for v := range s.Routers + s.Sites {
			if has(next, v) && want(v) {
				return hops
			}
		}
		for w := range next {
			seen[w] |= next[w]
		}
		edge = next
	}
}
