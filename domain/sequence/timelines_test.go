package sequence_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	. "scopewright/domain/sequence"
)

// lab is a room of one dimmed load l1, one receptacle load r1, a station with
// four buttons (1 on, 2 off, 3 raise, 4 lower), and sensors as asked.
func lab(kind domain.PresenceKind, sensors int, more ...string) *domaintest.Builder {
	b := domaintest.Room().Load("l1", "a", 4).Receptacle("r1").Device("lc", "lc-4").Device("rc", "rc-20").Device("st", "st-4-mains").Device("ds", "ds-open").
		Carry("l1", "lc", 1).Carry("r1", "rc", 1)
	for i := range sensors {
		id := domain.ID(fmt.Sprintf("ps%d", i+1))
		b.Device(id, "ps-ceiling").Set("devices/"+string(id)+"/presence", string(kind)).Link(id, 0, "", "l1", "ACT").Link(id, 0, "", "r1", "ACT")
	}
	b.Link("st", 1, domain.Press, "l1", "100").Link("st", 2, domain.Press, "l1", "0").Link("st", 3, domain.Press, "l1", "UP").Link("st", 4, domain.Press, "l1", "DN").Link("ds", 0, "", "l1", "ACT")
	b.Intent("hand", domain.ByHand).Intent("people", domain.ByPresence).Intent("outlets", domain.ForReceptacles).
		Set("intents/hand/fade_s", "0", "intents/people/fade_s", "0", "intents/people/warning_s", "0")
	if kind == domain.Occupancy {
		b.Set("intents/people/enters", "yes", "intents/people/level", "100")
	}
	return b.Set(more...)
}

// play runs lines like "09:10 ps1 vacant", "09:30 st 1", "09:30 l1 = 40" against
// the room; times are of the day, or of the next where they go back.
func play(t *testing.T, b *domaintest.Builder, start string, lines ...string) *State {
	t.Helper()
	p := Compile(b.P, &b.R.Design)
	require.Empty(t, p.Faults)
	s := p.NewState()
	day, clock, _ := strings.Cut(start, " ")
	require.NoError(t, s.Begin(Start{Day: day, Clock: clock}))
	begin, last := clockOf(t, clock), Time(0)
	for _, line := range lines {
		f := strings.Fields(line)
		at := clockOf(t, f[0]) - begin
		for at < last {
			at += 24 * Hour
		}
		last = at
		if len(f) == 4 && f[2] == "=" {
			s.AdvanceTo(at)
			var want float64
			_, err := fmt.Sscan(f[3], &want)
			require.NoError(t, err)
			l := indexOf(t, b, f[1])
			assert.InDelta(t, want, s.Output(l, at), 0.01, "%s: %s", line, strings.Join(s.Why(l), " "))
			continue
		}
		e, err := p.EventOf(stepOf(t, f[1:]))
		require.NoError(t, err, line)
		e.At = at
		s.Do(e)
	}
	return s
}

func clockOf(t *testing.T, text string) Time {
	layout := "15:04"
	if strings.Count(text, ":") == 2 {
		layout = "15:04:05"
	}
	c, err := time.Parse(layout, text)
	require.NoError(t, err)
	return Time(c.Hour())*Hour + Time(c.Minute())*Minute + Time(c.Second())*Second
}

func indexOf(t *testing.T, b *domaintest.Builder, id string) int {
	for i := range b.R.Design.Loads {
		if string(b.R.Design.Loads[i].ID) == id {
			return i
		}
	}
	t.Fatalf("no load %s", id)
	return -1
}

