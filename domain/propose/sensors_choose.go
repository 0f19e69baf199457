package propose

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// choose finds the fewest places, then moves them about as far as that sees more
// floor or leaves the room's own sensors where they are. More than are allowed
// are cut to the best of that number.
func (s *sensorSearch) choose(spots []spot, share float64) Cover {
	problem := s.problem(spots, share)
	found := problem.Solve()
	cut := len(found.Chosen) > s.wish.Most
	if cut {
		found.Chosen, found.Proved = s.best(spots, s.wish.Most), false
	} else if kept := s.keeping(spots, problem); len(kept) <= len(found.Chosen) && len(kept) > 0 {
		found.Chosen = kept
	}
	found.Chosen = s.improve(spots, found.Chosen, problem)
	if !found.Proved && !cut {
		found.Chosen = s.fewer(spots, found.Chosen, problem)
		found.Proved = len(found.Chosen) <= found.Bound
	}
	return found
}

// fewer leaves one place out and moves the others about, as long as they then
// see all that is asked.
func (s *sensorSearch) fewer(spots []spot, chosen []int, p CoverProblem) []int {
	for len(chosen) > 1 {
		better := []int(nil)
		for out := range chosen {
			rest := s.improve(spots, slices.Delete(slices.Clone(chosen), out, out+1), p)
			if s.does(spots, rest, p) {
				better = rest
				break
			}
		}
		if better == nil {
			break
		}
		chosen = better
	}
	return chosen
}

// does tells that places see what a problem asks.
func (s *sensorSearch) does(spots []spot, chosen []int, p CoverProblem) bool {
	seen := make([]uint64, s.words())
	for _, i := range chosen {
		seen = or(seen, spots[i].sees)
	}
	return gain(seen, p.Must) == count(p.Must) && float64(gain(seen, p.Should)) >= p.Share*float64(count(p.Should))-1e-9
}

func (s *sensorSearch) problem(spots []spot, share float64) CoverProblem {
	p := CoverProblem{Must: make([]uint64, s.words()), Should: make([]uint64, s.words()), Share: share, Nodes: s.wish.Nodes}
	for i := range spots {
		p.Sets = append(p.Sets, spots[i].sees)
	}
	for n := range s.targets() + len(s.cells) {
		if n < s.targets() {
			p.Must[n/64] |= 1 << (n % 64)
		} else {
			p.Should[n/64] |= 1 << (n % 64)
		}
	}
	return p
}

// keeping gives the room's own places with the fewest beside them; nothing where
// one of its placed sensors is not among the places.
func (s *sensorSearch) keeping(spots []spot, p CoverProblem) []int {
	var own []int
	seen := make([]uint64, s.words())
	for i := range spots {
		if spots[i].device >= 0 {
			own = append(own, i)
			seen = or(seen, spots[i].sees)
		}
	}
	if len(own) == 0 || len(own) > s.wish.Most {
		return nil
	}
	need := p.Share*float64(count(p.Should)) - float64(gain(seen, p.Should))
	p.Must, p.Should = without(p.Must, seen), without(p.Should, seen)
	p.Share = 0
	if left := count(p.Should); left > 0 && need > 0 {
		p.Share = min(1, need/float64(left))
	}
	more := p.Solve()
	if more.Missed > 0 || more.Short > 0 {
		return nil
	}
	return append(own, more.Chosen...)
}

func or(a, b []uint64) []uint64 {
	out := make([]uint64, len(a))
	for i := range a {
		out[i] = a[i] | b[i]
	}
	return out
}

// best takes so many places, the largest gain each time, targets before floor.
func (s *sensorSearch) best(spots []spot, n int) []int {
	must, should := s.problem(spots, 1).Must, s.problem(spots, 1).Should
	var chosen []int
	for len(chosen) < n {
		pick, top := -1, 0
		for i := range spots {
			if v := 1000*gain(spots[i].sees, must) + gain(spots[i].sees, should); v > top {
				pick, top = i, v
			}
		}
		if pick < 0 {
			break
		}
		must, should = without(must, spots[pick].sees), without(should, spots[pick].sees)
		chosen = append(chosen, pick)
	}
	return chosen
}

// improve changes one place at a time for another while that is worth more:
// targets seen count first, then floor, where a sensor of the room that stays is
// worth a fiftieth of it.
func (s *sensorSearch) improve(spots []spot, chosen []int, p CoverProblem) []int {
	chosen = slices.Clone(chosen)
	stays := 1 + len(s.cells)/50
	worth := func(seen []uint64, i int) int {
		v := seenWorth(seen, p)
		if spots[i].device >= 0 {
			v += stays
		}
		return v
	}
	for range 4 {
		changed := false
		for at := range chosen {
			rest := s.withoutOne(spots, chosen, at)
			top := worth(or(rest, spots[chosen[at]].sees), chosen[at])
			for i := range spots {
				if v := worth(or(rest, spots[i].sees), i); v > top && !slices.Contains(chosen, i) {
					chosen[at], top, changed = i, v, true
				}
			}
		}
		if !changed {
			break
		}
	}
	return chosen
}

// seenWorth is what a set of targets and floor is worth: targets first.
func seenWorth(seen []uint64, p CoverProblem) int {
	return 10000*gain(seen, p.Must) + gain(seen, p.Should)
}

// withoutOne gives what all chosen places but one see.
func (s *sensorSearch) withoutOne(spots []spot, chosen []int, but int) []uint64 {
	out := make([]uint64, s.words())
	for at, i := range chosen {
		if at != but {
			out = or(out, spots[i].sees)
		}
	}
	return out
}

// shift moves chosen places under the ceiling off the grid, by a half and then a
// quarter of its step, where more is seen from there. It gives the places with
// the new ones at their end.
func (s *sensorSearch) shift(spots []spot, chosen []int, leaks bool) ([]spot, []int) {
	p, limit, step := s.problem(nil, 1), s.p.Limits.Value(domain.LeakArea), s.step()
	chosen = slices.Clone(chosen)
	for _, by := range []float64{step / 2, step / 2, step / 4} {
		for at, i := range chosen {
			here := spots[i]
			if here.device >= 0 || hangsOnWalls(s.p.Book.Find(here.typ)) {
				continue
			}
			rest := s.withoutOne(spots, chosen, at)
			best, top := here, seenWorth(or(rest, here.sees), p)
			for way := range 8 {
				sin, cos := math.Sincos(float64(way) * math.Pi / 4)
				to := geom.Pt(hundredths(here.at.X+by*cos), hundredths(here.at.Y+by*sin))
				one, ok := s.look(here.typ, to, here.turn, -1)
				if !ok || !s.room.Outline.Contains(to) || one.outside > limit && !leaks {
					continue
				}
				if v := seenWorth(or(rest, one.sees), p); v > top {
					best, top = one, v
				}
			}
			if best.at != here.at {
				spots = append(spots, best)
				chosen[at] = len(spots) - 1
			}
		}
	}
	return spots, chosen
}
