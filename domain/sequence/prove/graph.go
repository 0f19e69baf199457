package prove

import (
	"hash/maphash"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
)

// graph is all that a slice can come to, as it grows. Of a state only what the
// search for findings needs is kept; the state itself is dropped once what follows
// from it is known.
type graph struct {
	p    *sequence.Program
	d    *domain.Design
	list *lister
	acts []act
	most int

	seed   maphash.Seed
	index  map[[2]uint64]int32
	key    []byte
	levels [][]float64 // by load, those that the design names

	parent []int32
	by     []int32 // act that led here first
	at     []sequence.Time
	lit    []bool   // states x loads
	outs   []uint64 // what all loads are at
	open   []bool   // what follows is not all known
	edges  []edge

	acted    []bool // by intent: it changed a level
	vacated  []bool // its delay ran out and put something off
	warned   []bool
	overran  []bool // light after a schedule's off came to its end
	effect   []bool // by button
	print    []uint64
	alone    []int32 // by load, the first edge over which it was lit by no person; -1: none
	darkened []int32 // the first edge over which it went dark
	clocked  []int32 // the first edge over which a schedule lit it with nobody there
}

type edge struct{ from, to, act int32 }

func newGraph(p *sequence.Program, list *lister, most int) *graph {
	d := p.Design
	g := &graph{p: p, d: d, list: list, acts: list.acts, most: most, seed: maphash.MakeSeed(), index: map[[2]uint64]int32{},
		acted: make([]bool, len(d.Intents)), vacated: make([]bool, len(d.Intents)), warned: make([]bool, len(d.Intents)), overran: make([]bool, len(d.Intents)),
		effect: make([]bool, len(list.buttons)), print: make([]uint64, len(list.buttons)), alone: make([]int32, len(d.Loads)), darkened: make([]int32, len(d.Loads)), clocked: make([]int32, len(d.Loads))}
	for l := range d.Loads {
		g.alone[l], g.darkened[l], g.clocked[l] = -1, -1, -1
		g.levels = append(g.levels, namedLevels(p.Project, d, &d.Loads[l]))
	}
	return g
}

// namedLevels are the levels that a design asks of a load. All others come of
// raising and lowering and count as one.
func namedLevels(p *domain.Project, d *domain.Design, l *domain.Load) []float64 {
	out := []float64{0, 100}
	if lum := p.Luminaire(l.Luminaire); lum != nil {
		out = append(out, float64(lum.DimsTo))
	}
	add := func(v float64) {
		if !slices.Contains(out, v) && len(out) < 100 {
			out = append(out, v)
		}
	}
	for i := range d.Links {
		if d.Links[i].Load == l.ID {
			add(float64(d.Links[i].Do.Level))
		}
	}
	for i := range d.Scenes {
		if at := d.Scenes[i].LevelOf(l.ID); at != nil {
			add(float64(at.Level))
		}
	}
	for i := range d.Intents {
		if in := &d.Intents[i]; in.ActsOn(l) {
			for _, v := range []float64{float64(in.Level), float64(in.OffLevel), float64(in.Lowest), float64(in.Highest)} {
				add(v)
			}
		}
	}
	return out
}

func (g *graph) class(load int, level float64) byte {
	if level < 0 {
		return 0xff
	}
	if i := slices.Index(g.levels[load], level); i >= 0 {
		return byte(i)
	}
	return 0xfe
}

// run searches in breadth, so that the first way to a state is the shortest. It
// stops early where asked says so.
func (g *graph) run(ask func(states int) bool) {
	first := g.p.NewState()
	queue := []*sequence.State{first}
	g.note(first, -1, -1)
	after := g.p.NewState()
	after.Watch = g.watch
	var spare []*sequence.State
	for at := int32(0); int(at) < len(queue); at++ {
		s := queue[at]
		queue[at] = nil
		if at%256 == 255 && ask != nil && !ask(len(g.parent)) {
			g.most = len(g.parent) // what waits is still looked at, nothing new is
			ask = nil
		}
		for i := range g.acts {
			s.CopyInto(after)
			if !g.acts[i].do(after) {
				continue
			}
			to, fresh := g.note(after, at, int32(i))
			g.judge(s, after, at, to, int32(i))
			if to < 0 {
				g.open[at] = true
				continue
			}
			if fresh {
				var next *sequence.State
				if n := len(spare); n > 0 {
					next, spare = spare[n-1], spare[:n-1]
				} else {
					next = g.p.NewState()
				}
				after.CopyInto(next)
				queue = append(queue, next)
			}
		}
		spare = append(spare, s)
	}
}

// note finds a state's place in the graph, or gives it one; -1: there is no room
// for more.
func (g *graph) note(s *sequence.State, from, act int32) (at int32, fresh bool) {
	g.key = s.AppendShape(g.key[:0], g.class)
	var h maphash.Hash
	h.SetSeed(g.seed)
	h.Write(g.key)
	a := h.Sum64()
	h.WriteByte(1)
	k := [2]uint64{a, h.Sum64()}
	at, known := g.index[k]
	switch {
	case known:
	case len(g.parent) >= g.most:
		return -1, false
	default:
		at, fresh = int32(len(g.parent)), true
		g.index[k] = at
		g.parent, g.by, g.at, g.open = append(g.parent, from), append(g.by, act), append(g.at, s.Now()), append(g.open, false)
		for l := range g.d.Loads {
			g.lit = append(g.lit, s.Lit(l))
		}
		g.outs = append(g.outs, g.outputs(s))
	}
	if act >= 0 {
		g.edges = append(g.edges, edge{from, at, act})
	}
	return at, fresh
}

func (g *graph) bounded() bool { return slices.Contains(g.open, true) }

