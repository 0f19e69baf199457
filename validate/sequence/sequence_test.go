package sequence

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// Facts of the trade in these tests are common practice without a published
// source, where nothing else is named.

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

func TestModeNoEnd_eachWayToEnd(t *testing.T) {
	assert.Len(t, found(&ModeNoEnd, eventByCommand("")), 1)
	assert.Empty(t, found(&ModeNoEnd, eventByCommand("1 s")))
	assert.Empty(t, found(&ModeNoEnd, eventByCommand("").Set("intents/for-w1/mode", "normal")), "the normal mode needs no end")
	assert.Empty(t, found(&ModeNoEnd, eventByCommand("").Set("intents/for-w1/do", "")), "it sets no mode")
	back := eventByCommand("").Do(edit.AddIntent{ID: "back", Kind: domain.ByAV}).Set("intents/back/do", "mode", "intents/back/mode", "normal")
	assert.Empty(t, found(&ModeNoEnd, back))
	limited := eventByCommand("").Do(edit.AddIntent{ID: "m", Kind: domain.OnMode}).Set("intents/m/mode", "event")
	assert.Len(t, found(&ModeNoEnd, limited), 1)
	assert.Empty(t, found(&ModeNoEnd, limited.Set("intents/m/hold_s", "2 h")))
	dated := eventByCommand("")
	dated.P.Calendar = []string{"Mon 06:00 event"}
	assert.Len(t, found(&ModeNoEnd, dated), 1, "the calendar sets the same mode again")
	dated.P.Calendar = append(dated.P.Calendar, "Mon 07:00 normal")
	assert.Empty(t, found(&ModeNoEnd, dated))
	clock := domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/on_at", "20:00", "intents/clock/do", "mode", "intents/clock/mode", "cleaning")
	require.Len(t, found(&ModeNoEnd, clock), 1)
	assert.Nil(t, found(&ModeNoEnd, clock)[0].Fix, "a schedule has no time limit of its own")
}

func TestModeUnreached(t *testing.T) {
	b := cleaned()
	assert.Len(t, found(&ModeUnreached, b), 1)
	assert.Empty(t, found(&ModeUnreached, b.Set("intents/clean/mode", "normal")))
	b.Set("intents/clean/mode", "event").Working(1, "av-serial").Set("intents/for-w1/do", "mode", "intents/for-w1/mode", "event")
	assert.Empty(t, found(&ModeUnreached, b), "a command sets it")
}

func TestOverrideEndless(t *testing.T) {
	assert.Len(t, found(&OverrideEndless, unsensedBoard("")), 1)
	assert.Empty(t, found(&OverrideEndless, unsensedBoard("1 s")))
	assert.Empty(t, found(&OverrideEndless, unsensedBoard("").Set("intents/clock/loads", "L1, L2")), "a sensor turns them off")
	assert.Len(t, found(&OverrideEndless, unsensedBoard("").Set("intents/clock/loads", "L1, L2", "intents/i2/off_level", "20")), 1, "it only lowers them")
	dead := unsensedBoard("")
	for n := 1; n <= 3; n++ {
		dead.Link("st", n, domain.Press, "l4", "-")
	}
	assert.Empty(t, found(&OverrideEndless, dead), "no button lights it")
	assert.Contains(t, found(&OverrideEndless, unsensedBoard(""))[0].Message, "at most 2 h", "the limit of the project")
}

func TestFadeOverDelay_atTheLimit(t *testing.T) {
	for _, c := range []struct {
		fade, delay, own string
		want             int
	}{{"59 s", "60 s", "", 0}, {"60 s", "60 s", "", 0}, {"61 s", "60 s", "", 1}, {"61 s", "30 s", "2 min", 0}, {"61 s", "20 min", "60 s", 1}, {"10 min", "", "", 0}} {
		b := domaintest.Classroom().Set("intents/i2/fade_s", c.fade, "intents/i2/delay_s", c.delay, "devices/ps/delay_s", c.own)
		assert.Len(t, found(&FadeOverDelay, b), c.want, "%+v", c)
	}
}

func TestWarningOnSwitched(t *testing.T) {
	assert.Len(t, found(&WarningOnSwitched, stripRoom("1 s")), 1)
	assert.Empty(t, found(&WarningOnSwitched, stripRoom("")))
	assert.Empty(t, found(&WarningOnSwitched, domaintest.Classroom()), "its loads are dimmed")
	mixed := stripRoom("1 min").Load("l2", "a", 1)
	assert.Empty(t, found(&WarningOnSwitched, mixed), "one of them shows it")
	clock := stripRoom("").Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule})
	assert.Len(t, found(&WarningOnSwitched, clock), 1, "a schedule warns before it turns off")
	assert.Empty(t, found(&WarningOnSwitched, clock.Set("intents/clock/off_at", "")))
}

