package propose

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain/geom"
)

const (
	// leastGap is the distance in meters between two things that a cut can run
	// through.
	leastGap = 0.01
	// besideLine is how far in meters beside a line the outline is looked at, so
	// that a side which runs along the line counts on neither side of it.
	besideLine = 5e-4
	// inWall is how far in meters outside of an outline things may stand.
	inWall = 0.5
)

// cut is one straight cut of a piece: where on the axis, and from where to where
// along the other one.
type cut struct {
	axis     int // 0: the line stands at x = pos, 1: at y = pos
	pos      float64
	from, to float64
	straight bool // all of the piece's chords at pos, so that sides are told by the coordinate

	has          set // bundles below it
	tally        tally
	cost         cost // of the cut alone
	low, high    geom.Polygon
	box          geom.Box // around the smaller part, and the walls about it
	lowSmall     bool
	below, above *piece // once it was carried out
}

// ends gives the two ends of the cut.
func (c *cut) ends() (a, b geom.Point) {
	if c.axis == 0 {
		return geom.Pt(c.pos, c.from), geom.Pt(c.pos, c.to)
	}
	return geom.Pt(c.from, c.pos), geom.Pt(c.to, c.pos)
}

// isBelow tells that a point lies on the low side.
func (c *cut) isBelow(p geom.Point) bool {
	switch {
	case c.straight:
		return along(p, c.axis) < c.pos
	case !c.box.Contains(p): // near the smaller part
		return !c.lowSmall
	case within(c.low, c.axis, p):
		return true
	}
	return !within(c.high, c.axis, p) && nearer(c.low, c.high, p)
}

func nearer(a, b geom.Polygon, p geom.Point) bool {
	_, toA := a.NearestOnBoundary(p)
	_, toB := b.NearestOnBoundary(p)
	return toA <= toB
}

// within tells that a point lies in a shape, by the even-odd rule.
func within(shape geom.Polygon, axis int, p geom.Point) bool {
	odd, pos, at := false, along(p, axis), along(p, 1-axis)
	for _, ring := range shape.Rings() {
		last := ring[len(ring)-1]
		for _, q := range ring {
			if crossing, ok := crosses(last, q, axis, pos); ok && crossing < at {
				odd = !odd
			}
			last = q
		}
	}
	return odd
}

// crosses gives where the side from a to b crosses the line at pos.
func crosses(a, b geom.Point, axis int, pos float64) (at float64, ok bool) {
	from, to := along(a, axis), along(b, axis)
	if (from <= pos) == (to <= pos) {
		return 0, false
	}
	u, v := along(a, 1-axis), along(b, 1-axis)
	return u + (v-u)*(pos-from)/(to-from), true
}

// cuts gives the cuts of a piece that part its bundles: the cheapest first, or,
// for a quick search, those that part the fewest links for the devices that they
// set apart.
func (s *split) cuts(p *piece) []*cut {
	out := append(s.cutsAlong(p, 0), s.cutsAlong(p, 1)...)
	slices.SortStableFunc(out, func(a, b *cut) int { return a.cost.compare(b.cost) })
	seen := make(map[string]bool, len(out))
	out = slices.DeleteFunc(out, func(c *cut) bool { // of those that part the bundles alike one is enough
		key := (&piece{has: c.has}).key(0)
		twin := seen[key]
		seen[key] = true
		return twin
	})
	if s.effort.tries > 0 {
		sparse := func(c *cut) float64 {
			return float64(c.cost.links+1) / float64(max(1, min(c.tally.devices, p.tally.devices-c.tally.devices)))
		}
		slices.SortStableFunc(out, func(a, b *cut) int { return cmp.Compare(sparse(a), sparse(b)) })
	}
	return out
}

// slot is a gap between neighboring things, with what a line through it parts.
type slot struct {
	from, to float64
	bundles  int // how many of the piece's bundles lie below
	strays   int
}

// cutsAlong gives the cuts across one axis: one for each way in which lines part
// the bundles, and one for each chord of a line that meets the piece several
// times.
func (s *split) cutsAlong(p *piece, axis int) []*cut {
	slots, order := s.slots(p, axis)
	corners := cornersOn(p.shape, axis)
	low, sum, links, taken := newSet(len(s.bundles)), tally{}, 0, 0
	var out []*cut
	for at := 0; at < len(slots); {
		end := at
		for end < len(slots) && slots[end].bundles == slots[at].bundles {
			end++
		}
		for ; taken < slots[at].bundles; taken++ {
			b := order[taken]
			links += s.turned(p, low, b)
			low.add(b)
			sum = sum.plus(s.bundles[b].tally)
		}
		if taken > 0 && taken < len(order) {
			out = append(out, s.through(p, axis, slots[at:end], corners, low, sum, links)...)
		}
		at = end
	}
	return out
}

// turned gives how many more links are parted once a bundle joins the low side.
func (s *split) turned(p *piece, low set, b int) (more int) {
	s.work -= len(s.ties[b]) / 8
	for _, t := range s.ties[b] {
		switch {
		case !p.has.has(t.to):
		case low.has(t.to):
			more -= t.links
		default:
			more += t.links
		}
	}
	return more
}

// parted gives how many links a set of a piece's bundles has to the others.
func (s *split) parted(p *piece, low set) (n int) {
	low.each(func(i int) {
		s.work -= len(s.ties[i]) / 8
		for _, t := range s.ties[i] {
			if p.has.has(t.to) && !low.has(t.to) {
				n += t.links
			}
		}
	})
	return n
}

