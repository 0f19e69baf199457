package propose

import (
	"cmp"
	"encoding/binary"
	"math"
	"math/bits"
	"slices"

	"scopewright/domain/geom"
)

// cost is what a division costs, compared from the first number on.
type cost struct {
	links    int // parted
	strays   int
	length   int // of the cuts, mm
	unevenly int // the sum of the squares of the areas' devices
}

func (a cost) plus(b cost) cost {
	return cost{a.links + b.links, a.strays + b.strays, a.length + b.length, a.unevenly + b.unevenly}
}

func (a cost) compare(b cost) int {
	return cmp.Or(cmp.Compare(a.links, b.links), cmp.Compare(a.strays, b.strays), cmp.Compare(a.length, b.length), cmp.Compare(a.unevenly, b.unevenly))
}

// set is a set of bundles or things, a bit each.
type set []uint64

func newSet(n int) set       { return make(set, (n+63)/64) }
func (s set) has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }
func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) each(do func(i int)) {
	for w, left := range s {
		for ; left != 0; left &= left - 1 {
			do(64*w + bits.TrailingZeros64(left))
		}
	}
}

func (s set) count() (n int) {
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// but gives what is in s and not in o.
func (s set) but(o set) set {
	out := slices.Clone(s)
	for i := range o {
		out[i] &^= o[i]
	}
	return out
}

// piece is a part of the outline with what belongs to it.
type piece struct {
	shape geom.Polygon
	has   set // bundles
	bears set // things that stand in here and whose bundle belongs to here
	tally tally
	most  int // areas that it may become
	cuts  []*cut
	cutUp bool // cuts are known
}

// answer is the best way to make so many areas of a piece: a leaf is one area.
type answer struct {
	cost      cost
	piece     *piece
	cut       *cut
	low, high *answer
}

// effort is how hard a search tries.
type effort struct {
	answers int // that a piece compares; 0: all
	tries   int // cuts that are tried for the first; 0: all
}

// search finds the best division into the fewest areas, nil where none is found.
// Whether there is one at all shows with one answer a piece: first among the
// sparsest cuts, then among all. The work that is left then goes into better ones.
func (s *split) search(out *Division) *answer {
	all := s.whole(len(s.bundles))
	out.Fewest = true
	s.work = DivideWork
	from := max(2, out.Bound)
	for k := from; k <= min(from+mostBeyond, all.has.count()); k++ {
		s.tried = k
		found := s.share(6, k, effort{answers: 1, tries: 4})
		if found == nil {
			found = s.share(4, k, effort{answers: 1})
			out.Fewest = out.Fewest && (found != nil || !s.ranOut)
		}
		if found == nil {
			continue
		}
		for _, e := range []effort{{answers: 1}, {answers: 3}, {}} {
			if better := s.solve(k, e, found); better != nil {
				found = better
			}
		}
		out.Best = out.Fewest && !s.ranOut
		return found
	}
	out.Fewest = false
	s.work = DivideWork / 4
	return s.greedy(all)
}

// greedy cuts a piece in two, and each part again, until all parts fit: where
// nothing better was found within the work or the number of areas. The cuts come first that ask for
// the fewest areas, and of those the sparsest.
func (s *split) greedy(p *piece) *answer {
	if s.leafFits(p) {
		return s.leaf(p)
	}
	s.effort = effort{answers: 1, tries: 4}
	cuts := s.cuts(p)
	areas := func(c *cut) int { return s.caps.bound(c.tally) + s.caps.bound(p.tally.minus(c.tally)) }
	slices.SortStableFunc(cuts, func(a, b *cut) int { return cmp.Compare(areas(a), areas(b)) })
	for _, c := range cuts[:min(len(cuts), s.effort.tries)] {
		if s.work <= 0 || !s.carve(p, c) {
			continue
		}
		low := s.greedy(c.below)
		if low == nil {
			continue
		}
		if high := s.greedy(c.above); high != nil {
			return &answer{cost: c.cost.plus(low.cost).plus(high.cost), piece: p, cut: c, low: low, high: high}
		}
	}
	return nil
}

// share searches with a share of the work that is left.
func (s *split) share(part, k int, e effort) *answer {
	saved := s.work - s.work/part
	s.work -= saved
	found := s.solve(k, e, nil)
	s.work += saved
	return found
}

// solve searches for a division into k areas that costs less than another; that
// one may be nil.
func (s *split) solve(k int, e effort, than *answer) *answer {
	s.known, s.effort, s.ranOut = map[string]*answer{}, e, s.work <= 0
	return s.best(s.whole(k), k, than)
}

func (s *split) whole(k int) *piece {
	w := &piece{shape: s.shape, has: newSet(len(s.bundles)), bears: newSet(len(s.things)), tally: s.caps.all, most: k}
	for i := range s.bundles {
		if s.bundles[i].placed {
			w.has.add(i)
		}
	}
	for i := range s.things {
		w.bears.add(i)
	}
	return w
}

// best gives the best way to make k areas of a piece, nil where there is none
// (that costs less than another, where one is given) or work ran out before one
// was found.
func (s *split) best(p *piece, k int, than *answer) *answer {
	if s.caps.bound(p.tally) > k || p.has.count() < k {
		return nil
	}
	if k == 1 {
		return s.leaf(p)
	}
	key := p.key(k)
	if known, ok := s.known[key]; ok {
		return known
	}
	if s.work <= 0 {
		s.ranOut = true
		return nil
	}
	if !p.cutUp {
		p.cuts, p.cutUp = s.cuts(p), true
	}
	best, answers, tries := than, 0, 0
	for _, c := range p.cuts {
		if best != nil && s.effort.tries == 0 && c.cost.compare(best.cost) >= 0 || s.effort.answers > 0 && answers >= s.effort.answers || s.effort.tries > 0 && tries >= s.effort.tries {
			break
		}
		if s.caps.bound(c.tally)+s.caps.bound(p.tally.minus(c.tally)) > k {
			continue
		}
		tries++
		if found := s.after(p, c, k, best); found != nil {
			best = found
			answers++
		}
		if s.work <= 0 {
			s.ranOut = true
			break
		}
	}
	if best == than {
		best = nil
	}
	if !s.ranOut && than == nil {
		s.known[key] = best
	}
	return best
}

func (s *split) leaf(p *piece) *answer {
	s.work -= len(p.has)
	if !s.leafFits(p) {
		return nil
	}
	return &answer{cost: cost{unevenly: p.tally.devices * p.tally.devices}, piece: p}
}

// after gives the best way to make k areas of a piece that begins with a cut,
// nil where it is no better than one that is known.
func (s *split) after(p *piece, c *cut, k int, best *answer) *answer {
	if !s.carve(p, c) {
		return nil
	}
	fromLow, fromHigh := s.caps.bound(c.below.tally), s.caps.bound(c.above.tally)
	var out *answer
	for n := fromLow; n <= k-fromHigh; n++ {
		a := s.best(c.below, n, nil)
		if a == nil || best != nil && c.cost.plus(a.cost).compare(best.cost) >= 0 {
			continue
		}
		b := s.best(c.above, k-n, nil)
		if b == nil {
			continue
		}
		if sum := c.cost.plus(a.cost).plus(b.cost); best == nil || sum.compare(best.cost) < 0 {
			out = &answer{cost: sum, piece: p, cut: c, low: a, high: b}
			best = out
		}
	}
	return out
}

// key tells pieces apart: by what belongs to them and by their extent.
func (p *piece) key(k int) string {
	out := make([]byte, 0, 8*len(p.has)+48)
	out = binary.AppendUvarint(out, uint64(k))
	for _, w := range p.has {
		out = binary.LittleEndian.AppendUint64(out, w)
	}
	box := p.shape.Bounds()
	for _, v := range []float64{box.Min.X, box.Min.Y, box.Max.X, box.Max.Y, p.shape.Area()} {
		out = binary.AppendVarint(out, int64(math.Round(v*1000)))
	}
	return string(out)
}

// leafFits tells that a piece can be one area.
func (s *split) leafFits(p *piece) bool {
	if !s.caps.fits(p.tally) {
		return false
	}
	if s.allHeard(p) {
		return true
	}
	s.work -= 40 * p.tally.devices
	sub := s.within(p)
	n := p.tally.devices - len(sub.Devices) // controllers that it gets besides
	s.withGateway(&sub, p)
	n += len(sub.Devices)
	short := Short(s.p, &sub, s.radio)
	if short > 0 && s.caps.takes == 0 {
		return false
	}
	return n+ceil(short, s.caps.takes) <= s.caps.devices
}

// carve carries out a cut of a piece.
func (s *split) carve(p *piece, c *cut) bool {
	if c.below != nil {
		return true
	}
	if c.low.Empty() {
		var ok bool
		if c.low, c.high, ok = s.cutAlong(p.shape, c); !ok {
			return false
		}
	}
	s.work -= len(s.things) / 4
	low := &piece{shape: c.low, has: c.has, tally: c.tally, bears: newSet(len(s.things))}
	high := &piece{shape: c.high, has: p.has.but(c.has), tally: p.tally.minus(c.tally), bears: newSet(len(s.things))}
	low.most, high.most = p.most-s.caps.bound(high.tally), p.most-s.caps.bound(low.tally)
	p.bears.each(func(i int) {
		t := &s.things[i]
		switch below := c.isBelow(t.at); {
		case below && low.has.has(t.bundle):
			low.bears.add(i)
		case !below && high.has.has(t.bundle):
			high.bears.add(i)
		}
	})
	c.below, c.above = low, high
	return true
}

// leaves lists the areas of an answer.
func (a *answer) leaves() []*piece {
	if a.cut == nil {
		return []*piece{a.piece}
	}
	return slices.Concat(a.low.leaves(), a.high.leaves())
}
