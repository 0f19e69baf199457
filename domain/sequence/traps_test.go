package sequence_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	. "scopewright/domain/sequence"
)

// A command that comes while a button is held ends the ramp: letting the button go,
// or the end of the ramp's time, no longer stops the fade that the command runs.
func TestRamp_endsByAnotherCommand(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/hand/fade_s", "20 s")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 l1 = 100", "09:01 st 4 hold", "09:01:02 l1 = 60", "09:01:02 st 2", "09:01:04 st 4 release", "09:01:12 l1 = 30", "09:01:22 l1 = 0", "09:05 l1 = 0")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 l1 = 100", "09:01 st 4 hold", "09:01:02 st 2", "09:01:30 l1 = 0", "09:05 l1 = 0")
}

// Raise never lowers and lower never raises, whatever the limits are.
func TestRamp_neverGoesTheOtherWay(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/hand/highest", "80", "intents/hand/lowest", "30")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:00 l1 = 100", "09:01 st 3 hold", "09:01:05 l1 = 100", "09:01:05 st 3 release", "09:02 st 3", "09:02 l1 = 100")
	b = lab(domain.Vacancy, 1, "intents/hand/highest", "80", "intents/hand/lowest", "30").Link("st", 1, domain.Press, "l1", "20")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:00 l1 = 20", "09:01 st 4 hold", "09:01:05 l1 = 20", "09:01:05 st 4 release", "09:02 st 4", "09:02 l1 = 20")
}

// A ramp runs at 20 % a second (domain.DefaultRate) and for at most 10 s.
func TestRamp_rateAndLostRelease(t *testing.T) {
	b := lab(domain.Vacancy, 1)
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 st 4 hold", "09:01:01 l1 = 80", "09:01:02 st 4 release", "09:01:03 l1 = 60", "09:10 l1 = 60")
	b.Set("intents/hand/rate_pct_s", "5")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 st 4 hold", "09:01:10 l1 = 50", "09:01:20 l1 = 50", "09:01:30 st 4 release", "09:01:30 l1 = 50")
}

// The end of the emergency signal gives back what was before it: a lock that a
// contact holds goes on.
func TestEmergency_givesBackAnEarlierLock(t *testing.T) {
	b := lab(domain.Vacancy, 1).Device("cn", "cn-2").Intent("lock", domain.ByContact).Intent("em", domain.OnEmergency).
		Set("intents/lock/device", "cn", "intents/lock/command", "closed", "intents/lock/do", "lock", "intents/lock/level", "30", "intents/em/level", "100").
		Link("cn", 1, "", "l1", "ACT")
	play(t, b, "Mon 08:00", "09:00 cn closed", "09:00 l1 = 30", "09:01 emergency start", "09:01 l1 = 100", "09:02 emergency end", "09:02 l1 = 30", "09:03 st 1", "09:03 l1 = 30")
}

// A lock that comes during an emergency counts when the emergency is over.
func TestEmergency_lockDuringIt(t *testing.T) {
	b := lab(domain.Vacancy, 1).Device("cn", "cn-2").Intent("lock", domain.ByContact).Intent("free", domain.ByContact).Intent("em", domain.OnEmergency).
		Set("intents/lock/device", "cn", "intents/lock/command", "closed", "intents/lock/do", "lock", "intents/lock/level", "30",
			"intents/free/device", "cn", "intents/free/command", "open", "intents/free/do", "release", "intents/em/level", "100").
		Link("cn", 1, "", "l1", "ACT")
	play(t, b, "Mon 08:00", "09:01 emergency start", "09:01 l1 = 100", "09:01:30 cn closed", "09:01:30 l1 = 100", "09:02 emergency end", "09:02 l1 = 30", "09:03 cn open", "09:04 st 1", "09:04 l1 = 100")
	play(t, b, "Mon 08:00", "09:00 cn closed", "09:01 emergency start", "09:01:30 cn open", "09:01:30 l1 = 100", "09:02 emergency end", "09:02 l1 = 0")
}

