package energy_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/energy"
)

// 684 W from the first stay of a day to the last: 1400 h over 261 days of use, in weeks
// of five days, by hand. Sensors, their delays and daylight are nothing to it.
func TestPlay_byHandIsTheOpenHours(t *testing.T) {
	open := 1400.0 / 261 * 5 * 365 / 7
	for name, b := range map[string]*domaintest.Builder{
		"vacancy":     drawn(),
		"long delay":  drawn().Set("intents/i2/delay_s", "30 min"),
		"occupancy":   drawn().Set("devices/ps/presence", "occupancy", "intents/i2/enters", "yes", "intents/i2/level", "50"),
		"dims":        drawn().Set("intents/i2/off_level", "20"),
		"no stations": drawn().Spoil(func(d *domain.Design) { d.Links = nil }),
		"no off": drawn().Spoil(func(d *domain.Design) {
			for i := range d.Links {
				if d.Links[i].Button == 4 {
					d.Links[i].Do = domain.Action{Verb: domain.Nothing}
				}
			}
		}),
	} {
		b.P.Limits.Own(domain.LeftOn).Value = 0
		y := played(t, b)
		assert.InDelta(t, 0.684*open, y.Played.ByHand, 0.01*0.684*open, name)
		before := b.R.Design
		assert.Equal(t, before, y.Room.Design, "the room itself is left as it is")
	}
}

// Who always forgets lets 684 W burn from the first morning of each week on: 168 h less
// those before Monday's first stay, which is at 13:00 less half of 1400/261 h.
func TestPlay_byHandForgets(t *testing.T) {
	b := drawn()
	b.P.Limits.Own(domain.LeftOn).Value = 100
	y := played(t, b)
	assert.InDelta(t, 0.684*(168-(13-1400.0/261/2))*365/7, y.Played.ByHand, 2)
	assert.InDelta(t, y.Played.ByHand-y.Played.Total(), sumFor(&y).PlayedSavedKWh(), 1e-9)
	assert.InDelta(t, 1-y.Played.Total()/y.Played.ByHand, sumFor(&y).PlayedSaved(), 1e-9)
}

// A room without any automatic intent is played the same twice: what its devices keep
// is all that the switches save.
func TestPlay_byHandOfARoomByHand(t *testing.T) {
	b := drawn().Spoil(func(d *domain.Design) { d.Intents = nil })
	y := played(t, b)
	assert.InDelta(t, y.Played.Lamps, y.Played.ByHand, 1e-6)
	assert.Less(t, sumFor(&y).PlayedSavedKWh(), 0.0)
}

func sumFor(y *energy.Year) (s energy.Sum) {
	s.Add(y, energy.Habit{})
	return s
}

func TestSum_allPlayed(t *testing.T) {
	assert.False(t, energy.Sum{}.AllPlayed())
	assert.False(t, energy.Sum{Rooms: 2, Weeks: 1}.AllPlayed())
	s := energy.Sum{Rooms: 1, Weeks: 1, Played: 60, Hand: 80}
	s.Join(energy.Sum{Rooms: 1, Weeks: 1, Played: 30, Hand: 40})
	assert.True(t, s.AllPlayed())
	assert.InDelta(t, 0.25, s.PlayedSaved(), 1e-12)
	assert.Zero(t, energy.Sum{}.PlayedSaved())
}

func textOf(t *testing.T, y energy.Year, c energy.Cause) string {
	for _, w := range y.Whys() {
		if w.Cause == c {
			return w.Text
		}
	}
	require.Fail(t, "no cause", string(c))
	return ""
}

// Lamps that are dimmed all night burn longer than they use: the words say what at full
// would use as much, here 30 % of the hours without people.
func TestWhys_dimmedLampsAreSaidAtFull(t *testing.T) {
	b := drawn().Set("intents/i2/off_level", "30")
	b.R.Plan = nil
	y := played(t, b)
	assert.Greater(t, y.Played.Loads[0].Hours, 8000.0, "from Monday's first stay on it burns always")
	assert.Less(t, y.Played.Loads[0].After, 0.35*8760)
	assert.Contains(t, textOf(t, y, energy.CauseAfter), "lamps use what "+energy.Text(y.Played.Loads[0].After))
}

// What F_D counts and what the weeks play are said case by case.
func TestWhys_daylightByCase(t *testing.T) {
	both := played(t, drawn())
	assert.Contains(t, textOf(t, both, energy.CauseDaylight), "F_D counts its share")

	south := drawn()
	*south.P.Latitude = 34
	text := textOf(t, played(t, south), energy.CauseDaylight)
	assert.Contains(t, text, "F_D is 1 and counts no daylight, as latitude 34 is outside of 38 to 60 degrees north")
	assert.Contains(t, text, "daylight saves what")
	assert.NotContains(t, text, "counts its share")

	undimmed := drawn().Spoil(func(d *domain.Design) {
		for i := range d.Links {
			if d.Links[i].Device == "ds" {
				d.Links[i].Do = domain.Action{Verb: domain.Nothing}
			}
		}
	})
	assert.Contains(t, textOf(t, played(t, undimmed), energy.CauseDaylight), "no sensor dims a load here")

	unseen := drawn()
	unseen.R.Plan = nil
	assert.Contains(t, textOf(t, played(t, unseen), energy.CauseDaylight), "the weeks play none: the plan shows no windows")
}

// The table has rows for 300, 500 and 750 lx; 400 lx take 300, 625 lx take 500.
func TestRoom_saysWhichRowWasTaken(t *testing.T) {
	for lx, row := range map[float64]string{299: "300 lx", 300: "", 301: "300 lx", 400: "300 lx", 401: "500 lx", 500: "", 625: "500 lx", 626: "750 lx", 750: "", 751: "750 lx"} {
		b := drawn()
		s := setting(b)
		s.Profile.Lx = lx
		got, err := energy.Room(b.P, b.R, s)
		require.NoError(t, err)
		said := ""
		for _, n := range got.Notes {
			said += n
		}
		if row == "" {
			assert.NotContains(t, said, "F_D,S", "%g", lx)
			continue
		}
		assert.Contains(t, said, "the nearest, that of "+row+", was taken", "%g", lx)
		assert.Contains(t, said, energy.Text(lx)+" lx)", "US units say both")
		b.P.Latitude = nil
		got, err = energy.Room(b.P, b.R, setting(b))
		require.NoError(t, err)
		assert.NotContains(t, got.Notes, "was taken", "no daylight, no row")
	}
}
