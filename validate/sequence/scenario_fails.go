package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// ScenarioFails plays the room's scenarios.
var ScenarioFails = rule.Rule{
	ID: "sequence-scenario-fails", Title: "Scenario that the room does not keep", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A scenario is what the room is promised to do and what the technician will test: the design does something else.",
	Source:  commonPractice,
	Example: "A scenario that expects 100 % after a press of the button that recalls a scene of 100 % passes; one that expects 99 % does not, as half a point is the tolerance.",
	Check: func(f *rule.Facts) []rule.Finding {
		if len(f.Design.Scenarios) == 0 {
			return nil
		}
		var out []rule.Finding
		for i, r := range sequence.RunAll(f.Project, f.Design) {
			if r.Passed {
				continue
			}
			sc := &f.Design.Scenarios[i]
			out = append(out, rule.Finding{Key: string(sc.ID), Subjects: []rule.Subject{{Part: "scenarios", ID: sc.ID, Tag: sc.Name}},
				Message: fmt.Sprintf("Scenario %s fails. %s Play it on the rehearsal page, then change the design or what the scenario expects.", sc.Name, r.Words(f.Design, sc))})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return promised(99) },
	Quiet: func() *domaintest.Builder { return promised(99.5) },
}

// promised gives a classroom with a scenario that expects a level of its first
// load after the first button.
func promised(level units.Level) *domaintest.Builder {
	step := func(n int, st domain.ScenarioStep) domain.ScenarioStep {
		st.ID, st.Seq = domain.ID(fmt.Sprintf("s%d", n)), n
		return st
	}
	sc := domain.Scenario{ID: "n1", Name: "Teach"}
	sc.Steps = []domain.ScenarioStep{step(1, domain.ScenarioStep{Happen: domain.Pressed, Device: "st", Button: 1})}
	sc.Steps = append(sc.Steps, step(2, domain.ScenarioStep{Happen: domain.Expect, Load: "l1", At: 60, Level: level}))
	return domaintest.Classroom().Do(edit.AddScenario{Scenario: sc})
}
