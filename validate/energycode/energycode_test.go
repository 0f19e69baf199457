package energycode

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

func all() []*rule.Rule {
	return []*rule.Rule{&LocalControl, &OneOfA, &Bilevel, &LightReduction, &Multilevel, &DaylightSide, &DaylightTop, &SmallZones, &PartialOff, &FullOff,
		&ScheduledShutoff, &OneOfB, &ShutoffAny, &Receptacles, &SeparateControl, &GuestRoom, &ParkingGarage, &PowerDensity, &SpaceType}
}

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

// One below, at and one above each figure. The figures are those of the packs, which
// stand with clause and mark in the reference on energy codes: 20 min, 30 %, 50 %, 2 h
// and 150 W of ASHRAE 90.1-2019 9.4.1.1 and IECC C405.2.
func TestFigures_oneBelowAtAndOneAbove(t *testing.T) {
	for _, c := range []struct {
		name string
		rule *rule.Rule
		room *domaintest.Builder
		want int
	}{
		{"19:59", &FullOff, emptied("18 min 57 s"), 0},
		{"20:00", &FullOff, emptied("18 min 58 s"), 0},
		{"20:01", &FullOff, emptied("18 min 59 s"), 1},
		{"50 % on entry", &OneOfA, occupied("50"), 0},
		{"49 % on entry", &OneOfA, occupied("49"), 0},
		{"51 % on entry", &OneOfA, occupied("51"), 1},
		{"29 % step", &Bilevel, levelled("29"), 1},
		{"30 % step", &Bilevel, levelled("30"), 0},
		{"70 % step", &Bilevel, levelled("70"), 0},
		{"71 % step", &Bilevel, levelled("71"), 1},
		{"49 % left", &PartialOff, corridor("49"), 0},
		{"50 % left", &PartialOff, corridor("50"), 0},
		{"51 % left", &PartialOff, corridor("51"), 1},
		{"override of 119 min", &ScheduledShutoff, scheduled("119 min"), 0},
		{"override of 120 min", &ScheduledShutoff, scheduled("120 min"), 0},
		{"override of 121 min", &ScheduledShutoff, scheduled("121 min"), 1},
		{"no override", &ScheduledShutoff, scheduled(""), 1},
		{"receptacles 19:59", &Receptacles, outletsAfter("19 min 59 s"), 0},
		{"receptacles 20:00", &Receptacles, outletsAfter("20 min"), 0},
		{"receptacles 20:01", &Receptacles, outletsAfter("20 min 1 s"), 1},
		{"5 of 11 receptacles", &Receptacles, classroom().Set("loads/r1/count", "5"), 1},
		{"6 of 11 receptacles", &Receptacles, classroom().Set("loads/r1/count", "6"), 0},
		{"5 of 10 receptacles", &Receptacles, classroom().Set("loads/r1/count", "5", "facts/receptacles", "10"), 0},
		{"90.1: 149.9 W at the windows", &DaylightSide, sidelitBy(149.9/3, "no"), 0},
		{"90.1: 150 W", &DaylightSide, sidelitBy(50, "no"), 1},
		{"90.1: 150.1 W", &DaylightSide, sidelitBy(150.1/3, "no"), 1},
		{"IECC: 150 W", &DaylightSide, judged(sidelitBy(50, "no"), iecc2021, "classroom_lecture_training"), 0},
		{"IECC: 150.1 W", &DaylightSide, judged(sidelitBy(150.1/3, "no"), iecc2021, "classroom_lecture_training"), 1},
		{"2,499 ft2 under one button", &LocalControl, large("2499 ft2"), 0},
		{"2,500 ft2", &LocalControl, large("2500 ft2"), 0},
		{"2,501 ft2", &LocalControl, large("2501 ft2"), 1},
		{"4,999 ft2 under one sensor", &FullOff, large("4999 ft2"), 0},
		{"5,000 ft2", &FullOff, large("5000 ft2"), 0},
		{"5,001 ft2", &FullOff, large("5001 ft2"), 1},
		{"599 ft2 in a zone", &SmallZones, openOffice("599 ft2"), 0},
		{"600 ft2", &SmallZones, openOffice("600 ft2"), 0},
		{"601 ft2", &SmallZones, openOffice("601 ft2"), 1},
		{"garage 9:59", &ParkingGarage, garage("8 min 57 s"), 0},
		{"garage 10:00", &ParkingGarage, garage("8 min 58 s"), 0},
		{"garage 10:01", &ParkingGarage, garage("8 min 59 s"), 1},
		{"library 49 %", &LightReduction, library("49"), 0},
		{"library 50 %", &LightReduction, library("50"), 0},
		{"library 51 %", &LightReduction, library("51"), 1},
		{"0.71 W/ft2", &PowerDensity, dense(0.71), 0},
		{"0.709 W/ft2", &PowerDensity, dense(0.709), 0},
		{"0.711 W/ft2", &PowerDensity, dense(0.711), 1},
	} {
		assert.Len(t, found(c.rule, c.room), c.want, c.name)
	}
}

