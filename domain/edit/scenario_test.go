package edit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
)

func TestScenarios(t *testing.T) {
	b := domaintest.Classroom().
		Do(edit.AddScenario{Scenario: domain.Scenario{ID: "n1", Name: "Evening"}},
			edit.AddStep{Scenario: "n1", Step: domain.ScenarioStep{ID: "t1", Happen: domain.Pressed, Device: "st", Button: 1}},
			edit.AddStep{Scenario: "n1", Step: domain.ScenarioStep{ID: "t2", Happen: domain.Expect, Load: "l1", Level: 100}}).
		Set("scenarios/n1/steps/t2/at_s", "1 min", "scenarios/n1/day", "tuesday", "scenarios/n1/start", "17:30")
	sc := b.R.Design.Scenario("n1")
	e := domain.Env{Project: b.P, Design: &b.R.Design}
	assert.Equal(t, "Tue", sc.Day)
	assert.Equal(t, "ST-1 button 1 Teach is pressed", sc.Steps[0].Sentence(e))
	assert.Equal(t, "L1 at 100 %", sc.Steps[1].Sentence(e))
	assert.EqualValues(t, 60, sc.Steps[1].At)

	s := edit.OfRoom(b.P, b.R)
	_, err := edit.SetField{Path: "scenarios/n1/steps/t9/level", Text: "5"}.Apply(s)
	assert.ErrorContains(t, err, "no longer in this room")
	_, err = edit.SetField{Path: "scenarios/n1/steps/t1/device", Text: "DS-1"}.Apply(s)
	assert.ErrorContains(t, err, "input is not", "a daylight sensor has no buttons")

	said, err := edit.Remove{Part: "devices", ID: "st"}.Apply(s)
	require.NoError(t, err)
	assert.Contains(t, said, "removed ST-1")
	assert.Len(t, s.Design.Scenario("n1").Steps, 1, "what a device did in a story goes with it")
	_, err = edit.RemoveStep{Scenario: "n1", Step: "t2"}.Apply(s)
	require.NoError(t, err)
	assert.Empty(t, s.Design.Scenario("n1").Steps)
}
