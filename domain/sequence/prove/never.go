package prove

import (
	"slices"

	"scopewright/domain"
)

// buttons finds buttons that never change anything, and such of one station that
// always do the same without the same cells.
func (r *room) buttons() {
	if r.proof.Bounded {
		return
	}
	for d := range r.d.Devices {
		dev := &r.d.Devices[d]
		t := r.p.Project.Book.Find(dev.Type)
		if t == nil || !t.Kind.Traits().Buttons {
			continue
		}
		var acting []int
		for n := 1; n <= t.Buttons; n++ {
			press, hold := r.p.Acts(d, n)
			if !press && !hold {
				continue
			}
			if !r.effect(dev.ID, n) {
				f := found(ButtonBut)
				f.Device, f.Button, f.Steps = d, n, r.tryOut(d, n)
				r.proof.Found = append(r.proof.Found, f)
				continue
			}
			if i := slices.IndexFunc(acting, func(o int) bool { return r.same(dev.ID, o, n) && !r.sameCells(d, o, n) }); i >= 0 {
				f := found(Twins)
				f.Device, f.Button, f.Other, f.Steps = d, n, acting[i], r.tryOut(d, n)
				r.proof.Found = append(r.proof.Found, f)
			}
			acting = append(acting, n)
		}
	}
}

// at gives the place of a button in a part, -1 where it does nothing there.
func (p *part) at(dev domain.ID, n int) int {
	return slices.IndexFunc(p.list.buttons, func(b button) bool { return slices.Contains(b.names, buttonName{dev, n}) })
}

func (r *room) effect(dev domain.ID, n int) bool {
	for i := range r.parts {
		if at := r.parts[i].at(dev, n); at >= 0 && r.parts[i].of.effect[at] {
			return true
		}
	}
	return false
}

// same tells that two buttons lead to the same in all states of all parts.
func (r *room) same(dev domain.ID, a, b int) bool {
	for i := range r.parts {
		p := &r.parts[i]
		x, y := p.at(dev, a), p.at(dev, b)
		if (x < 0) != (y < 0) || x >= 0 && p.of.print[x] != p.of.print[y] {
			return false
		}
	}
	return true
}

// sameCells: the matrix says itself that two buttons do the same, which another
// rule tells.
func (r *room) sameCells(d, a, b int) bool {
	l := lister{p: r.p}
	return l.cells(r.d.Devices[d].ID, a) == l.cells(r.d.Devices[d].ID, b)
}

// tryOut presses a button once.
func (r *room) tryOut(d, n int) []domain.ScenarioStep {
	happen := domain.Pressed
	if press, _ := r.p.Acts(d, n); !press {
		happen = domain.HoldStarted
	}
	return []domain.ScenarioStep{{ID: "s1", Seq: 1, Happen: happen, Device: r.d.Devices[d].ID, Button: n}}
}

// intents finds intents that did nothing in any state, and times of theirs that
// never ran out.
func (r *room) intents() {
	if r.proof.Bounded {
		return
	}
	n := len(r.d.Intents)
	acted, vacated, warned, overran, sensed := make([]bool, n), make([]bool, n), make([]bool, n), make([]bool, n), make([]bool, n)
	heard := make([]bool, n)
	for i := range r.parts {
		p := &r.parts[i]
		for k, in := range p.intents {
			heard[in] = true
			acted[in] = acted[in] || p.of.acted[k]
			vacated[in] = vacated[in] || p.of.vacated[k]
			warned[in] = warned[in] || p.of.warned[k]
			overran[in] = overran[in] || p.of.overran[k]
			sensed[in] = sensed[in] || p.of.sensed[k]
		}
	}
	for i := range r.d.Intents {
		in := &r.d.Intents[i]
		if !heard[i] {
			continue
		}
		if !acted[i] && !silent(in) {
			f := found(Idle)
			f.Intent = i
			r.proof.Found = append(r.proof.Found, f)
			continue
		}
		presence := in.Kind == domain.ByPresence || in.Kind == domain.ForReceptacles
		schedule := in.Kind == domain.BySchedule && in.OffAt != "" && in.Do != domain.SetMode
		for _, never := range []struct {
			time string
			is   bool
		}{
			{"delay", presence && sensed[i] && !vacated[i]},
			{"warning", (presence && sensed[i] && vacated[i] || schedule && acted[i]) && in.Warning > 0 && !warned[i]},
			{"override", schedule && acted[i] && in.Override > 0 && !overran[i]},
		} {
			if never.is {
				f := found(NoExpiry)
				f.Intent, f.Time = i, never.time
				r.proof.Found = append(r.proof.Found, f)
			}
		}
	}
}

// silent tells that an intent may well act without changing a level: it trims,
// sets how others act, or brings back what there was.
func silent(in *domain.Intent) bool {
	switch {
	case in.Kind == domain.ByDaylight && !in.MayOff, in.Kind == domain.OnPowerBack, in.Kind == domain.ByHand:
		return true
	}
	return in.Do != domain.GoTo && in.Do != domain.ToggleLoads
}

// senses tells that sensors act on a load of a presence or receptacle intent.
func (g *graph) senses(in *domain.Intent) bool {
	for l := range g.d.Loads {
		occupancy, vacancy := g.p.Sensed(l)
		if (occupancy || vacancy) && in.ActsOn(&g.d.Loads[l]) {
			return true
		}
	}
	return false
}