func (g *graph) litAt(state int32, l int) bool { return g.lit[int(state)*len(g.d.Loads)+l] }

// watch hears of each change that an act makes.
func (g *graph) watch(c sequence.Change) {
	if c.Because.Intent < 0 {
		return
	}
	g.acted[c.Because.Intent] = true
	switch c.Because.What {
	case sequence.WentVacant:
		g.vacated[c.Because.Intent] = true
	case sequence.OverrideEnds:
		g.overran[c.Because.Intent] = true
	}
}

// judge looks at one step from a state to another.
func (g *graph) judge(before, after *sequence.State, from, to, i int32) {
	a := &g.acts[i]
	if a.button >= 0 {
		g.effect[a.button] = g.effect[a.button] || differ(before, after, len(g.d.Loads))
		g.print[a.button] = mix(g.print[a.button], g.fingerprint(after))
	}
	for l := range g.d.Loads {
		if _, warning := after.Asked(l); after.Load(l).Warned && !before.Load(l).Warned && warning.Intent >= 0 {
			g.warned[warning.Intent] = true
			if warning.What == sequence.OverrideEnds {
				g.overran[warning.Intent] = true
			}
		}
	}
	if to < 0 {
		return
	}
	e := int32(len(g.edges) - 1)
	for l := range g.d.Loads {
		if g.alone[l] < 0 && a.alone && g.litAlone(before, after, l) {
			g.alone[l] = e
		}
		if g.darkened[l] < 0 && g.d.Loads[l].Egress && before.Lit(l) && !after.Lit(l) && before.Powered() && after.Powered() {
			g.darkened[l] = e
		}
		if g.clocked[l] < 0 && a.pass == toTurn && g.litByClock(before, after, l) {
			g.clocked[l] = e
		}
	}
}

// litAlone tells that a load which only sensors of the vacancy kind act on is asked
// for light by no person. People who come back a moment after an automatic off,
// and a schedule's own on, which another rule tells, are left out.
func (g *graph) litAlone(before, after *sequence.State, l int) bool {
	if before.Load(l).Requested > 0 || after.Load(l).Requested <= 0 || g.d.Loads[l].Kind != domain.Lighting || after.Relit(l) {
		return false
	}
	level, _ := after.Asked(l)
	occupancy, vacancy := g.p.Sensed(l)
	return vacancy && !occupancy && level.What != sequence.ScheduleOn
}

// litByClock tells that a schedule lights a load of presence sensors while nobody
// is there.
func (g *graph) litByClock(before, after *sequence.State, l int) bool {
	level, _ := after.Asked(l)
	occupancy, vacancy := g.p.Sensed(l)
	if before.Lit(l) || !after.Lit(l) || level.What != sequence.ScheduleOn || !occupancy && !vacancy {
		return false
	}
	for d := range g.d.Devices {
		if after.Sensor(d) == domain.PeopleIn {
			return false
		}
	}
	return true
}

func differ(a, b *sequence.State, loads int) bool {
	for l := range loads {
		if a.Settled(l) != b.Settled(l) || a.Load(l).Requested != b.Load(l).Requested {
			return true
		}
	}
	return a.Mode() != b.Mode() || a.Partition() != b.Partition()
}

func mix(h, v uint64) uint64 { return (h*1099511628211 ^ v) * 0x9e3779b97f4a7c15 }

// outputs gives a word for what all loads are at.
func (g *graph) outputs(s *sequence.State) uint64 {
	h := uint64(1)
	for l := range g.d.Loads {
		h = mix(h, math.Float64bits(math.Round(s.Settled(l)*16)))
	}
	return h
}

// fingerprint gives a word for what a press leads to, and how fast.
func (g *graph) fingerprint(s *sequence.State) uint64 {
	h := g.outputs(s)
	for l := range g.d.Loads {
		h = mix(h, math.Float64bits(math.Round(s.Load(l).Requested*16)))
		h = mix(h, uint64(s.Settles(l)-s.Now()))
	}
	return h
}

// path gives the acts of the shortest way to a state.
func (g *graph) path(s int32) []int32 {
	var out []int32
	for ; g.parent[s] >= 0; s = g.parent[s] {
		out = append(out, g.by[s])
	}
	slices.Reverse(out)
	return out
}

// over gives the acts of the shortest way that ends with an edge.
func (g *graph) over(e int32) []int32 { return append(g.path(g.edges[e].from), g.edges[e].act) }

// backward gives, for a state, those that lead to it by more than a failure.
func (g *graph) backward() func(int32) []int32 {
	first := make([]int32, len(g.parent)+1)
	for _, e := range g.edges {
		if !g.acts[e.act].failure {
			first[e.to+1]++
		}
	}
	for i := 1; i < len(first); i++ {
		first[i] += first[i-1]
	}
	next, from := slices.Clone(first), make([]int32, first[len(first)-1])
	for _, e := range g.edges {
		if !g.acts[e.act].failure {
			from[next[e.to]] = e.from
			next[e.to]++
		}
	}
	return func(s int32) []int32 { return from[first[s]:first[s+1]] }
}

// cannotReach gives the first state from which none that is wanted can be reached
// without a failure. States of which not all is known count as if they could.
func (g *graph) cannotReach(wanted func(int32) bool) (int32, bool) {
	into := g.backward()
	can := make([]bool, len(g.parent))
	var queue []int32
	for s := range g.parent {
		if g.open[s] || wanted(int32(s)) {
			can[s] = true
			queue = append(queue, int32(s))
		}
	}
	for at := 0; at < len(queue); at++ {
		for _, from := range into(queue[at]) {
			if !can[from] {
				can[from] = true
				queue = append(queue, from)
			}
		}
	}
	at := slices.Index(can, false)
	return int32(at), at >= 0
}
