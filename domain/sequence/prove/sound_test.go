package prove_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence"
	. "scopewright/domain/sequence/prove"
)

// Rooms in which a hasty search finds what is not there. Each comment says why
// the finding would be wrong.
func TestExplore_findsNothingWhereNothingIs(t *testing.T) {
	for name, c := range map[string]struct {
		room *domaintest.Builder
		not  []Kind
	}{
		"raise is a way on": {small().Link("st", 2, domain.Press, "l1", "0").Link("st", 1, domain.Press, "l1", "UP").
			Device("ps", "ps-ceiling").Set("devices/ps/presence", "occupancy").Link("ps", 0, "", "l1", "ACT").Intent("people", domain.ByPresence).Set("intents/people/enters", "yes", "intents/people/level", "100").
			Intent("keep", domain.ByContact).Set("intents/keep/device", "CN-1", "intents/keep/command", "closed", "intents/keep/do", "hold"), []Kind{NoWayOn, NoWayOff, Stuck}},
		"a press that counts in the evening only": {small().Set("intents/hand/from", "18:00", "intents/hand/until", "22:00"), []Kind{ButtonBut, Stuck, NoWayOn, NoWayOff, Twins}},
		"an empty room goes dark in the evening only": {small().Link("st", 2, domain.Press, "l1", "-").Device("ps", "ps-ceiling").Set("devices/ps/presence", "occupancy").Link("ps", 0, "", "l1", "ACT").
			Intent("people", domain.ByPresence).Set("intents/people/enters", "yes", "intents/people/level", "100", "intents/people/from", "18:00"), []Kind{NoWayOff, Stuck}},
		"the calendar brings the mode": {calendar(small()).Intent("day", domain.OnMode).Set("intents/day/mode", "normal", "intents/day/level", "100"), []Kind{Idle}},
		"light between two thresholds": {small().Device("av", "av-serial").Device("ds", "ds-open").Link("ds", 0, "", "l1", "ACT").Intent("dusk", domain.ByAV).
			Set("intents/dusk/scene", "", "intents/dusk/command", "go", "intents/dusk/level", "70", "intents/dusk/darker_than_lx", "800 lx", "intents/dusk/brighter_than_lx", "300 lx"), []Kind{Idle}},
		"the second daylight sensor": {small().Load("l2", "a", 4).Link("st", 1, domain.Press, "l2", "100").Link("st", 2, domain.Press, "l2", "0").Device("d1", "ds-open").Device("d2", "ds-open").
			Link("d1", 0, "", "l1", "ACT").Link("d2", 0, "", "l2", "ACT").Intent("day", domain.ByDaylight).Set("intents/day/loads", "L2", "intents/day/may_off", "yes", "intents/day/target_lx", "300 lx"), []Kind{Idle}},
		"clouds give back what the sun took": {small().Device("ps", "ps-ceiling").Set("devices/ps/presence", "vacancy").Link("ps", 0, "", "l1", "ACT").Intent("people", domain.ByPresence).
			Device("ds", "ds-open").Link("ds", 0, "", "l1", "ACT").Intent("day", domain.ByDaylight).Set("intents/day/may_off", "yes", "intents/day/target_lx", "300 lx"), []Kind{LitAlone}},
		"the same level at another pace": {small().Scene("s1", "Fast").Scene("s2", "Slow").Set("scenes/s2/levels/l1", "100 in 30 s").Link("st", 3, domain.Press, "l1", "SC1").Link("st", 4, domain.Press, "l1", "SC2").
			Link("st", 1, domain.Press, "l1", "20"), []Kind{Twins}},
	} {
		for _, f := range explore(c.room).Found {
			assert.NotContains(t, c.not, f.Kind, "%s: %+v", name, f)
		}
	}
}

func calendar(b *domaintest.Builder) *domaintest.Builder {
	b.P.Calendar = []string{"Mon-Fri 07:00 normal", "Mon-Sun 19:00 after hours"}
	return b
}

// What a bounded search has not seen a button do, it may yet do.
func TestExplore_boundedSaysNothingOfButtons(t *testing.T) {
	b := domaintest.Classroom()
	for n := 1; n <= 40; n++ {
		p := Explore(sequence.Compile(b.P, &b.R.Design), Bounds{States: n})
		if !p.Bounded {
			continue
		}
		for _, f := range p.Found {
			assert.NotContains(t, []Kind{ButtonBut, Twins, Idle}, f.Kind, "%d states: %+v", n, f)
		}
	}
}

// Steps can be played as a scenario, with the clock running: they run to their
// end, and then what is claimed is so.
func TestExplore_stepsPlay(t *testing.T) {
	b := small().Set("loads/l1/egress", "yes").Link("st", 2, domain.Press, "l1", "50").Intent("clock", domain.BySchedule).Set("intents/clock/loads", "L1", "intents/clock/off_at", "22:00", "intents/clock/warning_s", "0")
	p := sequence.Compile(b.P, &b.R.Design)
	played := false
	for _, f := range Explore(p, Bounds{}).Found {
		if f.Kind != Egress {
			continue
		}
		played = true
		s := p.NewState()
		r := s.RunScenario(&domain.Scenario{Steps: f.Steps})
		assert.True(t, r.Passed, "%v: %+v", f.Steps, r)
		assert.Zero(t, s.Output(f.Load, s.Settles(f.Load)), "%v: the egress load is dark at the end", f.Steps)
	}
	assert.True(t, played)

	// A fade that runs when the steps look at it.
	c := small().Device("ps", "ps-ceiling").Set("devices/ps/presence", "occupancy", "loads/l1/egress", "yes").Link("st", 2, domain.Press, "l1", "50").Link("ps", 0, "", "l1", "ACT").
		Intent("people", domain.ByPresence).Set("intents/people/fade_s", "10 s", "intents/people/enters", "yes", "intents/people/level", "100")
	q := sequence.Compile(c.P, &c.R.Design)
	for _, f := range Explore(q, Bounds{}).Found {
		s := q.NewState()
		r := s.RunScenario(&domain.Scenario{Steps: f.Steps})
		assert.True(t, r.Passed, "%v: %+v", f.Steps, r)
	}
}
