package energy_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/energy"
)

// sensedRoom is a classroom whose sensor lights on entry and turns off after a
// delay, with neither fade nor warning.
func sensedRoom(delay string) *domaintest.Builder {
	return domaintest.Classroom().Set("devices/ps/presence", "occupancy",
		"intents/i2/enters", "yes", "intents/i2/delay_s", delay, "intents/i2/fade_s", "0", "intents/i2/warning_s", "0", "intents/i2/level", "100")
}

func burned(t *testing.T, b *domaintest.Builder, w energy.Week) map[domain.ID]energy.Burned {
	list, err := energy.Run(b.P, &b.R.Design, w)
	require.NoError(t, err)
	out := map[domain.ID]energy.Burned{}
	for _, one := range list {
		out[one.Load] = one
	}
	return out
}

// Ten hours open, 6.5 of them with people, eight absences of which each
// outlasts the delay: 9.1667, 7.8333 and 7.1667 hours for 20, 10 and 5 minutes,
// by hand: occupied + departures x delay. The room's own intents must give the
// same, in each of 52.14 weeks of one such day.
func TestRun_delayByHand(t *testing.T) {
	var w energy.Week
	for i := range 8 {
		from := 8 + float64(i)*(6.5/8+0.5)
		w.Stays = append(w.Stays, energy.Stay{From: from, To: from + 6.5/8, Last: i == 7})
	}
	assert.InDelta(t, 18, w.Stays[7].To, 1e-9)
	for delay, want := range map[string]float64{"20 min": 9.1667, "10 min": 7.8333, "5 min": 7.1667} {
		got := burned(t, sensedRoom(delay), w)["l1"]
		assert.InDelta(t, want, got.Hours*7/365, 1e-3, delay)
		assert.InDelta(t, want, got.Full*7/365, 1e-3, "%s, it burns at full", delay)
		assert.InDelta(t, got.Full*6*38/1000, got.KWh, 1e-9, "six luminaires of 38 W")
	}
}

// A load without any control but a switch burns while people are in and through
// their absences, and one evening's forgetting until the next morning.
func TestRun_byHandOnly(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 10).Device("lc", "lc-1").Device("st", "st-2-battery").Carry("l1", "lc", 1).
		Link("st", 1, domain.Press, "l1", "100").Link("st", 2, domain.Press, "l1", "0")
	w := energy.Week{Stays: []energy.Stay{{From: 8, To: 12}, {From: 13, To: 18, Last: true}, {From: 32, To: 42, Last: true, Forgets: true}, {From: 56, To: 66, Last: true}}}
	got := burned(t, b, w)["l1"]
	assert.InDelta(t, 10+34, got.Hours*7/365, 0.01, "8 to 18, then 8 to 18 of the day after the next")
}

// People light all of the general lighting, by as many buttons as it takes, and none
// of the board light that has a button of its own; who leaves darkens all of it.
func TestRun_pressesWhatTheRoomNeeds(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 10).Load("l2", "a", 10).Load("l3", "a", 2).Set("loads/l3/layer", "board").Device("lc", "lc-4").Device("st", "st-4-mains").
		Carry("l1", "lc", 1).Carry("l2", "lc", 2).Carry("l3", "lc", 3).
		Link("st", 1, domain.Press, "l3", "100").Link("st", 2, domain.Press, "l1", "100").Link("st", 3, domain.Press, "l2", "100").
		Link("st", 4, domain.Press, "l1", "0").Link("st", 4, domain.Press, "l2", "0").Link("st", 4, domain.Press, "l3", "0")
	got := burned(t, b, energy.Week{Stays: []energy.Stay{{From: 8, To: 18, Last: true}}})
	assert.InDelta(t, 10, got["l1"].Hours*7/365, 0.01)
	assert.InDelta(t, 10, got["l2"].Hours*7/365, 0.01)
	assert.Zero(t, got["l3"].Hours)
	assert.InDelta(t, 0, got["l1"].Away+got["l1"].After, 0.2)
}

// Daylight takes what it gives: at half of the target a load that may dim burns
// at half.
func TestRun_daylight(t *testing.T) {
	b := sensedRoom("20 min")
	w := energy.Week{Stays: []energy.Stay{{From: 8, To: 18, Last: true}}, Daylight: []energy.Reading{{At: 7, Lx: 0}, {At: 13, Lx: 250}}}
	b.Set("intents/i3/target_lx", "500 lx", "intents/i3/fade_s", "0", "intents/i3/lowest", "10")
	got := burned(t, b, w)
	window, inner := got["l3"], got["l1"]
	assert.InDelta(t, inner.Hours, window.Hours, 1e-6)
	lit := inner.Hours * 7 / 365
	assert.InDelta(t, 5+(lit-5)/2, window.Full*7/365, 0.01, "full until 13:00, half from then")
}

func TestTypicalWeeks_keepTheProfile(t *testing.T) {
	for _, u := range domain.Uses() {
		p := energy.BuiltIn(u.Use)
		weeks := energy.TypicalWeeks(p, 0.10, 12, 7)
		assert.Equal(t, weeks, energy.TypicalWeeks(p, 0.10, 12, 7), "the same seed, the same weeks")
		assert.NotEqual(t, weeks, energy.TypicalWeeks(p, 0.10, 12, 8))
		forgot, evenings := 0, 0
		for _, w := range weeks {
			in, open, last, opened := 0.0, 0.0, 0.0, 0.0
			for i, s := range w.Stays {
				require.LessOrEqual(t, last, s.From+1e-9, "stays come in order")
				require.Greater(t, s.To, s.From)
				require.LessOrEqual(t, s.To, 7*24.0+1e-9)
				if i == 0 || w.Stays[i-1].Last {
					opened = s.From
				}
				in, last = in+s.To-s.From, s.To
				if s.Last {
					open += s.To - opened
					evenings++
				}
				if s.Forgets {
					forgot++
				}
			}
			year := 261.0 / 5
			if (p.Day+p.Night)/261 > 16 {
				year = 365.0 / 7
			}
			assert.InDelta(t, p.Day+p.Night, open*year, 1, u.Use)
			assert.InDelta(t, 1-p.Absence, in/open, 1e-6, u.Use)
		}
		assert.InDelta(t, 0.10*float64(evenings), float64(forgot), 0.5, "one evening in ten")
	}
	empty := energy.TypicalWeeks(energy.Profile{Day: 2000, Absence: 1}, 0.1, 1, 1)
	assert.Empty(t, empty[0].Stays, "a room that is always empty")
}

func BenchmarkRun_200Rooms(b *testing.B) {
	room := sensedRoom("20 min")
	w := energy.TypicalWeeks(energy.BuiltIn("classroom"), 0.1, 1, 1)[0]
	for h := range 7 * 24 {
		w.Daylight = append(w.Daylight, energy.Reading{At: float64(h), Lx: float64(h % 24 * 20)})
	}
	for b.Loop() {
		for range 200 {
			if _, err := energy.Run(room.P, &room.R.Design, w); err != nil {
				b.Fatal(err)
			}
		}
	}
}