// A schedule's off that waits for a person's claim survives a power failure.
func TestSchedule_deferredOffSurvivesPowerFailure(t *testing.T) {
	b := lab(domain.Vacancy, 0).Intent("clock", domain.BySchedule).Set("intents/clock/off_at", "22:00", "intents/clock/warning_s", "0 s", "intents/hand/hold_s", "30 min")
	play(t, b, "Mon 20:00", "21:50 st 1", "22:05 l1 = 100", "22:10 power lost", "22:11 power back", "22:30 l1 = 0")
}

// Light after a schedule's off that comes back with the power still has its end.
func TestSchedule_overrideSurvivesPowerFailure(t *testing.T) {
	b := lab(domain.Vacancy, 0).Intent("clock", domain.BySchedule).Set("intents/clock/off_at", "22:00", "intents/clock/override_s", "2 h", "intents/clock/warning_s", "0 s", "intents/hand/hold_s", "0 s")
	play(t, b, "Mon 20:00", "22:30 st 1", "23:00 power lost", "23:05 power back", "23:05 l1 = 100", "01:06 l1 = 0")
}

// Demand response that ends while the building network is gone has ended when the
// network is back; one that starts then has started.
func TestDemandResponse_catchesUp(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/people/delay_s", "4 h").Device("gw", "gw-room").Intent("dr", domain.OnDemandResponse).Set("intents/dr/level", "70", "intents/dr/fade_s", "0")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 demand response start", "09:01 l1 = 70", "09:02 network lost", "09:03 demand response end", "09:03 l1 = 70", "09:04 network back", "09:04 l1 = 100")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 network lost", "09:02 demand response start", "09:02 l1 = 100", "09:03 network back", "09:03 l1 = 70", "09:04 demand response end", "09:04 l1 = 100")
}

// A sensor that acts in the other state of the partition only does not start a
// running delay anew.
func TestPresence_sensorOfTheOtherPartitionState(t *testing.T) {
	b := lab(domain.Occupancy, 2, "intents/people/delay_s", "20 min").Link("ps2", 0, "", "l1", "ACT @open")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:00 ps2 occupied", "09:05 ps1 vacant", "09:15 ps2 vacant", "09:24:59 l1 = 100", "09:25 l1 = 0")
	play(t, b, "Mon 08:00", "09:00 ps2 occupied", "09:00 l1 = 0")
	play(t, b, "Mon 08:00", "08:30 partition opens", "09:00 ps2 occupied", "09:00 l1 = 100")
}

// An occupancy sensor lights although a vacancy sensor saw the same person first.
func TestPresence_mixedKindsInEitherOrder(t *testing.T) {
	b := lab(domain.Occupancy, 2).Set("devices/ps1/presence", "vacancy")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:00 l1 = 0")
	play(t, b, "Mon 08:00", "09:00 ps2 occupied", "09:00 ps1 occupied", "09:00 l1 = 100")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:00 ps2 occupied", "09:00 l1 = 100")
}

// A sensor that works says again what it said: a quiet empty room is no fault. One
// that falls silent counts as occupied after its watchdog time, which lights an
// occupancy room, and says so; a report mends it.
func TestPresence_watchdog(t *testing.T) {
	b := lab(domain.Occupancy, 1, "intents/people/delay_s", "20 min", "intents/people/watchdog_s", "60 min")
	play(t, b, "Mon 08:00", "08:10 ps1 occupied", "08:20 ps1 vacant", "08:40 l1 = 0", "20:00 l1 = 0")
	s := play(t, b, "Mon 08:00", "08:10 ps1 occupied", "08:20 ps1 vacant", "08:45 ps1 silent", "09:44 l1 = 0", "09:45 l1 = 100", "12:00 l1 = 100")
	assert.Contains(t, s.Why(0)[0], "09:45:00: PS-1 has not reported for its watchdog time and counts as occupied")
	play(t, b, "Mon 08:00", "08:10 ps1 occupied", "08:20 ps1 vacant", "08:45 ps1 silent", "10:00 ps1 vacant", "10:19 l1 = 100", "10:20 l1 = 0")
	b.Set("intents/people/watchdog_s", "")
	play(t, b, "Mon 08:00", "08:10 ps1 occupied", "08:20 ps1 vacant", "08:25 ps1 silent", "08:40 l1 = 0", "20:00 l1 = 0")
}

