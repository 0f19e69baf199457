package energycode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

// clocked is a room that goes off at 22:00 only.
func clocked(override units.Seconds) *energycode.Facts {
	f := classroom()
	f.Loads[0].Vacant = nil
	f.Loads[0].Off = []energycode.Shutoff{{When: "22:00 (Mon-Sun)", Override: override, By: "schedule intent 2"}}
	return f
}

func TestScheduledShutoff_override(t *testing.T) {
	// 9.4.1.1(i), 2 h, from memory; California 130.1(c)3B, 2 h (form in a permit record).
	for override, want := range map[units.Seconds]energycode.Verdict{7199: meets, 7200: meets, 7201: not, 0: not} {
		for _, id := range []string{old, code21, code18} {
			a := answerOf(t, energycode.Judge(pack(t, id), hall, clocked(override)), byClock(id))
			assert.Equal(t, want, a.Verdict, "%s %g: %s", id, override, a.Sentence())
		}
		a := answerOf(t, energycode.Judge(pack(t, calif), hall, clocked(override)), energycode.ShutoffAny)
		assert.Equal(t, want, a.Verdict, "%g: %s", override, a.Sentence())
	}
	a := answerOf(t, energycode.Judge(pack(t, code21), hall, clocked(0)), energycode.ScheduledShutoff)
	assert.Contains(t, a.Sentence(), "brings it back for good")
	a = answerOf(t, energycode.Judge(pack(t, code21), hall, clocked(7260)), energycode.ScheduledShutoff)
	assert.Contains(t, a.Sentence(), "for 121 min, limit 2 h, 1 min over")
}

// byClock names the answer of a code: 90.1 puts both ways into one group.
func byClock(id string) energycode.Control {
	if id == old {
		return energycode.FullOff
	}
	return energycode.ScheduledShutoff
}

func TestScheduledShutoff_orSensors(t *testing.T) {
	for _, l := range []limit{
		{"sensors instead of the clock", code21, hall, energycode.ScheduledShutoff, nil, meets, "Automatic off when empty instead"},
		{"sensors too late", code21, hall, energycode.ScheduledShutoff, after(1201), not, "nothing turns it off by the clock"},
		{"sensors in doubt", code21, hall, energycode.ScheduledShutoff, func(f *energycode.Facts) { f.Loads[0].Vacant[0].Doubt = "only at night" }, open, "only at night"},
		{"neither", old, hall, energycode.FullOff, func(f *energycode.Facts) { f.Loads[0].Vacant = nil }, not, "State a schedule with an off"},
		{"sensors", old, hall, energycode.FullOff, nil, meets, ""},
		{"sensors, California", calif, hall, energycode.ShutoffAny, nil, meets, ""},
		{"neither, California", calif, hall, energycode.ShutoffAny, func(f *energycode.Facts) { f.Loads[0].Vacant = nil }, not, ""},
		{"in doubt, California", calif, hall, energycode.ShutoffAny, func(f *energycode.Facts) { f.Loads[0].Vacant[0].Doubt = "only at night" }, open, ""},
		{"a workshop classroom of 90.1-2022 must have the clock", fresh, "shop_classroom", energycode.ScheduledShutoff, nil, not, ""},
	} {
		l.run(t, classroom())
	}
}

func TestScheduledShutoff_areas(t *testing.T) {
	timed := func(area float64) *energycode.Facts {
		f := big(area)
		for i := range f.Loads {
			f.Loads[i].Off = []energycode.Shutoff{{When: "22:00", Override: 7200, By: "schedule intent 2"}}
		}
		return f
	}
	p := pack(t, fresh)
	// 9.4.1.1(i): 5,000 ft2 for each override, 25,000 ft2 for each schedule, from memory.
	for area, want := range map[float64]energycode.Verdict{9999: meets, 10000: meets, 10001: not} {
		assert.Equal(t, want, answerOf(t, energycode.Judge(p, "shop_classroom", timed(area)), energycode.ScheduledShutoff).Verdict, area)
	}
	six := timed(25000)
	six.Handles[0].Area, six.Handles[1].Area = 5000*ft2, 5000*ft2
	assert.Equal(t, meets, answerOf(t, energycode.Judge(p, "shop_classroom", six), energycode.ScheduledShutoff).Verdict)
	six.Area = 25001 * ft2
	a := answerOf(t, energycode.Judge(p, "shop_classroom", six), energycode.ScheduledShutoff)
	assert.Equal(t, open, a.Verdict)
	assert.Contains(t, a.Sentence(), "divided between schedules")
}