// Luminaire type A dims to 10 %.
func TestWarningUnseen_atTheLimit(t *testing.T) {
	for _, c := range []struct {
		dip, entry string
		want       int
	}{{"89", "100", 0}, {"90", "100", 0}, {"91", "100", 1}, {"50", "100", 0}, {"50", "12", 0}, {"50", "11", 1}, {"0", "10", 1}} {
		b := entered(c.entry).Set("intents/i2/warn_to", c.dip)
		assert.Len(t, found(&WarningUnseen, b), c.want, "%+v", c)
	}
	assert.Empty(t, found(&WarningUnseen, entered("100").Set("intents/i2/warn_to", "99", "intents/i2/warning_s", "")), "it does not warn")
}

func TestScheduleHoliday(t *testing.T) {
	for days, want := range map[string]int{"Mon-Fri": 1, "Mon-Sun": 0, "": 0, "Mon-Fri not holidays": 0, "Sat and holidays": 0, "holidays": 0, "Mon-Sat": 1} {
		assert.Len(t, found(&ScheduleHoliday, workdays(days)), want, days)
	}
	b := workdays("Mon-Fri")
	b.P.Holidays = nil
	assert.Empty(t, found(&ScheduleHoliday, b), "the project has no holidays")
}

func TestSunPlace_needsAllThree(t *testing.T) {
	b := atSunset()
	north, east := 0.0, 0.0
	b.P.Latitude, b.P.Longitude = &north, &east
	require.Len(t, found(&SunPlace, b), 1)
	assert.Contains(t, found(&SunPlace, b)[0].Message, "the project states no time zone:")
	b.P.Zone = "UTC"
	assert.Empty(t, found(&SunPlace, b), "0 N 0 E is a place")
	b.P.Longitude = nil
	require.Len(t, found(&SunPlace, b), 1)
	assert.Contains(t, found(&SunPlace, b)[0].Message, "no latitude and longitude:")
	assert.Empty(t, found(&SunPlace, b.Set("intents/clock/off_at", "22:00")))
	assert.Len(t, found(&SunPlace, b.Set("intents/i1/from", "sunrise")), 1, "in a condition too")
}

func TestDemand(t *testing.T) {
	for level, want := range map[string]int{"0": 1, "1": 0, "80": 0, "99": 0, "100": 1} {
		assert.Len(t, found(&DemandLevel, shed(level)), want, level)
	}
	assert.Empty(t, found(&DemandEgress, wayOut()))
	assert.Empty(t, found(&DemandEgress, wayOut().Set("intents/shed/loads", "L1, L2")))
	only := found(&DemandEgress, wayOut().Set("intents/shed/loads", "L4"))
	require.Len(t, only, 1)
	assert.IsType(t, edit.Remove{}, only[0].Fix.Edits[0], "without its load it would come to mean all")
}

func TestEntry(t *testing.T) {
	assert.Len(t, found(&EntryDark, entered("0")), 1)
	assert.Empty(t, found(&EntryDark, entered("1")))
	assert.Empty(t, found(&EntryDark, entered("0").Set("intents/i2/scene", "1")))
	assert.Empty(t, found(&EntryDark, entered("0").Set("devices/ps/presence", "vacancy")), "another rule speaks of that")
	assert.Len(t, found(&EntryByVacancy, entered("100").Set("devices/ps/presence", "vacancy")), 1)
	assert.Empty(t, found(&EntryByVacancy, entered("100").Working(1, "ps-ceiling").Set("devices/w1/presence", "vacancy")), "one of them lights")
	assert.Empty(t, found(&EntryByVacancy, domaintest.Room().Load("l1", "a", 1).Intent("i", domain.ByPresence)), "no sensor acts yet")
}

func TestPartition(t *testing.T) {
	assert.Empty(t, found(&PartitionStuck, domaintest.Classroom()))
	alone := domaintest.Classroom().Link("st", 1, domain.Press, "l1", "SC1 @closed")
	assert.Contains(t, found(&PartitionStuck, alone)[0].Message, "nothing opens or closes it")
	assert.Contains(t, found(&PartitionStuck, halves(domain.PartitionJoins))[0].Message, "nothing closes it again")
	assert.Contains(t, found(&PartitionStuck, halves(domain.PartitionParts))[0].Message, "nothing opens it")
	assert.Empty(t, found(&PartitionStuck, halves(domain.PartitionJoins, domain.PartitionParts)))
	both := halves(domain.PartitionJoins, domain.PartitionParts)
	assert.Empty(t, found(&PartitionUnused, both))
	assert.Len(t, found(&PartitionUnused, both.Link("st", 1, domain.Press, "l1", "SC1")), 1)
	assert.Empty(t, found(&PartitionUnused, both.Set("intents/i1/partition", "open")))
}