// slots gives the gaps between the things of a piece on an axis, and its bundles
// in their order on it. A thing on the other side of a line than the place of its
// bundle would stray.
func (s *split) slots(p *piece, axis int) (out []slot, order []int) {
	type event struct {
		at              float64
		bundles, strays int
	}
	var events []event
	p.bears.each(func(i int) {
		at, home := along(s.things[i].at, axis), along(s.bundles[s.things[i].bundle].at, axis)
		events = append(events, event{at: at})
		if at != home {
			events = append(events, event{at: min(at, home), strays: 1}, event{at: max(at, home), strays: -1})
		}
	})
	p.has.each(func(i int) {
		order = append(order, i)
		events = append(events, event{at: along(s.bundles[i].at, axis), bundles: 1})
	})
	s.work -= 2 * (len(events) + len(order))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(along(s.bundles[a].at, axis), along(s.bundles[b].at, axis)) })
	slices.SortFunc(events, func(a, b event) int { return cmp.Compare(a.at, b.at) })
	bundles, strays := 0, 0
	for i, e := range events {
		bundles, strays = bundles+e.bundles, strays+e.strays
		if i+1 < len(events) && events[i+1].at-e.at >= leastGap {
			out = append(out, slot{e.at, events[i+1].at, bundles, strays})
		}
	}
	return out, order
}

// cornersOn gives the coordinates of a shape's corners on an axis, sorted.
func cornersOn(shape geom.Polygon, axis int) []float64 {
	var out []float64
	for _, ring := range shape.Rings() {
		for _, p := range ring {
			out = append(out, along(p, axis))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// through gives the cuts through gaps that part the bundles alike.
func (s *split) through(p *piece, axis int, slots []slot, corners []float64, low set, sum tally, links int) []*cut {
	possible := s.caps.bound(sum)+s.caps.bound(p.tally.minus(sum)) <= p.most
	var best *cut
	var out []*cut
	fewest := slots[0].strays
	for _, gap := range slots {
		fewest = min(fewest, gap.strays)
	}
	chorded := false
	for _, gap := range slots {
		for i, pos := range gap.positions(corners) {
			chords := s.chordsAt(p.shape, axis, pos)
			// Of lines that meet the piece several times those along corners will do, and
			// the one with the fewest strays.
			if len(chords) > 1 && (i > 0 || !chorded && gap.strays == fewest) {
				chorded = chorded || i == 0
				out = append(out, s.chordCuts(p, axis, pos, chords)...)
			}
			if !possible || len(chords) == 0 || len(chords) > 1 && len(p.shape.Holes) == 0 {
				continue
			}
			one := &cut{axis: axis, pos: pos, from: chords[0][0], to: chords[len(chords)-1][1], straight: true, tally: sum,
				cost: cost{links: links, strays: gap.strays, length: millimeters(chords)}}
			if best != nil && one.cost.compare(best.cost) >= 0 {
				continue
			}
			if len(chords) > 1 { // around holes: where that leaves two parts
				var ok bool
				if one.low, one.high, ok = s.cutAlong(p.shape, one); !ok {
					continue
				}
			}
			best = one
		}
	}
	if best != nil {
		best.has = slices.Clone(low)
		out = append(out, best)
	}
	return out
}

// positions gives where a line may run through a gap: in its middle, or along
// corners of the outline.
func (g slot) positions(corners []float64) []float64 {
	out := []float64{(g.from + g.to) / 2}
	i, _ := slices.BinarySearch(corners, g.from+leastGap/4)
	for ; i < len(corners) && corners[i] < g.to-leastGap/4; i++ {
		out = append(out, corners[i])
	}
	return out
}

func millimeters(chords [][2]float64) int {
	sum := 0.0
	for _, c := range chords {
		sum += c[1] - c[0]
	}
	return int(math.Round(sum * 1000))
}

// chordCuts gives the cuts along one of several chords of a line each: the other
// parts of the piece stay as they are.
func (s *split) chordCuts(p *piece, axis int, pos float64, chords [][2]float64) []*cut {
	var out []*cut
	for _, chord := range chords {
		c := &cut{axis: axis, pos: pos, from: chord[0], to: chord[1], has: newSet(len(s.bundles))}
		var ok bool
		if c.low, c.high, ok = s.cutAlong(p.shape, c); !ok {
			continue
		}
		c.cost.length = millimeters([][2]float64{chord})
		small := c.high
		if c.lowSmall = c.low.Area() < c.high.Area(); c.lowSmall {
			small = c.low
		}
		c.box = small.Bounds().Grow(inWall)
		s.work -= (len(s.bundles) + len(s.things)) / 4
		p.has.each(func(i int) {
			if c.isBelow(s.bundles[i].at) {
				c.has.add(i)
				c.tally = c.tally.plus(s.bundles[i].tally)
			}
		})
		rest := p.tally.minus(c.tally)
		if n := c.has.count(); n == 0 || n == p.has.count() || s.caps.bound(c.tally)+s.caps.bound(rest) > p.most {
			continue
		}
		c.cost.links = s.parted(p, c.has)
		p.bears.each(func(i int) {
			if c.isBelow(s.things[i].at) != c.has.has(s.things[i].bundle) {
				c.cost.strays++
			}
		})
		out = append(out, c)
	}
	return out
}
