package propose

import (
	"cmp"
	"slices"

	"scopewright/domain"
)

// waysWork is what looking for other ways to divide takes at most, beside the
// search for the best one.
const waysWork = DivideWork / 4

// Divisions gives ways to divide a room into as few areas as Divide finds, at
// most so many: what a caller then judges by the rules, which look at more than
// limits and links. There is one for each first cut that leads to one, besides
// the one that Divide gives; of all these the ones with the least that is bereft
// come first, then those that Divide would prefer. A list of one that does not
// fit says why not.
func Divisions(p *domain.Project, r *domain.Resolved, most int) []Division {
	s, first, found := divide(p, r)
	if found == nil {
		return []Division{first}
	}
	ways := s.ways(found)
	out := []Division{}
	for _, w := range ways[:min(most, len(ways))] {
		d := first
		d.Best = d.Best && w == found
		if s.carryOut(&d, w) == nil {
			d.Fits = true
			out = append(out, d)
		}
	}
	if len(out) == 0 { // none of them can be drawn: Divide says why
		s.conclude(&first, found)
		return []Division{first}
	}
	return out
}

// ways gives the divisions to compare, the most promising first.
func (s *split) ways(first *answer) []*answer {
	k := len(first.leaves())
	s.known, s.effort, s.ranOut, s.work = map[string]*answer{}, effort{answers: 1}, false, waysWork
	all := s.whole(k)
	out, seen := []*answer{first}, map[string]bool{first.key(): true}
	for _, c := range s.cuts(all) {
		if s.work <= 0 {
			break
		}
		if s.caps.bound(c.tally)+s.caps.bound(all.tally.minus(c.tally)) > k {
			continue
		}
		if a := s.after(all, c, k, nil); a != nil && !seen[a.key()] {
			seen[a.key()] = true
			out = append(out, a)
		}
	}
	bereft := map[*answer]int{}
	for _, a := range out {
		bereft[a] = s.bereft(s.areasOf(s.settle(a.leaves())))
	}
	slices.SortStableFunc(out, func(a, b *answer) int {
		return cmp.Or(cmp.Compare(bereft[a], bereft[b]), a.cost.compare(b.cost))
	})
	return out
}

// key tells answers apart by what belongs to each of their areas.
func (a *answer) key() string {
	var keys []string
	for _, p := range a.leaves() {
		keys = append(keys, (&piece{has: p.has}).key(0))
	}
	slices.Sort(keys)
	var out []byte
	for _, k := range keys {
		out = append(out, k...)
	}
	return string(out)
}

// areasOf gives the area of each bundle.
func (s *split) areasOf(parts []*piece) []int {
	out := make([]int, len(s.bundles))
	for n, p := range parts {
		p.has.each(func(b int) { out[b] = n })
	}
	return out
}

// senses are the ways in which a load is controlled that it can lose.
type senses struct{ hand, presence, daylight bool }

func (a senses) or(b senses) senses {
	return senses{a.hand || b.hand, a.presence || b.presence, a.daylight || b.daylight}
}

// fewer counts the ways that a has and b lacks.
func (a senses) fewer(b senses) (n int) {
	for _, pair := range [][2]bool{{a.hand, b.hand}, {a.presence, b.presence}, {a.daylight, b.daylight}} {
		if pair[0] && !pair[1] {
			n++
		}
	}
	return n
}

// bereft counts what a division takes the last of something from: the loads that
// no station, no presence sensor or no daylight sensor acts on any longer, each
// kind by itself, and the inputs that no longer act on anything. Each is what a
// rule will ask for again, so this foretells findings where judging all ways
// would take too long.
func (s *split) bereft(areaOf []int) int {
	had, has := make([]senses, len(s.d.Loads)), make([]senses, len(s.d.Loads))
	acted, acts := make([]bool, len(s.d.Devices)), make([]bool, len(s.d.Devices))
	for i := range s.d.Links {
		k := &s.d.Links[i]
		from, to, ok := s.ends(k)
		if !ok {
			continue
		}
		dev, load := s.deviceAt[k.Device], s.loadAt[k.Load]
		one := s.senseOf(dev)
		acted[dev], had[load] = true, had[load].or(one)
		if areaOf[from] == areaOf[to] {
			acts[dev], has[load] = true, has[load].or(one)
		}
	}
	n := 0
	for i := range had {
		n += had[i].fewer(has[i])
	}
	for i := range acted {
		if acted[i] && !acts[i] {
			n++
		}
	}
	return n
}

func (s *split) senseOf(device int) senses {
	t := s.types[device]
	if t == nil {
		return senses{}
	}
	tr := t.Kind.Traits()
	return senses{tr.Buttons, tr.Presence, tr.Daylight}
}
