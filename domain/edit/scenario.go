package edit

import (
	"fmt"

	"scopewright/domain"
)

// AddScenario adds a scenario, empty or with the steps that it is given.
type AddScenario struct{ Scenario domain.Scenario }

// Apply adds the scenario behind the others.
func (e AddScenario) Apply(s *Subject) (string, error) {
	if len(s.Design.Scenarios) >= domain.MaxParts {
		return "", fmt.Errorf("this room has %d scenarios, which is the most that it can have", domain.MaxParts)
	}
	sc := e.Scenario.Clone()
	name, err := domain.CleanLine(sc.Name, domain.MaxName)
	if err != nil {
		return "", err
	}
	sc.Seq = nextSeq(s.Design.Scenarios, func(x domain.Scenario) int { return x.Seq })
	if sc.Name = name; name == "" {
		sc.Name = fmt.Sprintf("Scenario %d", sc.Seq)
	}
	s.Design.Scenarios = append(s.Design.Scenarios, sc)
	return "added scenario " + sc.Name, nil
}

// AddStep adds a step to a scenario, after the last one.
type AddStep struct {
	Scenario domain.ID
	Step     domain.ScenarioStep
}

// Apply adds the step.
func (e AddStep) Apply(s *Subject) (string, error) {
	sc := s.Design.Scenario(e.Scenario)
	if sc == nil {
		return "", gone("the scenario")
	}
	if len(sc.Steps) >= domain.MaxParts {
		return "", fmt.Errorf("this scenario has %d steps, which is the most that it can have", domain.MaxParts)
	}
	step := e.Step
	step.Seq = nextSeq(sc.Steps, func(x domain.ScenarioStep) int { return x.Seq })
	sc.Steps = append(sc.Steps[:len(sc.Steps):len(sc.Steps)], step)
	return fmt.Sprintf("scenario %s: added step \"%s\"", sc.Name, step.Sentence(s.Env())), nil
}

// RemoveStep takes a step out of a scenario.
type RemoveStep struct{ Scenario, Step domain.ID }

// Apply removes the step.
func (e RemoveStep) Apply(s *Subject) (string, error) {
	sc := s.Design.Scenario(e.Scenario)
	if sc == nil || sc.Step(e.Step) == nil {
		return "", gone("the step")
	}
	said := fmt.Sprintf("scenario %s: removed step \"%s\"", sc.Name, sc.Step(e.Step).Sentence(s.Env()))
	sc.Steps = without(sc.Steps, func(x domain.ScenarioStep) bool { return x.ID == e.Step })
	return said, nil
}

// withoutSteps drops steps from all scenarios and leaves the lists of others alone.
func withoutSteps(list []domain.Scenario, drop func(*domain.ScenarioStep) bool) []domain.Scenario {
	out := append(list[:0:0], list...)
	for i := range out {
		out[i].Steps = without(out[i].Steps, func(st domain.ScenarioStep) bool { return drop(&st) })
	}
	return out
}

func setScenario(s *Subject, steps []string, text string) (string, error) {
	sc, last := s.Design.Scenario(domain.ID(steps[1])), steps[len(steps)-1]
	if sc == nil {
		return "", gone("the scenario")
	}
	if len(steps) == 3 {
		return set(s.Env(), domain.ScenarioFields, sc, last, text, "scenario "+sc.Name)
	}
	if len(steps) != 5 || steps[2] != "steps" {
		return "", fmt.Errorf("a scenario has no field %q", last)
	}
	st := sc.Step(domain.ID(steps[3]))
	if st == nil {
		return "", gone("the step")
	}
	return set(s.Env(), domain.StepFields, st, last, text, "scenario "+sc.Name)
}
