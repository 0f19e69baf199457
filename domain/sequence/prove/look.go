package prove

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

func lux(v float64) units.Lux { return units.Lux(v) }

// look searches the graph.
func (x *explorer) look() []Found {
	var out []Found
	for l := range x.d.Loads {
		out = append(out, x.traps(l)...)
		if e, ok := x.alone[l]; ok {
			f := found(LitAlone)
			f.Load, f.Steps = l, x.wayOver(e)
			out = append(out, f)
		}
		if e, ok := x.dark[l]; ok {
			f := found(Egress)
			f.Load, f.Steps = l, x.wayOver(e)
			out = append(out, f)
		}
	}
	out = append(out, x.buttons()...)
	out = append(out, x.stuck()...)
	out = append(out, x.idle()...)
	return append(out, x.order()...)
}

// litAt tells whether a load burns in a state.
func (x *explorer) litAt(state int32, l int) bool { return x.lit[int(state)*len(x.d.Loads)+l] }

// traps finds states from which a load that burns somewhere can never burn again,
// or one that is dark somewhere can never go dark.
func (x *explorer) traps(l int) []Found {
	on, off := false, false
	for s := range x.parent {
		on, off = on || x.litAt(int32(s), l), off || s > 0 && !x.litAt(int32(s), l)
	}
	var out []Found
	if on {
		if s, ok := x.cannotReach(func(s int32) bool { return x.litAt(s, l) }); ok {
			f := found(NoWayOn)
			f.Load, f.Steps = l, x.way(s)
			out = append(out, f)
		}
	}
	if on && off && !x.d.Loads[l].Egress {
		if s, ok := x.cannotReach(func(s int32) bool { return !x.litAt(s, l) }); ok {
			f := found(NoWayOff)
			f.Load, f.Steps = l, x.way(s)
			out = append(out, f)
		}
	}
	return out
}

// cannotReach gives the first state from which none that is wanted can be
// reached. States that were not looked at further count as if they could.
func (x *explorer) cannotReach(wanted func(int32) bool) (int32, bool) {
	into := x.backward()
	can := make([]bool, len(x.parent))
	var queue []int32
	for s := range x.parent {
		if s >= x.open || wanted(int32(s)) {
			can[s] = true
			queue = append(queue, int32(s))
		}
	}
	if x.bounded { // some edges are missing: those states may lead anywhere
		for s, n := range x.degree() {
			if n < 0 && !can[s] {
				can[s] = true
				queue = append(queue, int32(s))
			}
		}
	}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		for _, from := range into(s) {
			if !can[from] {
				can[from] = true
				queue = append(queue, from)
			}
		}
	}
	at := slices.Index(can, false)
	return int32(at), at >= 0
}

// degree marks by -1 the states from which not every act was followed.
func (x *explorer) degree() []int {
	follow := 0
	for i := range x.acts {
		if !x.acts[i].probe && !x.acts[i].wait {
			follow++
		}
	}
	out := make([]int, len(x.parent))
	for _, e := range x.edges {
		if !x.acts[e.act].wait {
			out[e.from]++
		}
	}
	for s := range out {
		if out[s] < follow {
			out[s] = -1
		}
	}
	return out
}

// backward gives, for a state, the states that lead to it.
func (x *explorer) backward() func(int32) []int32 {
	first := make([]int32, len(x.parent)+1)
	for _, e := range x.edges {
		first[e.to+1]++
	}
	for i := 1; i < len(first); i++ {
		first[i] += first[i-1]
	}
	next, from := slices.Clone(first), make([]int32, len(x.edges))
	for _, e := range x.edges {
		from[next[e.to]] = e.from
		next[e.to]++
	}
	return func(s int32) []int32 { return from[first[s]:first[s+1]] }
}

// buttons finds buttons that never change a load, and such of one station that
// always do the same without the same cells.
func (x *explorer) buttons() []Found {
	var out []Found
	seen := map[[2]int]bool{}
	for i := range x.acts {
		a := &x.acts[i]
		k := [2]int{a.device, a.button}
		if a.button == 0 || seen[k] {
			continue
		}
		seen[k] = true
		if !x.effect[k] {
			f := found(ButtonBut)
			f.Device, f.Button = a.device, a.button
			f.Steps = []domain.ScenarioStep{numbered(a.step, 1, 0)}
			out = append(out, f)
			continue
		}
		for other := 1; other < a.button; other++ {
			o := [2]int{a.device, other}
			if x.effect[o] && x.print[o] == x.print[k] && !x.sameCells(a.device, other, a.button) {
				f := found(Twins)
				f.Device, f.Button, f.Other = a.device, a.button, other
				f.Steps = []domain.ScenarioStep{numbered(a.step, 1, 0)}
				out = append(out, f)
				break
			}
		}
	}
	return out
}

// sameCells: the matrix says itself that two buttons do the same, which another
// rule tells.
func (x *explorer) sameCells(device, a, b int) bool {
	id := x.d.Devices[device].ID
	for l := range x.d.Loads {
		for _, on := range []domain.Gesture{domain.Press, domain.Hold} {
			var left, right domain.Action
			if k := x.d.Link(domain.Input{Device: id, Button: a, On: on}, x.d.Loads[l].ID); k != nil && k.Do.Verb != domain.Nothing {
				left = k.Do
			}
			if k := x.d.Link(domain.Input{Device: id, Button: b, On: on}, x.d.Loads[l].ID); k != nil && k.Do.Verb != domain.Nothing {
				right = k.Do
			}
			if left != right {
				return false
			}
		}
	}
	return true
}

