package energycode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

// daylit is a classroom with three loads of 160 W: along the window, behind it, and
// the rest. The first two answer daylight down to 15 % and then go off.
func daylit() *energycode.Facts {
	f := classroom()
	f.Windows = true
	base := f.Loads[0]
	base.Watts = 160
	f.Loads = nil
	for i, tag := range []string{"L1", "L2", "L3"} {
		l := base
		l.ID, l.Tag = domain.ID(tag), tag
		if i < 2 {
			l.Daylight = &energycode.Response{Continuous: true, Lowest: 15, MayOff: true, Target: 400, By: "DS-1, daylight intent 3"}
		}
		f.Loads = append(f.Loads, l)
	}
	f.Zones = watts(160, 160, 0)
	f.Zones.Primary.Loads, f.Zones.Secondary.Loads = []domain.ID{"L1"}, []domain.ID{"L2"}
	f.Zones.Glazing = 9
	return f
}

func TestDaylightSide_response(t *testing.T) {
	for _, l := range []limit{
		{"both areas answer", old, class, energycode.DaylightSide, nil, meets, "primary area: 160 W"},
		{"the second does not", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[1].Daylight = nil }, not, "L2: no response to daylight"},
		{"and is not asked with 299 W", old, class, energycode.DaylightSide, func(f *energycode.Facts) {
			f.Loads[1].Daylight = nil
			f.Zones.Secondary.Watts = 139
		}, meets, ""},
		{"glazing unknown", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[1].Daylight = nil; f.Zones.Glazing = 0 }, open, "the glazing area of the windows"},
		{"glazing unknown, all answers", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Zones.Glazing = 0 }, meets, ""},
		{"small glazing", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[1].Daylight = nil; f.Zones.Glazing = 1 }, none, "of glazing"},
		// 9.4.1.1(e): to 20 % and off, from memory.
		{"to 20 %", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.Lowest = 20 }, meets, ""},
		{"to 21 %", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.Lowest = 21 }, not, "L1: down to 21 % only in daylight, limit 20 %"},
		{"never off", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.MayOff = false }, not, "never off in daylight"},
		{"only switched", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.Continuous = false }, not, "only switched by daylight"},
		{"one load in both areas", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Zones.Secondary.Loads = []domain.ID{"L1"} }, not, "in more than one daylight area"},
		{"watts of a load unknown", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].WattsKnown = false }, open, "the watts of L1"},
		{"areas unknown", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Zones = nil }, open, "draw the windows"},
		{"no windows", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Zones, f.Windows = nil, false }, none, "states no windows"},
		{"loads of the area unknown", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Zones.Primary.Loads = nil }, open, "which loads hang in the primary area"},
		{"under a condition", old, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.Doubt = "daylight intent 3 counts only in mode normal" }, open, "only in mode normal"},
		// IECC C405.2.4.1: 15 % in named rooms, from memory; others may step.
		{"IECC to 15 %", code21, class, energycode.DaylightSide, nil, meets, ""},
		{"IECC to 16 %", code21, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.Lowest = 16 }, not, "limit 15 %"},
		{"IECC, not a named room", code21, hall, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight = &energycode.Response{By: "DS-1"} }, meets, ""},
		// California 130.1(d): to 10 % (code-change page 2022).
		{"California to 10 %", calif, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.Lowest, f.Loads[1].Daylight.Lowest = 10, 10 }, meets, ""},
		{"California to 11 %", calif, class, energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight.Lowest, f.Loads[1].Daylight.Lowest = 11, 10 }, not, "limit 10 %"},
		{"a blank row that the room meets", fresh, "office_enclosed_le_150ft2", energycode.DaylightSide, nil, meets, ""},
		{"a blank row that it does not", fresh, "office_enclosed_le_150ft2", energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight = nil }, open, "which is no exemption"},
		{"no figure in the pack", "ashrae-90.1-2019", "retail_sales", energycode.DaylightSide, func(f *energycode.Facts) { f.Loads[0].Daylight = nil }, none, ""},
	} {
		l.run(t, daylit())
	}
}

func TestDaylightTop_response(t *testing.T) {
	for _, l := range []limit{
		{"149 W", old, class, energycode.DaylightTop, func(f *energycode.Facts) { f.Zones.Toplit = energycode.Zone{Watts: 149, Loads: []domain.ID{"L3"}} }, none, "149 W in the toplit area"},
		{"150 W that does not answer", old, class, energycode.DaylightTop, func(f *energycode.Facts) { f.Zones.Toplit = energycode.Zone{Watts: 150, Loads: []domain.ID{"L3"}} }, not, "L3: no response to daylight"},
		{"150 W that answers", old, class, energycode.DaylightTop, func(f *energycode.Facts) {
			f.Zones.Toplit = energycode.Zone{Watts: 150, Loads: []domain.ID{"L3"}}
			f.Loads[2].Daylight = f.Loads[0].Daylight
		}, meets, ""},
		{"nothing known of the roof", old, class, energycode.DaylightTop, func(f *energycode.Facts) { f.Zones, f.Windows = nil, false }, none, "no rooflight is known"},
	} {
		l.run(t, daylit())
	}
}

func TestDensity_atTheLimit(t *testing.T) {
	// 0.71 W/ft2 for classrooms of 90.1-2019 (published lighting tables): 710 W in 1,000 ft2.
	for w, want := range map[units.Watts]energycode.Verdict{709: meets, 710: meets, 711: open} {
		f := classroom()
		f.Area, f.Loads[0].Watts = 1000*ft2, w
		assert.Equal(t, want, last(energycode.Judge(pack(t, old), class, f)).Verdict, w)
	}
	f := classroom()
	f.Area, f.Loads[0].Watts = 1000*ft2, 711
	f.Building = &energycode.Building{Installed: 5000, Allowed: 5000}
	a := last(energycode.Judge(pack(t, old), class, f))
	assert.Equal(t, meets, a.Verdict, "the sum decides")
	assert.Equal(t, "1 W over this room's own value. Other rooms make up for it: 5000 W of 5000 W in the building.", a.Beside)
	assert.Contains(t, a.Row().Why, a.Beside, "the list says it too")
	f.Building.Allowed = 4999
	a = last(energycode.Judge(pack(t, old), class, f))
	assert.Equal(t, not, a.Verdict)
	f.Building.Allowed, f.Building.Unknown = 6000, 2
	assert.Equal(t, open, last(energycode.Judge(pack(t, old), class, f)).Verdict)
	assert.Equal(t, open, last(energycode.Judge(pack(t, calif), class, f)).Verdict, "the pack gives no densities")
	f.Units = units.SI
	assert.Contains(t, last(energycode.Judge(pack(t, old), class, f)).Required, "7.64 W/m2 (0.71 W/ft2)")
}