func stepOf(t *testing.T, f []string) *domain.ScenarioStep {
	st := &domain.ScenarioStep{Device: domain.ID(f[0])}
	words := strings.Join(f, " ")
	for _, h := range domain.Happenings() {
		if words == string(h) || h == domain.AVCommand && f[0] == "av:" || h == domain.ModeChanged && f[0] == "mode:" {
			return &domain.ScenarioStep{Happen: h, Text: strings.Join(f[1:], " ")}
		}
	}
	switch {
	case len(f) == 2 && (f[1] == "occupied" || f[1] == "vacant" || f[1] == "silent"):
		st.Happen = domain.Happening(f[1])
	case len(f) == 2 && strings.HasSuffix(f[1], "lx"):
		st.Happen = domain.DaylightRead
		_, err := fmt.Sscan(strings.TrimSuffix(f[1], "lx"), &st.Lux)
		require.NoError(t, err)
	case len(f) == 2 && (f[1] == "closed" || f[1] == "open"):
		st.Happen = domain.Happening("contact " + f[1])
		st.Button = 1
	default:
		st.Happen = domain.Pressed
		if len(f) == 3 {
			st.Happen = domain.Happening(f[2])
		}
		_, err := fmt.Sscan(f[1], &st.Button)
		require.NoError(t, err)
	}
	return st
}

// T1: people at 09:00, delay of 20 min from the last vacant report.
func TestT1_occupancy(t *testing.T) {
	b := lab(domain.Occupancy, 1, "intents/people/delay_s", "20 min")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:00 l1 = 100", "09:10 ps1 vacant", "09:29:59 l1 = 100", "09:30 l1 = 0")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:10 ps1 vacant", "09:29 ps1 occupied", "09:30 l1 = 100", "12:00 l1 = 100")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:10 ps1 vacant", "09:30 ps1 occupied", "09:30 l1 = 100", "12:00 l1 = 100")
}

// T2: two sensors, vacant only when both say so, delay 15 min.
func TestT2_twoSensors(t *testing.T) {
	b := lab(domain.Occupancy, 2, "intents/people/delay_s", "15 min")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:05 ps2 occupied", "09:06 ps1 vacant", "09:20 ps2 vacant", "09:34:59 l1 = 100", "09:35 l1 = 0")
}

// T3: the vacancy kind never lights.
func TestT3_vacancy(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/people/delay_s", "20 min")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:00 l1 = 0", "09:01 st 1", "09:01 l1 = 100", "09:10 ps1 vacant", "09:29 l1 = 100", "09:30 l1 = 0", "09:31 ps1 occupied", "09:31 l1 = 0")
}

// T4: delay 15 min, warning of 1 min at 50 %.
func TestT4_warning(t *testing.T) {
	b := lab(domain.Occupancy, 1, "intents/people/delay_s", "15 min", "intents/people/warning_s", "60 s", "intents/people/warn_to", "50")
	play(t, b, "Mon 08:00", "09:50 ps1 occupied", "10:00 ps1 vacant", "10:14:59 l1 = 100", "10:15 l1 = 50", "10:15:59 l1 = 50", "10:16 l1 = 0")
	play(t, b, "Mon 08:00", "09:50 ps1 occupied", "10:00 ps1 vacant", "10:15:30 ps1 occupied", "10:15:30 l1 = 100", "10:20 l1 = 100")
	play(t, b, "Mon 08:00", "09:50 ps1 occupied", "10:00 ps1 vacant", "10:15:30 st 1", "10:15:30 l1 = 100", "10:30:30 l1 = 50", "10:31:30 l1 = 0")
}

// T5: off by hand holds for 30 min while people stay.
func TestT5_manualOff(t *testing.T) {
	b := lab(domain.Occupancy, 1, "intents/people/delay_s", "10 min", "intents/hand/hold_s", "30 min")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:05 st 2", "09:05 l1 = 0", "09:10 ps1 occupied", "09:10 l1 = 0", "09:12 ps1 vacant", "09:22 l1 = 0", "09:25 ps1 occupied", "09:25 l1 = 100")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:05 st 2", "09:36 ps1 occupied", "09:36 l1 = 0") // nobody came in anew
}

