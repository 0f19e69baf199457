package energy_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/energy"
)

// The classroom of 60 m2 with 480 W: 215.996 kWh of lamps and 54.080 of standby
// (8 W), computed by hand from EN 15193:2007 (from memory); by hand 618.351.
func TestRoom_workedClassroom(t *testing.T) {
	b := domaintest.Classroom().Set("facts/area_m2", "60 m2", "intents/i3/loads", "all")
	for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
		b.Link("ds", 0, "", l, "ACT").Set("loads/"+string(l)+"/luminaire", "", "loads/"+string(l)+"/watts", "120", "loads/"+string(l)+"/volts", "277")
	}
	north := 45.0
	s := energy.Setting{
		Profile: energy.Profile{Day: 1800, Night: 200, Absence: 0.25, Lx: 300}, Held: 0.9, Latitude: &north, Each: 2, // four on the mains
		Daylit: func(*domain.Load) energy.Daylit { return energy.Daylit{Class: energy.Strong} },
	}
	got, err := energy.Room(b.P, b.R, s)
	require.NoError(t, err)
	require.Len(t, got.Lines, 4)
	for _, line := range got.Lines {
		assert.Equal(t, energy.ManualOnAutoOff, line.Control)
		assert.True(t, line.Dims)
		assert.InDelta(t, 0.75, line.People, 1e-9)
		assert.InDelta(t, 0.2398, line.Sky, 5e-5)
	}
	assert.InDelta(t, 215.996, got.Use.Lamps, 1e-2)
	assert.InDelta(t, 54.080, got.Use.Standby, 1e-9)
	assert.InDelta(t, 618.351, got.ByHand.Lamps, 1e-2)
	assert.InDelta(t, 1-(215.996+54.080)/618.351, got.Saved(), 1e-4)
	assert.Len(t, got.Notes, 1, "one sensor has 60 m2: %v", got.Notes)

	north = 61
	got, err = energy.Room(b.P, b.R, s)
	require.NoError(t, err)
	assert.InDelta(t, 1.0, got.Lines[0].Sky, 0)
	assert.Contains(t, got.Notes[0], "38 to 60")
}

// setting is how a room is reckoned from its project and plan.
func setting(b *domaintest.Builder) energy.Setting {
	return energy.SettingOf(b.P, b.R, energy.LitOf(b.P, b.R))
}

func TestControlOf_readsWhatTheIntentsDo(t *testing.T) {
	of := func(b *domaintest.Builder) energy.Control {
		return energy.ControlOf(b.P, &b.R.Design, b.R.Design.Load("l1"))
	}
	occupancy := func(pairs ...string) *domaintest.Builder {
		return domaintest.Classroom().Set("devices/ps/presence", "occupancy", "intents/i2/enters", "yes", "intents/i2/level", "100").Set(pairs...)
	}
	bare := domaintest.Classroom().Spoil(func(d *domain.Design) { d.Intents = nil })
	schedule := domaintest.Classroom().Spoil(func(d *domain.Design) {
		d.Intents = []domain.Intent{domain.NewIntent("i9", domain.BySchedule)}
	})
	for name, c := range map[string]struct {
		room *domaintest.Builder
		want energy.Control
	}{
		"vacancy":                         {domaintest.Classroom(), energy.ManualOnAutoOff},
		"vacancy, dimmed when vacant":     {domaintest.Classroom().Set("intents/i2/off_level", "20"), energy.ManualOnDimmed},
		"occupancy":                       {occupancy(), energy.AutoBoth},
		"occupancy, dimmed when vacant":   {occupancy("intents/i2/off_level", "20"), energy.AutoOnDimmed},
		"occupancy to half is partial":    {occupancy("intents/i2/level", "50"), energy.ManualOnAutoOff},
		"occupancy to more than half":     {occupancy("intents/i2/level", "51"), energy.AutoBoth},
		"lights on entry to a scene":      {occupancy("intents/i2/scene", "1"), energy.AutoBoth},
		"a sensor without an intent":      {bare, energy.ManualBoth},
		"a schedule sweeps":               {schedule, energy.ManualSweep},
		"under a condition it is no help": {domaintest.Classroom().Set("intents/i2/from", "08:00", "intents/i2/until", "09:00"), energy.ManualBoth},
	} {
		assert.Equal(t, c.want, of(c.room), name)
	}
}

func TestRoom_saysWhatIsMissing(t *testing.T) {
	b := domaintest.Classroom().Set("facts/area_m2", "")
	_, err := energy.Room(b.P, b.R, setting(b))
	require.ErrorContains(t, err, "states no area")
	b = domaintest.Classroom().Set("loads/l1/luminaire", "", "loads/l1/watts", "")
	got, err := energy.Room(b.P, b.R, setting(b))
	require.NoError(t, err)
	require.Len(t, got.Unknown, 1)
	assert.Equal(t, domain.ID("l1"), got.Unknown[0].ID)
	assert.Len(t, got.Lines, 3)
}