func TestConditions(t *testing.T) {
	for _, c := range []struct {
		what        string
		set         []string
		never, idle int
	}{
		{"none", nil, 0, 0},
		{"a mode that never comes", []string{"modes", "event"}, 1, 0},
		{"unless a mode that never comes", []string{"modes", "event", "unless", "yes"}, 0, 1},
		{"the only mode there is", []string{"modes", "normal"}, 0, 1},
		{"unless the only mode there is", []string{"modes", "normal", "unless", "yes"}, 1, 0},
		{"one of two", []string{"modes", "event, normal"}, 0, 1},
		{"a window", []string{"from", "22:00", "until", "06:00"}, 0, 0},
		{"half a window", []string{"from", "22:00"}, 0, 0},
		{"no window", []string{"from", "22:00", "until", "22:00"}, 1, 0},
		{"dark and bright", []string{"darker_than_lx", "300 lx", "brighter_than_lx", "301 lx"}, 1, 0},
		{"a band", []string{"darker_than_lx", "300 lx", "brighter_than_lx", "299 lx"}, 0, 0},
		{"people in, for what people leaving does", []string{"people", "occupied"}, 1, 0},
		{"people gone, for what people leaving does", []string{"people", "vacant"}, 0, 1},
		{"two parts, one of them idle", []string{"people", "vacant", "from", "22:00"}, 0, 0},
	} {
		b := domaintest.Classroom()
		for i := 0; i < len(c.set); i += 2 {
			b.Set("intents/i2/"+c.set[i], c.set[i+1])
		}
		assert.Len(t, found(&ConditionNever, b), c.never, c.what)
		assert.Len(t, found(&ConditionIdle, b), c.idle, c.what)
	}
	blind := domaintest.Classroom().Do(edit.Remove{Part: "devices", ID: "ds"})
	assert.Len(t, found(&ConditionNever, blind.Set("intents/i2/brighter_than_lx", "100 lx")), 1, "nothing tells it")
	assert.Len(t, found(&ConditionIdle, blind.Set("intents/i2/brighter_than_lx", "", "intents/i2/darker_than_lx", "100 lx")), 1, "counts as dark")
}

func TestLockNoEnd(t *testing.T) {
	lock := domaintest.Classroom().Working(1, "cn-2").Set("intents/for-w1/do", "lock")
	require.Len(t, found(&LockNoEnd, lock), 1)
	assert.Nil(t, found(&LockNoEnd, lock)[0].Fix)
	assert.Empty(t, found(&LockNoEnd, lock.Intent("end", domain.ByContact).Set("intents/end/device", "w1", "intents/end/command", "open")), "the contact's other state ends it")
	assert.Len(t, found(&LockNoEnd, examKey("")), 1)
	assert.Empty(t, found(&LockNoEnd, examKey("1 s")))
	assert.Empty(t, found(&LockNoEnd, domaintest.Classroom().Working(1, "cn-2")), "going to a level locks nothing")
}

func TestSchedules(t *testing.T) {
	assert.Len(t, found(&ScheduleOverPeople, curfew("")), 1)
	assert.Empty(t, found(&ScheduleOverPeople, curfew("1 s")))
	assert.Empty(t, found(&ScheduleOverPeople, curfew("").Set("intents/clock/spares_people", "yes")))
	assert.Empty(t, found(&ScheduleOverPeople, unsensedBoard("").Set("intents/clock/warning_s", "")), "no sensor knows")
	assert.Len(t, found(&ScheduleLightsVacancy, mornings("10")), 1)
	assert.Empty(t, found(&ScheduleLightsVacancy, mornings("0")))
	assert.Empty(t, found(&ScheduleLightsVacancy, mornings("10").Set("devices/ps/presence", "occupancy")))
	assert.Len(t, found(&ScheduleLightsVacancy, mornings("0").Set("intents/clock/scene", "2")), 1, "a scene lights some of them")
	assert.Empty(t, found(&ScheduleLightsVacancy, mornings("10").Set("intents/clock/do", "mode")))
	for _, c := range []struct {
		on, off, do string
		want        int
	}{{"", "", "", 1}, {"07:00", "", "", 0}, {"", "22:00", "", 0}, {"21:59", "22:00", "", 0}, {"22:00", "22:00", "", 1}, {"", "22:00", "mode", 1}, {"22:00", "22:00", "mode", 0}} {
		b := domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/on_at", c.on, "intents/clock/off_at", c.off, "intents/clock/do", c.do)
		assert.Len(t, found(&ScheduleNoTime, b), c.want, "%+v", c)
	}
}

func TestSilentSensorAndNetworkLoss(t *testing.T) {
	assert.Len(t, found(&SilentSensor, restroom("")), 1)
	assert.Empty(t, found(&SilentSensor, restroom("1 min")))
	assert.Empty(t, found(&SilentSensor, restroom("").Set("intents/i1/off_level", "20")), "it is never dark")
	assert.Empty(t, found(&SilentSensor, restroom("").Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", "100")), "a button lights it")
	assert.Empty(t, found(&SilentSensor, restroom("").Device("ps2", "ps-highbay").Link("ps2", 0, "", "l1", "ACT")), "one of its sensors has no battery")
	assert.Empty(t, found(&SilentSensor, stripRoom("")), "a wall-box switch lights it")
	open := unsensedBoard("2 h").Do(edit.Remove{Part: "intents", ID: "lost"})
	assert.Len(t, found(&NetworkLoss, open), 1)
	assert.Empty(t, found(&NetworkLoss, open.Do(edit.Remove{Part: "devices", ID: "gw"})), "its schedule is its own")
	assert.Empty(t, found(&NetworkLoss, curfew("1 s")), "a sensor turns them off")
}
