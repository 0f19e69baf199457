package propose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/propose"
	"scopewright/domain/units"
)

func starting(b *domaintest.Builder, use domain.Use) []domain.Intent {
	return propose.StartingIntents(b.P, use, &b.R.Design)
}

func kindsOf(list []domain.Intent) []domain.IntentKind {
	out := make([]domain.IntentKind, len(list))
	for i := range list {
		out[i] = list[i].Kind
	}
	return out
}

func theOne(t *testing.T, list []domain.Intent, kind domain.IntentKind) domain.Intent {
	t.Helper()
	var found []domain.Intent
	for _, in := range list {
		if in.Kind == kind {
			found = append(found, in)
		}
	}
	require.Len(t, found, 1, kind)
	return found[0]
}

// A classroom: manual on, off 15 min after the last person left, with a
// warning; the window row follows daylight; receptacles follow people. Common
// practice, no published source.
func TestStartingIntents_ofAClassroom(t *testing.T) {
	b := domaintest.Classroom()
	list := starting(b, "classroom")
	assert.Equal(t, []domain.IntentKind{domain.ByHand, domain.ByPresence, domain.ByDaylight, domain.ForReceptacles, domain.OnPowerBack}, kindsOf(list))
	people := theOne(t, list, domain.ByPresence)
	assert.False(t, people.Enters, "its sensor is of the vacancy kind")
	assert.Empty(t, people.Loads, "all of them")
	assert.Equal(t, units.Seconds(900), people.Delay)
	assert.Equal(t, units.Seconds(60), people.Warning)
	assert.Equal(t, []domain.ID{"l3"}, theOne(t, list, domain.ByDaylight).Loads)
}

// Egress lighting stays lit in an empty corridor and is at full while the
// emergency signal is on; the rest of it goes low as well.
func TestStartingIntents_ofACorridorKeepTheWayOutLit(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 4).Load("l2", "a", 2).Device("lc", "lc-2").Device("ps", "ps-ceiling").
		Set("devices/ps/presence", "occupancy", "loads/l2/egress", "yes").Carry("l1", "lc", 1).Carry("l2", "lc", 2).
		Link("ps", 0, "", "l1", "ACT").Link("ps", 0, "", "l2", "ACT")
	list := starting(b, "corridor")
	assert.Equal(t, []domain.IntentKind{domain.ByPresence, domain.ByPresence, domain.OnEmergency, domain.OnPowerBack}, kindsOf(list))
	for i, id := range []domain.ID{"l1", "l2"} {
		assert.Equal(t, []domain.ID{id}, list[i].Loads)
		assert.True(t, list[i].Enters)
		assert.Equal(t, units.Level(100), list[i].Level)
		assert.Equal(t, units.Level(30), list[i].OffLevel)
		assert.Equal(t, units.Seconds(600), list[i].Delay)
	}
	assert.Equal(t, domain.RestoreFull, theOne(t, list, domain.OnPowerBack).Restore)
}

// Nothing that cannot be: a load that is only switched gets no fade, no dip and
// no level in between; what no sensor and no button reaches gets no statement.
func TestStartingIntents_fitTheLoads(t *testing.T) {
	b := domaintest.Room().Load("l1", "s", 4).Device("lc", "lc-sw-2").Device("ps", "ps-ceiling").Set("devices/ps/presence", "occupancy").Carry("l1", "lc", 1)
	assert.Equal(t, []domain.IntentKind{domain.OnPowerBack}, kindsOf(starting(b, "warehouse")[len(starting(b, "warehouse"))-1:]))
	for _, in := range starting(b, "warehouse") {
		assert.NotEqual(t, domain.ByPresence, in.Kind, "the sensor acts on nothing yet")
	}
	b.Link("ps", 0, "", "l1", "ACT")
	people := theOne(t, starting(b, "warehouse"), domain.ByPresence)
	assert.Equal(t, units.Level(100), people.Level)
	assert.Zero(t, people.OffLevel)
	assert.Zero(t, people.Warning)
	assert.Zero(t, people.Fade)
	assert.Empty(t, starting(domaintest.Room(), "office-open"), "an empty room has nothing to start from")
}

func TestStartingIntents_ofAVGoToTheScene(t *testing.T) {
	b := domaintest.Classroom().Working(1, "av-serial")
	var av []domain.Intent
	for _, in := range starting(b, "conference") {
		if in.Kind == domain.ByAV {
			av = append(av, in)
		}
	}
	require.Len(t, av, 2)
	assert.Equal(t, 2, av[0].Scene, "the one called Present")
	assert.Equal(t, domain.GoBack, av[1].Do, "and then back to what was before, not to full")
}

func TestMissingKinds(t *testing.T) {
	b := domaintest.Classroom()
	assert.Empty(t, propose.MissingKinds(starting(b, "classroom"), &b.R.Design))
	b.R.Design.Intents = b.R.Design.Intents[:1]
	assert.Equal(t, []domain.IntentKind{domain.ByPresence, domain.ByDaylight, domain.ForReceptacles, domain.OnPowerBack}, kindsOf(propose.MissingKinds(starting(b, "classroom"), &b.R.Design)))
}