// T6: daylight of half the target halves what is asked for.
func TestT6_daylight(t *testing.T) {
	b := lab(domain.Vacancy, 1, "loads/l1/zone", "window row").Intent("day", domain.ByDaylight).
		Set("intents/day/target_lx", "400 lx", "intents/day/fade_s", "0", "intents/day/lowest", "10").Scene("s1", "eighty").Set("scenes/s1/levels/l1", "80").Link("st", 3, domain.Press, "l1", "SC1")
	play(t, b, "Mon 08:00", "09:00 st 3", "09:01 ds 200lx", "09:01 l1 = 40", "09:02 st 1", "09:02 l1 = 50", "09:03 ds 380lx", "09:03 l1 = 10", "09:04 ds 9000lx", "09:04 l1 = 10")
	b.Set("intents/day/may_off", "yes")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 ds 200lx", "09:01 l1 = 50", "09:03 ds 380lx", "09:03 l1 = 0", "09:04 ds 350lx", "09:04 l1 = 0", "09:05 ds 330lx", "09:05 l1 = 17.5")
}

// T7: demand response caps at 70 % of what is asked for.
func TestT7_demandResponse(t *testing.T) {
	b := lab(domain.Vacancy, 1).Intent("dr", domain.OnDemandResponse).Set("intents/dr/level", "70", "intents/dr/fade_s", "0")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 demand response start", "09:01 l1 = 70", "09:02 st 3", "09:02 l1 = 70", "09:03 demand response end", "09:03 l1 = 100")
	play(t, b, "Mon 08:00", "09:01 demand response start", "09:01 l1 = 0", "09:02 st 1", "09:02 l1 = 70")
}

// T8: off at 22:00, a press buys 2 h, with a warning before.
func TestT8_schedule(t *testing.T) {
	b := lab(domain.Vacancy, 0, "intents/people/delay_s", "20 min").Intent("clock", domain.BySchedule).Set("intents/clock/off_at", "22:00", "intents/clock/override_s", "2 h", "intents/clock/warning_s", "5 min", "intents/clock/warn_to", "50", "intents/hand/hold_s", "0 s")
	play(t, b, "Mon 20:00", "21:00 st 1", "22:00 l1 = 50", "22:05 l1 = 0", "22:30 st 1", "22:30 l1 = 100", "00:29:59 l1 = 100", "00:30 l1 = 50", "00:35 l1 = 0")
	play(t, b, "Mon 20:00", "21:00 st 1", "22:05 l1 = 0", "22:30 st 1", "00:32 st 1", "00:32 l1 = 100", "02:32 l1 = 50", "02:37 l1 = 0")
	// A person's claim holds the off back to its end.
	b.Set("intents/hand/hold_s", "30 min")
	play(t, b, "Mon 20:00", "21:50 st 1", "22:10 l1 = 100", "22:20 l1 = 50", "22:25 l1 = 0")
}

// T9: power back brings the last level, or what the intent says.
func TestT9_powerBack(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/people/delay_s", "20 min").Scene("s1", "sixty").Set("scenes/s1/levels/l1", "60").Link("st", 3, domain.Press, "l1", "SC1")
	play(t, b, "Mon 08:00", "09:00 st 3", "09:01 l1 = 60", "09:02 power lost", "09:02 l1 = 0", "09:05 power back", "09:05 l1 = 60", "09:24:59 l1 = 60", "09:25 l1 = 0")
	for restore, want := range map[string]string{"off": "0", "full": "100", "level": "30", "last level": "60"} {
		c := lab(domain.Vacancy, 1).Scene("s1", "sixty").Set("scenes/s1/levels/l1", "60").Link("st", 3, domain.Press, "l1", "SC1").Intent("back", domain.OnPowerBack).Set("intents/back/restore", restore, "intents/back/level", "30")
		play(t, c, "Mon 08:00", "09:00 st 3", "09:02 power lost", "09:05 power back", "09:05 l1 = "+want)
	}
}

// T10: receptacles follow presence only.
func TestT10_receptacles(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/people/delay_s", "20 min", "intents/outlets/delay_s", "20 min")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:00 r1 = 100", "09:01 st 1", "12:00 st 2", "12:00 r1 = 100", "12:00 l1 = 0", "12:10 ps1 vacant", "12:29 r1 = 100", "12:30 r1 = 0")
}
