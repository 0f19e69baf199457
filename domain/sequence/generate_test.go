package sequence_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	. "scopewright/domain/sequence"
)

// What the numbers of the demo's rooms promise, running them keeps.
func TestGenerate_passesOnTheDemo(t *testing.T) {
	scope := demo.Scope()
	total := 0
	for i := range scope.Typicals {
		d := &scope.Typicals[i].Design
		s := Compile(&scope.Project, d).NewState()
		for _, sc := range Generate(&scope.Project, d) {
			total++
			r := s.RunScenario(&sc)
			assert.True(t, r.Passed, "%s, %s: %s %+v", scope.Typicals[i].Name, sc.Name, r.Words(d, &sc), r)
		}
	}
	for i := range scope.Rooms {
		if d := &scope.Rooms[i].Design; scope.Rooms[i].TypicalID == "" && !d.Empty() {
			s := Compile(&scope.Project, d).NewState()
			for _, sc := range Generate(&scope.Project, d) {
				total++
				r := s.RunScenario(&sc)
				assert.True(t, r.Passed, "%s, %s: %s %+v", scope.Rooms[i].Number, sc.Name, r.Words(d, &sc), r)
			}
		}
	}
	assert.Greater(t, total, 50)
}

// A set for a classroom has a story for each button that goes to levels and for
// each intent that can be told; a design that does something else fails it.
func TestGenerate_findsWhatChanged(t *testing.T) {
	b := domaintest.Classroom()
	set := Generate(b.P, &b.R.Design)
	names := map[string]bool{}
	for _, sc := range set {
		names[sc.Name] = true
	}
	for _, want := range []string{"ST-1 button 1 Teach", "ST-1 button 4 Off", "People come and go", "Receptacles follow people", "Daylight comes in", "Power fails and comes back"} {
		assert.True(t, names[want], "%s in %v", want, names)
	}
	b.R.Design.Scenarios = set
	for i, r := range RunAll(b.P, &b.R.Design) {
		assert.True(t, r.Passed, "%s: %s", set[i].Name, r.Words(&b.R.Design, &set[i]))
	}
	b.Set("intents/i2/delay_s", "5 min", "scenes/s1/levels/l1", "40")
	failed := map[string]string{}
	for i, r := range RunAll(b.P, &b.R.Design) {
		if !r.Passed {
			failed[set[i].Name] = r.Words(&b.R.Design, &set[i])
		}
	}
	assert.Contains(t, failed["ST-1 button 1 Teach"], "L1 is at 40 % and not at 100 %")
	assert.Contains(t, failed, "People come and go")
	require.NotContains(t, failed, "Receptacles follow people")
}

func TestRunScenario_says(t *testing.T) {
	b := domaintest.Classroom()
	d := &b.R.Design
	s := Compile(b.P, d).NewState()
	for _, c := range []struct {
		step domain.ScenarioStep
		says string
	}{
		{domain.ScenarioStep{ID: "a", Happen: domain.Pressed, Device: "gone", Button: 1}, "names no device"},
		{domain.ScenarioStep{ID: "a", Happen: domain.Pressed, Device: "st", Button: 9}, "ST-1 has no button 9"},
		{domain.ScenarioStep{ID: "a", Happen: domain.ModeChanged, Text: "party"}, "is no mode"},
		{domain.ScenarioStep{ID: "a", Happen: domain.Expect, Load: "gone"}, "a load that is gone"},
	} {
		sc := domain.Scenario{ID: "x", Name: "x", Steps: []domain.ScenarioStep{c.step}}
		r := s.RunScenario(&sc)
		assert.False(t, r.Passed)
		assert.Contains(t, r.Words(d, &sc), c.says)
	}
	sc := domain.Scenario{ID: "x", Name: "x", Day: "someday"}
	r := s.RunScenario(&sc)
	assert.Contains(t, r.Words(d, &sc), "is no day")
	// All lighting loads, and half a point of tolerance.
	sc = domain.Scenario{ID: "x", Name: "x", Steps: []domain.ScenarioStep{{ID: "a", Seq: 1, Happen: domain.Pressed, Device: "st", Button: 1}, {ID: "b", Seq: 2, At: 60, Happen: domain.Expect, Level: 99.5}}}
	assert.True(t, s.RunScenario(&sc).Passed)
	sc.Steps[1].Level = 99.4
	assert.False(t, s.RunScenario(&sc).Passed)
}

// All scenarios of a project of 200 rooms.
func BenchmarkScenarios(b *testing.B) {
	room := domaintest.Classroom()
	room.R.Design.Scenarios = Generate(room.P, &room.R.Design)
	for b.Loop() {
		for range 200 {
			RunAll(room.P, &room.R.Design)
		}
	}
	b.ReportMetric(float64(200*len(room.R.Design.Scenarios)), "scenarios")
}