// large is the classroom with an area, lit by one set of controls.
func large(area string) *domaintest.Builder { return classroom().Set("facts/area_m2", area) }

// dense is the classroom of 7 luminaires of 38 W with a lighting power density in W/ft2.
func dense(wattsFt2 float64) *domaintest.Builder {
	b := classroom()
	b.R.Area = units.SquareMetres(7 * 38 / wattsFt2 * units.SquareMetresPerSquareFoot)
	return b
}

func TestRules_quietWithoutCodeOrLights(t *testing.T) {
	for _, r := range all() {
		b := r.Fires()
		b.P.CodePack = ""
		assert.Empty(t, found(r, b), "%s: no code is chosen", r.ID)
		b.P.CodePack = "no such code"
		assert.Empty(t, found(r, b), "%s: the code is not known", r.ID)
		bare := domaintest.Room().Receptacle("r1")
		bare.P.CodePack = ashrae2019
		assert.Empty(t, found(r, bare), "%s: the room has no lights yet", r.ID)
	}
}

// What does not meet a check is a warning with a way out; what cannot be told, a note.
func TestFindings_severityFixAndBasis(t *testing.T) {
	for _, r := range all() {
		f := found(r, r.Fires())
		require.NotEmpty(t, f, r.ID)
		if r.Severity == rule.Info {
			continue
		}
		if r != &SmallZones { // how to cut a room into zones is a person's to say
			assert.NotNil(t, f[0].Fix, r.ID)
		}
		assert.NotEqual(t, rule.Info, f[0].Severity, r.ID)
		assert.Regexp(t, `\((ASHRAE 90\.1|IECC|California).*(9\.4\.1|8\.4\.2|C405|130\.).*(from memory|seen in).*confirm against the adopted text\)$`, f[0].Message, r.ID)
		assert.NotContains(t, f[0].Message, "complies")
	}
	f := found(&FullOff, emptied("18 min 59 s"))[0]
	assert.True(t, f.Numbers)
	assert.InDelta(t, 20+1.0/60, f.Measured, 1e-9)
	assert.InDelta(t, 20, f.Limit, 0)
	assert.Equal(t, "min", f.Unit)
	assert.Equal(t, []rule.Subject{{Part: "loads", ID: "l1", Tag: "L1"}, {Part: "loads", ID: "l2", Tag: "L2"}, {Part: "loads", ID: "l3", Tag: "L3"}, {Part: "loads", ID: "l4", Tag: "L4"}}, f.Subjects)
}

// Light on the way out is not darkened by a click: the finding says so instead.
func TestFixes_leaveTheWayOutAlone(t *testing.T) {
	b := emptied("18 min 59 s").Set("loads/l2/egress", "yes")
	f := found(&FullOff, b)
	require.Len(t, f, 1)
	assert.Nil(t, f[0].Fix)

	b = emptied("15 min").Set("loads/l2/egress", "yes")
	assert.Empty(t, found(&FullOff, b))
	b = judged(emptied("15 min").Set("loads/l2/egress", "yes", "intents/i2/off_level", "30"), iecc2021, "classroom_lecture_training")
	f = found(&FullOff, b)
	require.Len(t, f, 1)
	assert.Contains(t, f[0].Message, "Life-safety rules come before energy rules")
	assert.Nil(t, f[0].Fix)
}

// What the code leaves open, and what no design of a room can say, is no finding: a
// blank in the data, where receptacles are, what moves a contact.
func TestFindings_onlyWhatTheRoomCanMend(t *testing.T) {
	for _, b := range []*domaintest.Builder{
		judged(classroom().Set("loads/l1/count", "1", "loads/l2/count", "1", "loads/l3/count", "1"), ashrae2022, "storage_lt_50ft2"),
		judged(ramped("UP"), california, "classroom_lecture_training"),
		classroom().Working(1, "cn-2"),
		judged(guests("10 min"), ashrae2019, "guestroom"),
	} {
		for _, r := range all() {
			for _, f := range found(r, b) {
				t.Errorf("%s: %s", r.ID, f.Message)
			}
		}
	}
}

func TestCannotTell_saysWhatIsMissing(t *testing.T) {
	assert.Empty(t, found(&FullOff, classroom().Set("facts/area_m2", "")), "one rule asks for the area, and not each")
	f := found(&PowerDensity, classroom().Set("facts/area_m2", ""))
	require.Len(t, f, 1)
	assert.Equal(t, rule.Info, f[0].Severity)
	assert.Contains(t, f[0].Message, "cannot tell. To be known first: the room's area.")
	assert.Nil(t, f[0].Fix)

	f = found(&DaylightSide, classroom().Set("loads/l3/count", "4", "intents/i3/may_off", "no"))
	require.Len(t, f, 1)
	assert.Equal(t, rule.Info, f[0].Severity, "its glazing may be too small to count")
	assert.Contains(t, f[0].Message, "the glazing area of the windows")
	assert.Contains(t, f[0].Message, "Where it is asked: L3: never off in daylight")
	assert.False(t, f[0].Numbers)
}

