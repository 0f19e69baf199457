package prove

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
)

// look searches the graph for what concerns single loads, and for order.
func (g *graph) look() []Found {
	var out []Found
	for l := range g.d.Loads {
		out = append(out, g.traps(l)...)
		for _, one := range []struct {
			kind Kind
			edge int32
		}{{LitAlone, g.alone[l]}, {Egress, g.darkened[l]}} {
			if one.edge >= 0 {
				f := found(one.kind)
				f.Load, f.Steps = l, g.steps(g.over(one.edge), l)
				if one.kind == LitAlone {
					f.Intent = g.lastAsked(g.over(one.edge), l)
				}
				out = append(out, f)
			}
		}
		out = append(out, g.litEmpty(l)...)
	}
	out = append(out, g.stuck()...)
	return append(out, g.order()...)
}

// traps finds states from which a load that burns somewhere can never burn again,
// or one that is dark somewhere after it burned can never go dark. What burns for
// ever by its design, and what nothing ever lights, other rules tell.
func (g *graph) traps(l int) []Found {
	on, off := false, false
	for _, e := range g.edges {
		was, is := g.litAt(e.from, l), g.litAt(e.to, l)
		if !g.acts[e.act].failure {
			on, off = on || !was && is, off || was && !is
		}
	}
	var out []Found
	add := func(k Kind, lit bool) {
		if s, ok := g.cannotReach(func(s int32) bool { return g.litAt(s, l) == lit }); ok {
			f := found(k)
			f.Load, f.Steps = l, g.steps(g.path(s), l)
			out = append(out, f)
		}
	}
	if on {
		add(NoWayOn, true)
	}
	if on && off && !g.d.Loads[l].Egress {
		add(NoWayOff, false)
	}
	return out
}

// stuck finds states from which nothing that people do changes a load any more, in
// a part of the room where it does at first.
func (g *graph) stuck() []Found {
	changes := make([]bool, len(g.parent))
	some := false
	for _, e := range g.edges {
		if g.acts[e.act].person && g.outs[e.from] != g.outs[e.to] {
			changes[e.from], some = true, true
		}
	}
	if !some {
		return nil
	}
	s, ok := g.cannotReach(func(s int32) bool { return changes[s] })
	if !ok {
		return nil
	}
	f := found(Stuck)
	for l := range g.d.Loads {
		f.Loads = append(f.Loads, l)
	}
	f.Steps = g.steps(g.path(s), f.Loads...)
	return []Found{f}
}

// litEmpty finds schedules that light an empty room which then burns until people
// have come and gone: time alone never puts it out.
func (g *graph) litEmpty(l int) []Found {
	e := g.clocked[l]
	if e < 0 {
		return nil
	}
	later := map[int32]int32{}
	for _, e := range g.edges {
		if g.acts[e.act].pass == toTurn {
			later[e.from] = e.to
		}
	}
	seen := map[int32]bool{}
	for s := g.edges[e].to; ; {
		if !g.litAt(s, l) || g.open[s] {
			return nil
		}
		seen[s] = true
		next, some := later[s]
		if !some || seen[next] {
			f := found(LitEmpty)
			f.Load, f.Steps, f.Intent = l, g.steps(g.over(e), l), g.lastAsked(g.over(e), l)
			return []Found{f}
		}
		s = next
	}
}

// order finds states in which the order of the intents in the list decides: the
// same events at the same times come to a room with the list turned round.
func (g *graph) order() []Found {
	if len(g.d.Intents) < 2 {
		return nil
	}
	turned := g.rearranged(func(list []domain.Intent) { slices.Reverse(list) })
	one, two := g.p.NewState(), turned.NewState()
	for s := int32(1); int(s) < min(len(g.parent), mostTurned); s++ {
		path := g.path(s)
		events, end := g.events(path)
		play(one, events, end)
		play(two, events, end)
		for l := range g.d.Loads {
			if far(one.Settled(l), two.Settled(l)) {
				f := found(Order)
				f.Load, f.Steps = l, g.steps(path, l)
				f.Intent, f.Other = g.pair(events, end, l)
				return []Found{f}
			}
		}
	}
	return nil
}

// mostTurned bounds the runs: the shortest ways come first.
const mostTurned = 400

func far(a, b float64) bool { return math.Abs(a-b) > sequence.Tolerance }

// rearranged compiles the design with its intents in another order.
func (g *graph) rearranged(order func([]domain.Intent)) *sequence.Program {
	d := *g.d
	d.Intents = slices.Clone(d.Intents)
	order(d.Intents)
	return sequence.Compile(g.p.Project, &d)
}

// pair gives the two intents whose change of places alone makes the difference; -1
// where only that of more than two does.
func (g *graph) pair(events []sequence.Event, end sequence.Time, l int) (a, b int) {
	one := g.p.NewState()
	play(one, events, end)
	for a := range g.d.Intents {
		for b := a + 1; b < len(g.d.Intents); b++ {
			if !g.d.Intents[a].ActsOn(&g.d.Loads[l]) || !g.d.Intents[b].ActsOn(&g.d.Loads[l]) {
				continue
			}
			two := g.rearranged(func(list []domain.Intent) { list[a], list[b] = list[b], list[a] }).NewState()
			play(two, events, end)
			if far(one.Settled(l), two.Settled(l)) {
				return a, b
			}
		}
	}
	return -1, -1
}