// stuck finds states from which no load's level can ever change, in a room where
// levels do.
func (x *explorer) stuck() []Found {
	changes := make([]bool, len(x.parent))
	some := false
	for _, e := range x.edges {
		if x.outs[e.from] != x.outs[e.to] {
			changes[e.from], some = true, true
		}
	}
	if !some {
		return nil
	}
	s, ok := x.cannotReach(func(s int32) bool { return changes[s] })
	if !ok {
		return nil
	}
	f := found(Stuck)
	f.Steps = x.way(s)
	return []Found{f}
}

// idle finds intents that did nothing in any state. Those that act in ways that
// are not explored are left out, and all where states were left out.
func (x *explorer) idle() []Found {
	if x.bounded {
		return nil
	}
	var out []Found
	for i := range x.d.Intents {
		in := &x.d.Intents[i]
		if x.acted[i] || x.silent(in) {
			continue
		}
		f := found(Idle)
		f.Intent = i
		out = append(out, f)
	}
	return out
}

// silent tells that exploring says nothing of an intent: it only changes levels
// that are not followed, modes or partitions, or its condition asks for the clock.
func (x *explorer) silent(in *domain.Intent) bool {
	switch {
	case in.Kind == domain.ByDaylight && !in.MayOff, in.Kind == domain.OnPowerBack, in.Kind == domain.ByHand:
		return true
	case in.Do != domain.GoTo && in.Do != domain.ToggleLoads:
		return true
	case in.From != "" || in.Until != "":
		return true
	}
	return false
}

// order finds states in which the order of the intents in the list decides: the
// same steps are run with the list turned round.
func (x *explorer) order() []Found {
	turned := *x.d
	turned.Intents = slices.Clone(x.d.Intents)
	slices.Reverse(turned.Intents)
	if len(turned.Intents) < 2 {
		return nil
	}
	other := sequence.Compile(x.p.Project, &turned)
	acts := actsOf(other)
	one, two := x.p.NewState(), other.NewState()
	for s := int32(1); int(s) < min(len(x.parent), mostTurned); s++ {
		path := x.path(s)
		if !replay(one, x.acts, path) {
			continue
		}
		named := make([]int, len(path))
		for i, a := range path {
			named[i] = twin(acts, &x.acts[a], other, x.p)
		}
		if slices.Contains(named, -1) || !replay(two, acts, named) {
			continue
		}
		for l := range x.d.Loads {
			if one.Settled(l) != two.Settled(l) {
				f := found(Order)
				f.Load, f.Steps = l, x.way(s)
				return []Found{f}
			}
		}
	}
	return nil
}

// mostTurned bounds the replays: the shortest ways come first.
const mostTurned = 1000

func replay(s *sequence.State, acts []act, path []int) bool {
	if s.Begin(sequence.Start{}) != nil {
		return false
	}
	s.StopClock()
	for _, a := range path {
		if !acts[a].do(s) {
			return false
		}
	}
	return true
}

// twin finds the act of a turned room that is the same.
func twin(acts []act, a *act, turned, p *sequence.Program) int {
	for i := range acts {
		b := &acts[i]
		if a.wait != b.wait || (a.sched < 0) != (b.sched < 0) || a.on != b.on || a.step != b.step {
			continue
		}
		if a.sched >= 0 && p.Design.Intents[p.Timetables()[a.sched].Intent].ID != turned.Design.Intents[turned.Timetables()[b.sched].Intent].ID {
			continue
		}
		return i
	}
	return -1
}

// path gives the acts of the shortest way to a state.
func (x *explorer) path(s int32) []int {
	var out []int
	for ; x.parent[s] >= 0; s = x.parent[s] {
		out = append(out, int(x.by[s]))
	}
	slices.Reverse(out)
	return out
}

// way gives the steps of the shortest way to a state, with their times.
func (x *explorer) way(s int32) []domain.ScenarioStep { return x.steps(x.path(s)) }

// wayOver gives the steps to where an edge leads.
func (x *explorer) wayOver(e int32) []domain.ScenarioStep {
	if int(e) >= len(x.edges) {
		return nil
	}
	return x.steps(append(x.path(x.edges[e].from), int(x.edges[e].act)))
}

// steps tells acts as steps that can be played: waiting moves the time of the
// next step on, and a schedule that comes is told as its time of day cannot be.
func (x *explorer) steps(path []int) []domain.ScenarioStep {
	s := x.p.NewState()
	s.StopClock()
	var out []domain.ScenarioStep
	for _, i := range path {
		a := &x.acts[i]
		a.do(s)
		at := units.Seconds(float64(s.Now()) / 1000)
		switch {
		case a.wait:
			out = append(out, numbered(domain.ScenarioStep{Happen: domain.Expect, Load: x.firstLoad(), Level: units.Level(s.Settled(0))}, len(out)+1, at))
		case a.sched >= 0:
		default:
			out = append(out, numbered(a.step, len(out)+1, at))
			if a.also != nil {
				out = append(out, numbered(*a.also, len(out)+1, at))
			}
		}
	}
	return out
}

func (x *explorer) firstLoad() domain.ID {
	if len(x.d.Loads) == 0 {
		return ""
	}
	return x.d.Loads[0].ID
}

func numbered(st domain.ScenarioStep, n int, at units.Seconds) domain.ScenarioStep {
	st.ID, st.Seq, st.At = domain.ID(fmt.Sprintf("s%d", n)), n, at
	return st
}