func TestSpaceType(t *testing.T) {
	f := found(&SpaceType, classroom().Set("facts/space_type", ""))
	require.Len(t, f, 1)
	assert.Equal(t, "Confirm: classroom, lecture, training", f[0].Fix.Title)
	f = found(&SpaceType, classroom().Set("facts/space_type", "", "facts/use", ""))
	require.Len(t, f, 1)
	assert.Nil(t, f[0].Fix)
	assert.Contains(t, f[0].Message, "The room states no use: choose the kind of space.")
	b := classroom().Set("facts/space_type", "")
	b.R.Typical = &domain.Typical{ID: "t", Space: "classroom_lecture_training"}
	assert.Empty(t, found(&SpaceType, b), "confirmed for the typical")
}

// The exceptions that codes name begin a waiver's reason, each with its clause and how
// it is known (reference on energy codes, section 2).
func TestExceptions(t *testing.T) {
	assert.Contains(t, strings.Join(FullOff.Excepts, "\n"), "Patient care is given here (ASHRAE 90.1-2022, 9.4.1.1(h)")
	assert.Contains(t, strings.Join(OneOfB.Excepts, "\n"), "Emergency egress lighting that is normally off (IECC 2021, C405.2: seen)")
	assert.Empty(t, Bilevel.Excepts)
	for _, e := range exceptions {
		assert.Regexp(t, `\(.*\d.*: (seen|from memory)\)$`, e.words)
		assert.NotEmpty(t, e.from)
	}
	for _, r := range all() {
		for _, c := range r.Claims {
			assert.True(t, c.Known(), r.ID)
		}
	}
}

// Fixes beyond those of the examples: nothing senses people, nothing answers daylight,
// sensors with delays of their own, no schedule, receptacles that nothing turns off.
func TestFixes_ofEachKind(t *testing.T) {
	bare := func() *domaintest.Builder {
		return classroom().Do(edit.Remove{Part: "devices", ID: "ps"}, edit.Remove{Part: "intents", ID: "i2"}, edit.Remove{Part: "intents", ID: "i4"})
	}
	dark := classroom().Set("loads/l3/zone", "under rooflight", "loads/l3/count", "4").Do(edit.Remove{Part: "devices", ID: "ds"}, edit.Remove{Part: "intents", ID: "i3"})
	for _, c := range []struct {
		name string
		rule *rule.Rule
		room *domaintest.Builder
		says string
	}{
		{"no sensor", &FullOff, bare(), "Add a presence sensor, add a presence intent for L1, L2, L3 and L4"},
		{"sensors with their own delay", &FullOff, classroom().Set("devices/ps/delay_s", "25 min"), "Shorten the delay to 18 min"},
		{"left at a level", &FullOff, classroom().Set("intents/i2/off_level", "20"), "Lower the vacant level to 0 %"},
		{"one load that no sensor sees", &FullOff, classroom().Link("ps", 0, "", "l2", "-"), "Let L2 sense people"},
		{"an intent for some loads", &FullOff, classroom().Set("intents/i2/loads", "L1,L3,L4"), "Let the presence intent act on L2"},
		{"no daylight sensor", &DaylightTop, dark, "Add a daylight sensor"},
		{"lowest level in daylight", &DaylightTop, toplit("yes").Set("intents/i3/lowest", "21"), "Dim to 20 % by daylight"},
		{"no schedule", &ScheduledShutoff, judged(classroom(), ashrae2022, "shop_classroom"), "Add a schedule intent for L1, L2, L3 and L4"},
		{"neither", &OneOfB, judged(bare(), ashrae2019, "shop_classroom"), "Add a schedule intent"},
		{"receptacles", &Receptacles, classroom().Link("ps", 0, "", "r1", "-"), "Let R1 go dead when the room is empty"},
		{"nobody can press", &OneOfA, occupied("100").Do(edit.Remove{Part: "devices", ID: "st"}), "Enter at 50 %"},
		{"no station", &LocalControl, classroom().Do(edit.Remove{Part: "devices", ID: "st"}), "Add a wall station with On and Off"},
	} {
		f := found(c.rule, c.room)
		require.Len(t, f, 1, c.name)
		require.NotNil(t, f[0].Fix, "%s: %s", c.name, f[0].Message)
		assert.Contains(t, f[0].Fix.Title, c.says, c.name)
		c.room.Do(f[0].Fix.Edits...)
		assert.Empty(t, found(c.rule, c.room), c.name)
	}
}
