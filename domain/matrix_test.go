package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/domaintest"
)

type ways struct{ on, off int }

func waysOf(b *domaintest.Builder, load domain.ID) ways {
	on, off := b.R.Design.Paths(b.P, b.R.Design.Load(load))
	return ways{on, off}
}

// What counts as a way on or off: common practice, no published source. Raise
// counts as on; lower stops at the lowest level and does not count as off.
func TestPaths_countWhatButtonsDo(t *testing.T) {
	for cell, want := range map[string]ways{"100": {1, 0}, "1": {1, 0}, "0": {0, 1}, "TGL": {1, 1}, "UP": {1, 0}, "DN": {0, 0}, "LAST": {1, 0}, "-": {0, 0}, "": {0, 0}} {
		b := domaintest.Room().Load("l1", "a", 1).Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", cell)
		assert.Equal(t, want, waysOf(b, "l1"), "cell %q", cell)
	}
}

func TestPaths_seeThroughScenes(t *testing.T) {
	for level, want := range map[string]ways{"80": {1, 0}, "0": {0, 1}, "leave": {0, 0}, "": {0, 0}} {
		b := domaintest.Room().Load("l1", "a", 1).Device("st", "st-2-battery").Scene("s1", "").
			Set("scenes/s1/levels/l1", level).Link("st", 1, domain.Press, "l1", "SC1")
		assert.Equal(t, want, waysOf(b, "l1"), "level %q", level)
	}
}

// A vacancy sensor never turns a load on; an occupancy sensor does where the
// intent says that people entering light it.
func TestPaths_presence(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Receptacle("r1").Device("ps", "ps-ceiling").
		Link("ps", 0, "", "l1", "ACT").Link("ps", 0, "", "r1", "ACT").Intent("i", domain.ByPresence)
	assert.Equal(t, ways{0, 1}, waysOf(b, "l1"), "vacancy")
	assert.Equal(t, ways{0, 0}, waysOf(b, "r1"), "no receptacle intent")

	b.Set("intents/i/enters", "yes", "intents/i/level", "80")
	assert.Equal(t, ways{0, 1}, waysOf(b, "l1"), "vacancy, whatever the intent says")
	b.Set("devices/ps/presence", "occupancy")
	assert.Equal(t, ways{1, 1}, waysOf(b, "l1"), "occupancy")
	b.Set("intents/i/off_level", "20")
	assert.Equal(t, ways{1, 0}, waysOf(b, "l1"), "lowered, not off")
	b.Link("ps", 0, "", "l1", "-")
	assert.Equal(t, ways{0, 0}, waysOf(b, "l1"), "no sensor acts")

	b.Intent("j", domain.ForReceptacles)
	assert.Equal(t, ways{1, 1}, waysOf(b, "r1"))
}

func TestPaths_otherIntents(t *testing.T) {
	base := func(kind domain.IntentKind, pairs ...string) *domaintest.Builder {
		return domaintest.Room().Load("l1", "a", 1).Device("cn", "cn-2").Intent("i", kind).Set(pairs...)
	}
	for name, c := range map[string]struct {
		b    *domaintest.Builder
		want ways
	}{
		"schedule off alone":              {base(domain.BySchedule), ways{0, 1}},
		"schedule on and off":             {base(domain.BySchedule, "intents/i/on_at", "07:00", "intents/i/level", "100"), ways{1, 1}},
		"contact not named":               {base(domain.ByContact), ways{0, 0}},
		"contact":                         {base(domain.ByContact, "intents/i/device", "cn"), ways{1, 0}},
		"contact to 0":                    {base(domain.ByContact, "intents/i/device", "cn", "intents/i/level", "0"), ways{0, 1}},
		"daylight trims only":             {base(domain.ByDaylight), ways{0, 0}},
		"demand response lights nothing":  {base(domain.OnDemandResponse), ways{0, 0}},
		"power back starts nothing":       {base(domain.OnPowerBack), ways{0, 0}},
		"AV to a scene that is not there": {base(domain.ByAV), ways{0, 0}},
		"AV that sets a mode":             {base(domain.ByAV, "intents/i/do", "mode", "intents/i/scene", ""), ways{0, 0}},
		"AV that toggles":                 {base(domain.ByAV, "intents/i/do", "toggle"), ways{1, 1}},
		"AV that goes back":               {base(domain.ByAV, "intents/i/do", "back", "intents/i/scene", ""), ways{0, 0}},
		"contact that locks on":           {base(domain.ByContact, "intents/i/device", "cn", "intents/i/do", "lock"), ways{1, 0}},
		"contact that releases":           {base(domain.ByContact, "intents/i/device", "cn", "intents/i/do", "release", "intents/i/level", "0"), ways{0, 0}},
		"schedule that sets a mode":       {base(domain.BySchedule, "intents/i/on_at", "07:00", "intents/i/off_at", "", "intents/i/do", "mode"), ways{0, 0}},
		"mode to full":                    {base(domain.OnMode), ways{1, 0}},
		"emergency is nobody's choice":    {base(domain.OnEmergency), ways{0, 0}},
		"network loss is nobody's choice": {base(domain.OnNetworkLoss), ways{0, 0}},
	} {
		assert.Equal(t, c.want, waysOf(c.b, "l1"), name)
	}
}

func TestPaths_wallboxCarriesItsOwnButtons(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Device("wb", "wb-dim").Carry("l1", "wb", 1)
	assert.Equal(t, ways{1, 1}, waysOf(b, "l1"))
}

// Links of a device that is gone, or of no known type, open no way.
func TestPaths_ofWhatIsGone(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", "100").
		Spoil(func(d *domain.Design) { d.Devices[0].Type = "lost" })
	assert.Equal(t, ways{0, 0}, waysOf(b, "l1"))
	b.Spoil(func(d *domain.Design) { d.Devices = nil })
	assert.Equal(t, ways{0, 0}, waysOf(b, "l1"))
}

func TestMatrixRows_oneForEachInputOfTheRoom(t *testing.T) {
	b := domaintest.Classroom().Device("cn", "cn-2")
	var got []string
	for _, r := range domain.MatrixRows(b.P, &b.R.Design, false) {
		got = append(got, r.Tag+" "+r.Label)
	}
	assert.Equal(t, []string{"ST-1 1 Teach", "ST-1 2 Present", "ST-1 3 Dim", "ST-1 4 Off", "PS-1 occupied, vacant", "DS-1 reading", "CN-1 input 1", "CN-1 input 2"}, got)
	b.Link("st", 3, domain.Hold, "l1", "UP")
	assert.Len(t, domain.MatrixRows(b.P, &b.R.Design, false), 9, "a held button that does something has a row")
	assert.Len(t, domain.MatrixRows(b.P, &b.R.Design, true), 12)
}