// The end of a hold of automatic events does not leave light on in an empty room.
func TestHoldAutomatic_endsInAnEmptyRoom(t *testing.T) {
	b := lab(domain.Occupancy, 1, "intents/people/delay_s", "20 min").Device("cn", "cn-2").Intent("hold", domain.ByContact).
		Set("intents/hold/device", "cn", "intents/hold/command", "closed", "intents/hold/do", "hold", "intents/hold/hold_s", "60 min").Link("cn", 1, "", "l1", "ACT")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:05 cn closed", "09:10 ps1 vacant", "09:40 l1 = 100", "10:04 l1 = 100", "10:26 l1 = 0")
}

// An empty room whose vacancy action is not for this hour is asked again: light does
// not stay on for the night because people left before it.
func TestVacant_asksAgainWhenTheConditionHolds(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/people/delay_s", "20 min", "intents/people/from", "19:00", "intents/people/until", "07:00")
	play(t, b, "Mon 08:00", "18:00 ps1 occupied", "18:00 st 1", "18:10 ps1 vacant", "18:59 l1 = 100", "19:09 l1 = 100", "19:10 l1 = 0")
	play(t, b, "Mon 08:00", "18:00 ps1 occupied", "18:00 st 1", "18:10 ps1 vacant", "18:40 ps1 occupied", "19:30 l1 = 100")
}

// An occupancy sensor does not undo what a person pressed who was there before it saw
// anybody.
func TestPresence_mixedKindsLeaveAPressAlone(t *testing.T) {
	b := lab(domain.Occupancy, 2, "intents/hand/hold_s", "0 s").Set("devices/ps1/presence", "vacancy").Link("st", 4, domain.Press, "l1", "30")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:01 st 4", "09:02 ps2 occupied", "09:02 l1 = 30", "09:03 st 2", "09:04 ps2 occupied", "09:04 l1 = 0")
}

// Raise in a fade goes on from where the light is just then.
func TestStep_inAFade(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/hand/fade_s", "10 s")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:00:05 st 3", "09:00:05 l1 = 60", "09:00:20 l1 = 60")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 st 2", "09:01:05 l1 = 50", "09:01:05 st 3 hold", "09:01:06 l1 = 70", "09:01:06 st 3 release", "09:02 l1 = 70")
}

// Each input of a contact device acts on its own loads.
func TestContact_inputsAreApart(t *testing.T) {
	b := lab(domain.Vacancy, 1).Load("l2", "a", 2).Carry("l2", "lc", 2).Device("cn", "cn-2").Intent("close", domain.ByContact).
		Set("intents/close/device", "cn", "intents/close/command", "closed", "intents/close/level", "60", "intents/close/fade_s", "0").Link("cn", 1, "", "l1", "ACT").Link("cn", 2, "", "l2", "ACT")
	s := play(t, b, "Mon 08:00", "09:00 cn closed", "09:00 l1 = 60", "09:00 l2 = 0")
	for i := range b.R.Design.Devices {
		if b.R.Design.Devices[i].ID == "cn" {
			s.Do(Event{At: s.Now() + Minute, Kind: domain.ContactClosed, Device: i, Button: 2})
		}
	}
	assert.Equal(t, 60.0, s.Output(indexOf(t, b, "l2"), s.Now()))
}

// An event that the design has no place for does nothing, and does not fall over.
func TestDo_eventsOfNoPlace(t *testing.T) {
	b := lab(domain.Vacancy, 1)
	p := Compile(b.P, &b.R.Design)
	for _, kind := range append(domain.Happenings(), "", "no such thing") {
		for _, device := range []int{-1, 0, 5, 999} {
			for _, button := range []int{-1, 0, 1, 99} {
				s := p.NewState()
				require.NotPanics(t, func() { s.Do(Event{At: Minute, Kind: kind, Device: device, Button: button}) }, "%s at device %d, button %d", kind, device, button)
			}
		}
	}
}