func TestScheduledShutoff_bestOfSeveral(t *testing.T) {
	f := clocked(0)
	f.Loads[0].Off = append(f.Loads[0].Off, energycode.Shutoff{When: "23:00", Override: 9000, By: "schedule intent 3"}, energycode.Shutoff{When: "23:30", Override: 3600, By: "schedule intent 4"},
		energycode.Shutoff{When: "23:40", Override: 600, By: "schedule intent 5", Doubt: "only in mode event"})
	a := answerOf(t, energycode.Judge(pack(t, code21), hall, f), energycode.ScheduledShutoff)
	assert.Equal(t, meets, a.Verdict)
	assert.Contains(t, a.Provided, "23:30")
}

func TestReceptacles_shareAndDelay(t *testing.T) {
	for _, l := range []limit{
		// 90.1 8.4.2, half, 20 min, from memory; IECC 2021 C405.11, half (quoted).
		{"6 of 11", old, class, energycode.Receptacles, nil, meets, "6 of 11 controlled"},
		{"5 of 11", old, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles.Controlled = 5 }, not, "5 of 11 receptacles are controlled, 6 needed: 1 more."},
		{"7 of 11", code21, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles.Controlled = 7 }, meets, ""},
		{"a second late", old, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles.Off[0].After = 1201 }, not, "1 s over"},
		{"late but by the clock", old, class, energycode.Receptacles, func(f *energycode.Facts) {
			f.Receptacles.Off[0].After = 1201
			f.Receptacles.Scheduled = []energycode.Shutoff{{When: "22:00", By: "schedule intent 3"}}
		}, meets, ""},
		{"total unknown", old, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles.Total = 0 }, open, "how many receptacles the room has"},
		{"count unknown", old, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles.Controlled = 0 }, open, "how many receptacles are on the controlled circuits"},
		{"none controlled", old, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles = energycode.Outlets{Known: true} }, not, "No receptacle is controlled"},
		{"nothing known", old, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles = energycode.Outlets{} }, open, "which receptacles are controlled"},
		{"one without a way off", old, class, energycode.Receptacles, func(f *energycode.Facts) { f.Receptacles.Uncontrol = []string{"R2"} }, not, "R2: nothing turns it off"},
		{"IECC 2018 asks for none", code18, class, energycode.Receptacles, nil, none, ""},
		{"California asks for pairs", calif, "conference_meeting", energycode.Receptacles, nil, open, "within 6 ft"},
	} {
		l.run(t, classroom())
	}
}

func TestGuestRoom_delay(t *testing.T) {
	// 9.4.1.3(b) 20 min; California 130.1(c)8 30 min; both from memory.
	for id, most := range map[string]units.Seconds{old: 1200, calif: 1800} {
		f := classroom()
		after(most)(f)
		a := answerOf(t, energycode.Judge(pack(t, id), "guestroom", f), energycode.GuestRoom)
		assert.Equal(t, open, a.Verdict, "the bathroom has a delay of its own")
		after(most + 1)(f)
		assert.Equal(t, not, answerOf(t, energycode.Judge(pack(t, id), "guestroom", f), energycode.GuestRoom).Verdict)
	}
}

func TestParkingGarage_zones(t *testing.T) {
	// IECC 2021 C405.2.8: 30 % within 20 min, zones of 3,600 ft2, from memory.
	for area, want := range map[float64]energycode.Verdict{7199: meets, 7200: meets, 7201: not} {
		assert.Equal(t, want, answerOf(t, energycode.Judge(pack(t, code21), "parking_garage", big(area)), energycode.ParkingGarage).Verdict, area)
	}
	for level, want := range map[units.Level]energycode.Verdict{69: meets, 70: meets, 71: not} {
		f := big(3000)
		f.Loads[0].Vacant[0].Level = level
		assert.Equal(t, want, answerOf(t, energycode.Judge(pack(t, code21), "parking_garage", f), energycode.ParkingGarage).Verdict, level)
	}
	a := answerOf(t, energycode.Judge(pack(t, fresh), "parking_garage", big(3000)), energycode.ParkingGarage)
	assert.Equal(t, open, a.Verdict, "no figure of 90.1-2022 was seen or recalled")
	assert.True(t, a.Open)
}
