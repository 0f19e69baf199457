package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/units"
)

// lightFields are the fields of an intent that are illuminances.
var lightFields = []string{"target_lx", "darker_than_lx", "brighter_than_lx"}

func TestLightField_readsBackAsPrintedWithoutDrift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units")
		f, err := domain.IntentFieldNamed(rapid.SampledFrom(lightFields).Draw(t, "field"))
		require.NoError(t, err)
		env := domain.Env{Project: &domain.Project{Units: sys}}
		stored := units.Lux(rapid.Float64Range(1, 20000).Draw(t, "lx"))
		in := domain.Intent{Target: stored, DarkerThan: stored, BrighterThan: stored}
		before, shown := in, f.Show(env, &in)
		require.NoError(t, f.Set(env, &in, " "+shown+" "))
		assert.Equal(t, before, in, "typing what is shown moves nothing")
		var other domain.Intent
		require.NoError(t, f.Set(env, &other, shown))
		assert.Equal(t, shown, f.Show(env, &other), "and elsewhere it reads as it is printed")
		require.NoError(t, f.Set(env, &other, strings.Fields(shown)[0]))
		assert.Equal(t, shown, f.Show(env, &other), "with or without its unit")
	})
}

// 20,000 lx, full daylight indoors, is 1858.1 fc (1 fc = 10.763 910 lx, NIST Special
// Publication 811, appendix B.8).
func TestLightField_limits(t *testing.T) {
	f, err := domain.IntentFieldNamed("target_lx")
	require.NoError(t, err)
	us, si := domain.Env{Project: &domain.Project{Units: units.US}}, domain.Env{Project: &domain.Project{Units: units.SI}}
	for _, c := range []struct {
		env  domain.Env
		text string
		want float64
	}{{us, "30", 322.917}, {us, "30 fc", 322.917}, {us, "300 lx", 300}, {us, "1858 fc", 19999.34}, {si, "300", 300}, {si, "30 fc", 322.917}, {si, "20000", 20000}, {si, "", 0}} {
		in := domain.Intent{Target: 1}
		require.NoError(t, f.Set(c.env, &in, c.text), c.text)
		assert.InDelta(t, c.want, float64(in.Target), 0.01, c.text)
	}
	for _, c := range []struct {
		env        domain.Env
		text, says string
	}{{us, "1859 fc", "target goes from 0 to 1858.1 fc"}, {si, "20001", "target goes from 0 to 20000 lx"}, {si, "-1", "target goes from 0 to 20000 lx"}, {us, "30 klx", "is not known here: use fc"}} {
		in := domain.Intent{Target: 1}
		assert.ErrorContains(t, f.Set(c.env, &in, c.text), c.says)
		assert.EqualValues(t, 1, in.Target)
	}
}

func TestLight_wordsFollowTheProjectsUnits(t *testing.T) {
	in := domain.Intent{Kind: domain.ByDaylight, Target: 322.9173, DarkerThan: 538.1955, BrighterThan: 107.6391}
	step := domain.ScenarioStep{Happen: domain.DaylightRead, Lux: 538.1955}
	for sys, want := range map[units.System][]string{units.US: {"hold 30 fc together", "below 50 fc and while daylight is above 10 fc", "reads 50 fc"},
		units.SI: {"hold 323 lx together", "below 538 lx and while daylight is above 108 lx", "reads 538 lx"}} {
		e := domain.Env{Project: &domain.Project{Units: sys}}
		assert.Contains(t, in.Sentence(e), want[0])
		assert.Contains(t, in.Sentence(e), want[1])
		assert.Contains(t, step.Sentence(e), want[2])
	}
	assert.Equal(t, "40 fc", units.Light(domain.DaylightTarget(units.US), units.US))
	assert.Equal(t, "400 lx", units.Light(domain.DaylightTarget(units.SI), units.SI))
}
