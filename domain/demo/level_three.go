package demo

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
)

func levelThree(p *domain.Project, typicals []domain.Typical) []domain.Room {
	return storey(p, 3, typicals, []row{
		{"300", "Office corridor", "corridor", "1400", "9 ft", false, 0, "COR-1", nil, lateCorridor},
		{"301", "Open office", "office-open", "4000", "10 ft", true, 48, "", openOffice, nil},
		{"302", "Private office", "office-private", "130", "9 ft", true, 1, "PO-1", nil, nil},
		{"303", "Private office", "office-private", "130", "9 ft", true, 1, "PO-1", nil, nil},
		{"304", "Private office", "office-private", "130", "9 ft", true, 1, "PO-1", nil, nil},
		{"305", "Corner office", "office-private", "240", "9 ft", true, 2, "PO-1", nil, func(d draft) { d.set("loads/l1", "count", "4") }},
		{"306", "Private office", "office-private", "130", "9 ft", true, 1, "PO-1", nil, nil},
		{"307", "Private office", "office-private", "130", "9 ft", true, 1, "PO-1", nil, nil},
		{"308", "Private office", "office-private", "130", "9 ft", true, 1, "PO-1", nil, nil},
		{"309", "Private office, inner", "office-private", "110", "9 ft", false, 1, "PO-1", nil, innerOffice},
		{"310", "Conference room", "conference", "360", "9 ft", false, 12, "CF-1", nil, nil},
		{"311", "Conference room", "conference", "360", "9 ft", false, 12, "CF-1", nil, withoutAV},
		{"312", "Copy and print room", "copy-room", "130", "9 ft", false, 0, "ST-1", nil, copyRoom},
		{"313", "Women's restroom", "restroom", "240", "9 ft", false, 0, "RR-1", nil, nil},
		{"314", "Men's restroom", "restroom", "240", "9 ft", false, 0, "RR-1", nil, nil},
		{"315", "Archive", "storage", "260", "9 ft", false, 0, "ST-1", nil, nil},
		{"316", "Kitchenette", "break-room", "150", "9 ft", false, 6, "", kitchenette, nil},
		{"317", "Network closet", "electrical", "80", "9 ft", false, 0, "EL-1", nil, func(d draft) { d.set("loads/l1", "count", "1") }},
		{"3S1", "North stair", "stair", "260", "11 ft", false, 0, "STR-1", nil, nil},
		{"3S2", "South stair", "stair", "260", "11 ft", false, 0, "STR-1", nil, func(d draft) { d.set("loads/l1", "bypass", "") }},
	})
}

// lateCorridor serves people who work longer than those below.
func lateCorridor(d draft) {
	d.set("intents/i3", "off_at", "23:00")
	wayOut(d)
}

// withoutAV has a screen on wheels and nothing to talk to.
func withoutAV(d draft) {
	d.do(edit.Remove{Part: "intents", ID: "i3"}, edit.Remove{Part: "intents", ID: "i4"}, edit.Remove{Part: "devices", ID: "av"})
}

// kitchenette has no door: whoever passes may be seen, which its designer
// accepts. The margin is in square meters.
func kitchenette(d draft) {
	d.device("lc", "lc-1", "above the counter")
	d.device("st", "st-4-battery", "at the opening to the corridor", "height_m", "44 in", "parent", "lc")
	d.device("ps", "ps-ceiling", "ceiling, middle", "presence", "occupancy", "parent", "lc")
	d.lights("l1", "c1", 6, "Whole room", "lc 1")
	d.onOff("st")
	d.raiseLower("st")
	d.acts("ps")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "15 min", "level", "50")
	d.intent("i3", domain.OnPowerBack)
	d.claim("energycode-receptacles", -7, "Refrigerator, cooker and coffee machine run day and night on these receptacles: equipment in continuous operation (8.4.2, exception).")
	margin := -3.5
	d.do(edit.Waive{Waiver: domain.Waiver{ID: "waiver-1", Rule: "sight-leak", Key: "ps", Margin: &margin, Name: designer, Date: "2026-03-05",
		Reason: "The kitchenette is open to the corridor, where light that comes on for who passes does no harm; 15 min later it is off again."}})
}

