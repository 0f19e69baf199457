package prove

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// events gives the events of a path with their times, and when it ends.
func (g *graph) events(path []int32) (events []sequence.Event, end sequence.Time) {
	s := g.p.NewState()
	for _, i := range path {
		a := &g.acts[i]
		now := s.Now()
		a.do(s)
		for _, e := range a.events {
			e.At += now
			events = append(events, e)
		}
	}
	return events, s.Now()
}

// play runs events from the start, and time up to an end.
func play(s *sequence.State, events []sequence.Event, end sequence.Time) {
	if s.Begin(sequence.Start{}) != nil {
		return
	}
	for _, e := range events {
		s.Do(e)
	}
	s.AdvanceTo(end)
}

// steps tells a path as steps of a scenario, with what loads are at in the end:
// once their fades have ended, unless something becomes otherwise before.
func (g *graph) steps(path []int32, loads ...int) []domain.ScenarioStep {
	s := g.p.NewState()
	var out []domain.ScenarioStep
	add := func(st domain.ScenarioStep, at sequence.Time) {
		n := len(out) + 1
		st.ID, st.Seq, st.At = domain.ID(fmt.Sprintf("s%d", n)), n, units.Seconds(float64(at)/1000)
		out = append(out, st)
	}
	for _, i := range path {
		now := s.Now()
		for _, st := range g.acts[i].steps {
			add(st, now+sequence.Time(float64(st.At)*1000))
		}
		g.acts[i].do(s)
	}
	end := s.Now()
	for _, l := range loads {
		end = max(end, s.Settles(l))
	}
	if end >= s.NextTurn() {
		end = s.Now()
	}
	s.AdvanceTo(end)
	for _, l := range loads {
		add(domain.ScenarioStep{Happen: domain.Expect, Load: g.d.Loads[l].ID, Level: units.Level(s.Output(l, end))}, end)
	}
	return out
}

// lastAsked gives the intent that asked for a load's level at the end of a path.
func (g *graph) lastAsked(path []int32, l int) int {
	s := g.p.NewState()
	for _, i := range path {
		g.acts[i].do(s)
	}
	level, _ := s.Asked(l)
	return level.Intent
}