// Repeating an AV command does not lose what was before the first.
func TestAV_back(t *testing.T) {
	b := lab(domain.Vacancy, 1).Device("av", "av-serial").Scene("s1", "show").Set("scenes/s1/levels/l1", "20").
		Intent("show", domain.ByAV).Intent("back", domain.ByAV).Set("intents/show/command", "show", "intents/show/scene", "1", "intents/show/fade_s", "0", "intents/back/command", "back", "intents/back/do", "back", "intents/back/scene", "", "intents/back/fade_s", "0")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 av: show", "09:01 l1 = 20", "09:02 av: back", "09:02 l1 = 100")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 av: SHOW", "09:01:05 av: show", "09:02 av: back", "09:02 l1 = 100")
}

// A short press of raise brings a dark load to its lowest level (sequence.md: a
// raise from off starts there).
func TestStep_raiseFromDark(t *testing.T) {
	b := lab(domain.Vacancy, 1).Load("l2", "c", 2).Carry("l2", "lc", 2).Link("st", 3, domain.Press, "l2", "UP")
	play(t, b, "Mon 08:00", "09:00 st 3", "09:00 l1 = 10", "09:01 st 3", "09:01 l1 = 20")
}

// The cap holds under the daylight trim too: never more than the cap's share of
// what is asked for, unless the load cannot be so low.
func TestCap_underDaylight(t *testing.T) {
	b := lab(domain.Vacancy, 1, "loads/l1/zone", "window row").Intent("day", domain.ByDaylight).Intent("dr", domain.OnDemandResponse).
		Set("intents/day/target_lx", "400 lx", "intents/day/fade_s", "0", "intents/day/lowest", "40", "intents/dr/level", "50", "intents/dr/fade_s", "0")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 demand response start", "09:01 l1 = 50", "09:02 ds 200lx", "09:02 l1 = 40", "09:03 ds 4000lx", "09:03 l1 = 40", "09:04 demand response end", "09:04 l1 = 40")
	b.Link("st", 1, domain.Press, "l1", "60")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:01 demand response start", "09:01 l1 = 30", "09:03 ds 4000lx", "09:03 l1 = 30")
}

// A fade that a new command meets goes on from where it is.
func TestFade_fromWhereItIs(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/hand/fade_s", "10 s")
	play(t, b, "Mon 08:00", "09:00 st 1", "09:00:05 l1 = 50", "09:00:05 st 2", "09:00:10 l1 = 25", "09:00:15 l1 = 0")
}

// A warning in a fade ends at the level that the fade went to.
func TestWarning_endsAtWhatWasAskedFor(t *testing.T) {
	b := lab(domain.Occupancy, 1, "intents/people/delay_s", "15 min", "intents/people/warning_s", "60 s", "intents/people/warn_to", "50", "intents/people/off_level", "20")
	play(t, b, "Mon 08:00", "09:50 ps1 occupied", "10:00 ps1 vacant", "10:15 l1 = 50", "10:16 l1 = 20", "12:00 l1 = 20", "12:01 ps1 occupied", "12:01 l1 = 100")
	// A load under the level of an empty room stays where it is, dark ones dark.
	b.Set("intents/hand/hold_s", "0 s")
	play(t, b, "Mon 08:00", "09:50 ps1 occupied", "09:51 st 2", "10:00 ps1 vacant", "10:16 l1 = 0")
}

// Relight brings the last level back once, of the vacancy kind too.
func TestRelight_once(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/people/delay_s", "10 min", "intents/people/relight_s", "30 s")
	play(t, b, "Mon 08:00", "09:00 ps1 occupied", "09:00 st 1", "09:10 ps1 vacant", "09:20 l1 = 0", "09:20:20 ps1 occupied", "09:20:20 l1 = 100", "09:30 ps1 vacant", "09:40 l1 = 0", "09:40:31 ps1 occupied", "09:40:31 l1 = 0")
}

