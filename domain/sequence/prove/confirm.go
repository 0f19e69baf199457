package prove

import (
	"math/rand/v2"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
)

// confirm keeps the findings that hold in the whole room: their steps are played
// there and lead to what is said, and what is said to be impossible withstands many
// random runs. A finding that does not is one of what the exploration leaves out.
func (r *room) confirm(list []Found) []Found {
	if len(list) == 0 {
		return list
	}
	t := &trial{p: r.p, d: r.d, list: listed(r.p, true, r.d.Divisible()), s: r.p.NewState(), after: r.p.NewState()}
	seen := t.wander(list)
	return slices.DeleteFunc(list, func(f Found) bool { return seen[key(&f)] || !t.holds(&f) })
}

// trial runs the whole room at random, the same way each time.
type trial struct {
	p        *sequence.Program
	d        *domain.Design
	list     *lister
	s, after *sequence.State
	rnd      *rand.Rand
}

const (
	walks = 60
	paces = 40
)

// holds plays a finding's steps and looks whether they show it.
func (t *trial) holds(f *Found) bool {
	switch f.Kind {
	case NoWayOn, NoWayOff, LitAlone, Egress, LitEmpty, Stuck:
	default:
		return true
	}
	end := t.s.RunScenario(&domain.Scenario{Steps: f.Steps})
	if !end.Passed {
		return false
	}
	switch f.Kind {
	case LitAlone, LitEmpty:
		return t.s.Lit(f.Load)
	case Egress:
		return !t.s.Lit(f.Load) && t.s.Powered()
	case Stuck:
		return t.never(func(before, after *sequence.State, a *act) bool {
			return a.person && slices.ContainsFunc(f.Loads, func(l int) bool { return before.Settled(l) != after.Settled(l) })
		})
	}
	on := f.Kind == NoWayOn
	return t.s.Lit(f.Load) != on && t.never(func(_, after *sequence.State, _ *act) bool { return after.Lit(f.Load) == on })
}

// never runs on at random from where the trial stands, many times; false where
// something comes that should not. Failures are left out.
func (t *trial) never(bad func(before, after *sequence.State, a *act) bool) bool {
	t.rnd = rand.New(rand.NewPCG(1, 2))
	from, s := t.p.NewState(), t.p.NewState()
	t.s.CopyInto(from)
	for range walks {
		from.CopyInto(s)
		for range paces {
			a := t.pick(s, false)
			s.CopyInto(t.after)
			if a.do(t.after) {
				if bad(s, t.after, a) {
					return false
				}
				t.after.CopyInto(s)
			}
		}
	}
	return true
}

// pick lets a time go by now and then that no exploration has tried, and draws an act.
func (t *trial) pick(s *sequence.State, failures bool) *act {
	if t.rnd.IntN(4) == 0 {
		longest := []sequence.Time{2 * sequence.Second, sequence.Minute, 20 * sequence.Minute, 9 * sequence.Hour}
		s.AdvanceTo(s.Now() + sequence.Time(t.rnd.Int64N(int64(longest[t.rnd.IntN(len(longest))]))))
	}
	for {
		if a := &t.list.acts[t.rnd.IntN(len(t.list.acts))]; failures || !a.failure {
			return a
		}
	}
}

// claim names what a finding says never to be.
type claim struct {
	kind                  Kind
	device, button, other int
	intent                int
	time                  string
}

func key(f *Found) claim { return claim{f.Kind, f.Device, f.Button, f.Other, f.Intent, f.Time} }

// wander runs the room at random from its start and gives the claims that it meets
// with the contrary of.
func (t *trial) wander(list []Found) map[claim]bool {
	seen := map[claim]bool{}
	var claims []Found
	for _, f := range list {
		switch f.Kind {
		case ButtonBut, Twins, Idle, NoExpiry:
			claims = append(claims, f)
		}
	}
	if len(claims) == 0 {
		return seen
	}
	t.rnd = rand.New(rand.NewPCG(3, 4))
	other := t.p.NewState()
	t.after.Watch = func(c sequence.Change) {
		if c.Because.Intent >= 0 {
			t.heard(seen, c.Because)
		}
	}
	defer func() { t.after.Watch = nil }()
	s := t.p.NewState()
	for range walks {
		if s.Begin(sequence.Start{}) != nil {
			break
		}
		for range paces {
			a := t.pick(s, true)
			s.CopyInto(t.after)
			if !a.do(t.after) {
				continue
			}
			for i := range claims {
				t.question(&claims[i], s, other, seen)
			}
			for l := range t.d.Loads {
				if _, w := t.after.Asked(l); t.after.Load(l).Warned && w.Intent >= 0 {
					t.heardWarning(seen, w)
				}
			}
			t.after.CopyInto(s)
		}
	}
	return seen
}

func (t *trial) heard(seen map[claim]bool, c sequence.Cause) {
	mark := func(f Found) { f.Intent = c.Intent; seen[key(&f)] = true }
	mark(found(Idle))
	f := found(NoExpiry)
	switch c.What {
	case sequence.WentVacant:
		f.Time = "delay"
	case sequence.OverrideEnds:
		f.Time = "override"
	default:
		return
	}
	mark(f)
}

func (t *trial) heardWarning(seen map[claim]bool, c sequence.Cause) {
	f := found(NoExpiry)
	f.Intent, f.Time = c.Intent, "warning"
	seen[key(&f)] = true
	if c.What == sequence.OverrideEnds {
		f.Time = "override"
		seen[key(&f)] = true
	}
}

// question presses the buttons of a claim in a state.
func (t *trial) question(f *Found, s, other *sequence.State, seen map[claim]bool) {
	if f.Kind != ButtonBut && f.Kind != Twins || seen[key(f)] {
		return
	}
	press := func(n int, on *sequence.State) {
		s.CopyInto(on)
		on.Do(sequence.Event{At: on.Now(), Kind: f.Steps[0].Happen, Device: f.Device, Button: n})
	}
	press(f.Button, other)
	if f.Kind == ButtonBut {
		seen[key(f)] = differ(s, other, len(t.d.Loads))
		return
	}
	twin := t.p.NewState()
	press(f.Other, twin)
	seen[key(f)] = differ(other, twin, len(t.d.Loads))
}