// openOffice is deliberately one area too many: 40 devices, where 32 fit. The
// designer is to split it in two.
func openOffice(d draft) {
	for n := 1; n <= 10; n++ {
		d.device(fmt.Sprint("lc", n), "lc-1", fmt.Sprintf("above bay %d", n))
	}
	for n := 1; n <= 4; n++ {
		d.device(fmt.Sprint("rc", n), "rc-20", fmt.Sprintf("above column %d", n))
	}
	d.device("gw", "gw-room", "above the copy point")
	d.device("rt", "rt-plug", "above the middle aisle")
	for n := 1; n <= 7; n++ {
		d.device(fmt.Sprint("sm", n), "st-4-mains", fmt.Sprintf("column %d", n), "height_m", "44 in", "sending", "loads")
	}
	for n := 1; n <= 8; n++ {
		d.device(fmt.Sprint("sb", n), "st-2-battery", fmt.Sprintf("desk group %d", n), "height_m", "44 in", "sending", "loads", "parent", fmt.Sprint("lc", n))
	}
	for n := 1; n <= 8; n++ {
		d.device(fmt.Sprint("ps", n), "ps-ceiling", fmt.Sprintf("ceiling, bay %d", n), "presence", "vacancy", "sending", "loads", "parent", fmt.Sprint("lc", n))
	}
	d.device("ds", "ds-open", "ceiling, 6 ft from the west window", "parent", "lc9")
	d.openOfficeLoads()
	d.openOfficeLinks()
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "20 min")
	d.intent("i3", domain.ByDaylight, "loads", "L9, L10", "target_lx", "40 fc", "may_off", "yes")
	d.intent("i4", domain.BySchedule, "off_at", "22:00")
	d.intent("i5", domain.ForReceptacles)
	d.intent("i6", domain.OnDemandResponse)
	d.intent("i7", domain.OnPowerBack)
}

func (d draft) openOfficeLoads() {
	for n := 1; n <= 10; n++ {
		name, zone := fmt.Sprintf("Bay %d", n), "none"
		switch {
		case n > 8:
			name, zone = fmt.Sprintf("Window row %d", n-8), "window row"
		case n > 4:
			zone = "second row"
		}
		d.lights(fmt.Sprint("l", n), "b1", 5, name, fmt.Sprintf("lc%d 1", n), "zone", zone)
	}
	for n := 1; n <= 4; n++ {
		d.outlets(fmt.Sprint("r", n), fmt.Sprintf("Desk receptacles %d", n), 16, fmt.Sprintf("rc%d 1", n))
	}
}

// openOfficeLinks gives each mains station a half of the floor and each
// battery station its own bay.
func (d draft) openOfficeLinks() {
	for n := 1; n <= 7; n++ {
		var spare []string
		for l := 1; l <= 10; l++ {
			if l%2 != n%2 {
				spare = append(spare, fmt.Sprint("l", l), "-")
			}
		}
		for i, b := range []struct{ label, cell string }{{"On", "100"}, {"Off", "0"}, {"Raise", "UP"}, {"Lower", "DN"}} {
			d.button(fmt.Sprint("sm", n), i+1, b.label, b.cell, spare...)
		}
	}
	for n := 1; n <= 8; n++ {
		own := []string{fmt.Sprint("l", n)}
		d.button(fmt.Sprint("sb", n), 1, "On/Off", "-", own[0], "TGL")
		d.button(fmt.Sprint("sb", n), 2, "Half", "-", own[0], "50")
		d.acts(fmt.Sprint("ps", n), "l1", "l2", "l3", "l4", "l5", "l6", "l7", "l8", "l9", "l10", "r1", "r2", "r3", "r4")
	}
	d.acts("ds", "l9", "l10")
}
