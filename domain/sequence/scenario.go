package sequence

import (
	"math"
	"slices"
	"strings"

	"scopewright/domain"
)

// Tolerance is how far an output may be off what a scenario expects, in points.
const Tolerance = 0.5

// Result is how a scenario went.
type Result struct {
	Passed   bool
	Step     domain.ID // that failed; empty: none
	Load     int       // whose output was not as expected; -1: none
	Expected float64
	Got      float64
	At       Time
	Problem  string // why it could not run: a step names something that is gone
}

// Order gives a scenario's steps as they run: by time, then as they stand, what
// is expected last at its time only if it stands so.
func Order(sc *domain.Scenario) []*domain.ScenarioStep {
	out := make([]*domain.ScenarioStep, len(sc.Steps))
	for i := range sc.Steps {
		out[i] = &sc.Steps[i]
	}
	slices.SortStableFunc(out, func(a, b *domain.ScenarioStep) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return a.Seq - b.Seq
	})
	return out
}

// RunScenario runs a scenario up to the first step that fails. The state is used
// and left at the end.
func (s *State) RunScenario(sc *domain.Scenario) Result {
	if err := s.Begin(Start{Day: sc.Day, Clock: sc.Start, Mode: sc.Mode}); err != nil {
		return Result{Load: -1, Problem: err.Error()}
	}
	for _, st := range Order(sc) {
		at := seconds(st.At)
		if st.Happen != domain.Expect {
			e, err := s.p.EventOf(st)
			if err != nil {
				return Result{Step: st.ID, Load: -1, At: at, Problem: err.Error()}
			}
			s.Do(e)
			continue
		}
		s.AdvanceTo(at)
		if r, ok := s.expect(st, at); !ok {
			return r
		}
	}
	return Result{Passed: true, Load: -1, At: s.now}
}

// expect compares a load's output with what a step expects, or that of all
// lighting loads.
func (s *State) expect(st *domain.ScenarioStep, at Time) (Result, bool) {
	if st.Load != "" {
		l := s.p.Design.LoadIndex(st.Load)
		if l < 0 {
			return Result{Step: st.ID, Load: -1, At: at, Problem: "the step expects something of a load that is gone: choose the load again"}, false
		}
		return s.compare(st, l, at)
	}
	for l := range s.loads {
		if s.p.loads[l].lighting {
			if r, ok := s.compare(st, l, at); !ok {
				return r, false
			}
		}
	}
	return Result{}, true
}

func (s *State) compare(st *domain.ScenarioStep, l int, at Time) (Result, bool) {
	got := s.Output(l, at)
	if math.Abs(got-float64(st.Level)) <= Tolerance {
		return Result{}, true
	}
	return Result{Step: st.ID, Load: l, Expected: float64(st.Level), Got: got, At: at}, false
}

// RunAll compiles a design and runs its scenarios; nil where it has none.
func RunAll(p *domain.Project, d *domain.Design) []Result {
	if len(d.Scenarios) == 0 {
		return nil
	}
	s := Compile(p, d).NewState()
	out := make([]Result, len(d.Scenarios))
	for i := range d.Scenarios {
		out[i] = s.RunScenario(&d.Scenarios[i])
	}
	return out
}

// Words tells what went wrong in one sentence; empty where the scenario passed.
func (r *Result) Words(d *domain.Design, sc *domain.Scenario) string {
	switch {
	case r.Passed:
		return ""
	case r.Load < 0:
		return "It cannot run: " + strings.TrimSuffix(r.Problem, ".") + "."
	}
	tag := d.Loads[r.Load].Tag
	return "After " + duration(r.At) + " " + tag + " is at " + percent(r.Got) + " and not at " + percent(r.Expected) + "."
}