// A schedule that spares people asks again after its time, and is off at once when
// the room is empty at the asking.
func TestSchedule_sparesPeople(t *testing.T) {
	b := lab(domain.Vacancy, 1, "intents/people/delay_s", "4 h").Intent("clock", domain.BySchedule).Set("intents/clock/off_at", "22:00", "intents/clock/spares_people", "yes", "intents/clock/again_s", "30 min", "intents/clock/warning_s", "0 s", "intents/hand/hold_s", "0 s")
	play(t, b, "Mon 20:00", "21:00 ps1 occupied", "21:00 st 1", "22:00 l1 = 100", "22:29 l1 = 100", "22:31 l1 = 100", "22:40 ps1 vacant", "22:59 l1 = 100", "23:00 l1 = 0")
}

// A schedule from on to off keeps light on in an empty room; off darkens it.
func TestSchedule_onToOff(t *testing.T) {
	b := lab(domain.Occupancy, 1, "intents/people/delay_s", "20 min").Intent("clock", domain.BySchedule).Set("intents/clock/on_at", "09:00", "intents/clock/off_at", "17:00", "intents/clock/level", "80", "intents/clock/warning_s", "0 s", "intents/clock/override_s", "0 s")
	play(t, b, "Mon 08:00", "09:00 l1 = 80", "10:00 ps1 occupied", "10:00 l1 = 80", "10:10 ps1 vacant", "10:40 l1 = 80", "17:00 l1 = 0")
}

// A mode with a time goes back to what the calendar says.
func TestMode_goesBack(t *testing.T) {
	b := lab(domain.Vacancy, 1).Intent("clean", domain.OnMode).Set("intents/clean/mode", "cleaning", "intents/clean/level", "100", "intents/clean/fade_s", "0", "intents/clean/hold_s", "60 min")
	s := play(t, b, "Mon 08:00", "09:00 mode: cleaning", "09:00 l1 = 100", "09:59 l1 = 100")
	assert.Equal(t, domain.CleaningMode, s.Mode())
	s.AdvanceTo(2*Hour + Minute)
	assert.Equal(t, domain.NormalMode, s.Mode())
}

// A schedule's off without an on counts until 06:00: what is lit later has no end by it.
func TestSchedule_offCountsUntilMorning(t *testing.T) {
	b := lab(domain.Vacancy, 0).Intent("clock", domain.BySchedule).Set("intents/clock/off_at", "22:00", "intents/clock/override_s", "2 h", "intents/clock/warning_s", "0 s", "intents/hand/hold_s", "0 s")
	play(t, b, "Mon 20:00", "22:30 st 2", "05:59 st 1", "07:58 l1 = 100", "07:59 l1 = 0")
	play(t, b, "Mon 20:00", "22:30 st 2", "06:00 st 1", "12:00 l1 = 100", "21:59 l1 = 100", "22:00 l1 = 0")
}

// A schedule's time that summer time leaves out or doubles happens once.
func TestSchedule_summerTime(t *testing.T) {
	b := lab(domain.Vacancy, 0, "intents/hand/hold_s", "0 s").Intent("clock", domain.BySchedule).Set("intents/clock/off_at", "02:30", "intents/clock/warning_s", "0 s", "intents/clock/override_s", "0 s")
	b.P.Zone = "America/New_York"
	p := Compile(b.P, &b.R.Design)
	for _, c := range []struct {
		day         string
		after, once Time
	}{
		{"2026-03-08", 1*Hour + 59*Minute, 3 * Hour}, // clocks go from 02:00 to 03:00
		{"2026-11-01", 2 * Hour, 5 * Hour},           // clocks go back from 02:00 to 01:00; 02:30 comes once
		{"2026-06-01", 2*Hour + 29*Minute, 3 * Hour},
	} {
		s := p.NewState()
		require.NoError(t, s.Begin(Start{Day: c.day, Clock: "00:00"}))
		offs := 0
		s.Watch = func(ch Change) {
			if ch.To == 0 {
				offs++
			}
		}
		s.Do(Event{At: Minute, Kind: domain.Pressed, Device: indexOfDevice(b.R.Design, "st"), Button: 1})
		s.AdvanceTo(c.after)
		assert.Zero(t, offs, c.day)
		s.AdvanceTo(c.once)
		assert.Equal(t, 1, offs, c.day)
	}
}

func indexOfDevice(d domain.Design, id domain.ID) int {
	for i := range d.Devices {
		if d.Devices[i].ID == id {
			return i
		}
	}
	return -1
}
