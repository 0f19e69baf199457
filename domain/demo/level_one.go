package demo

import "scopewright/domain"

func levelOne(p *domain.Project, typicals []domain.Typical) []domain.Room {
	return storey(p, 1, typicals, []row{
		{"100", "Main corridor", "corridor", "1560", "9 ft", false, 0, "COR-1", nil, wayOut},
		{"101", "Lobby", "lobby", "950", "14 ft", true, 20, "", lobby, nil},
		{"102", "Front office", "office-private", "140", "9 ft", true, 1, "PO-1", nil, nil},
		{"103", "Workshop", "workshop", "2200", "18 ft", true, 16, "", workshop, nil},
		{"104", "Workshop store", "storage", "180", "10 ft", false, 0, "ST-1", nil, nil},
		{"105", "Break room", "break-room", "480", "9 ft", true, 24, "", breakRoom, nil},
		{"106", "Divisible conference room", "conference", "960", "10 ft", false, 48, "", divisible, nil},
		{"107", "Women's restroom", "restroom", "240", "9 ft", false, 0, "RR-1", nil, nil},
		{"108", "Men's restroom", "restroom", "240", "9 ft", false, 0, "RR-1", nil, nil},
		{"109", "All-gender restroom", "restroom", "70", "9 ft", false, 0, "RR-1", nil, func(d draft) { d.set("loads/l1", "count", "2") }},
		{"110", "Electrical room", "electrical", "160", "10 ft", false, 0, "EL-1", nil, nil},
		{"111", "Network room", "electrical", "110", "10 ft", false, 0, "EL-1", nil, func(d draft) { d.set("loads/l1", "count", "2") }},
		{"112", "Janitor's closet", "storage", "60", "9 ft", false, 0, "ST-1", nil, func(d draft) { d.set("loads/l1", "count", "1") }},
		{"113", "Copy and print room", "copy-room", "130", "9 ft", false, 0, "ST-1", nil, copyRoom},
		{"1S1", "North stair", "stair", "260", "11 ft", false, 0, "STR-1", nil, nil},
		{"1S2", "South stair", "stair", "260", "11 ft", false, 0, "STR-1", nil, nil},
	})
}

// lobby is lit while people are in and by day, with spots that an event may need.
func lobby(d draft) {
	d.device("lc", "lc-4", "above the desk")
	d.device("lcp", "lc-phase", "above the desk")
	d.device("gw", "gw-room", "above the desk")
	d.device("av", "av-serial", "in the desk, for the wall display")
	d.device("st", "st-6-mains", "at the desk", "height_m", "40 in", "sending", "loads")
	for i, place := range []string{"corner at the door", "corner of the way out", "corner of the glass front", "corner of the display wall"} {
		d.device("ps"+string(rune('1'+i)), "ps-corner", place, "height_m", "9 ft", "presence", "occupancy", "sending", "loads", "parent", "lc")
	}
	d.device("ds", "ds-open", "ceiling, 5 ft from the glass front", "parent", "lc")
	d.lights("l1", "c1", 12, "Waiting area", "lc 1")
	d.lights("l2", "c1", 8, "Along the glass front", "lc 2", "zone", "window row")
	d.lights("l3", "b1", 2, "Over the desk", "lc 3", "layer", "task")
	d.lights("l4", "c1", 4, "Way out", "lc 4", "egress", "yes", "bypass", "Listed bypass relay EB-1 in panel EP-1")
	d.lights("l5", "g1", 10, "Display wall", "lcp 1", "layer", "display")
	d.scene("s1", "Day", "l4", "leave")
	d.scene("s2", "Event", "l1", "40 in 4 s", "l2", "30 in 4 s", "l3", "20 in 4 s", "l4", "leave")
	d.scene("s3", "Evening", "l1", "60 in 4 s", "l2", "60 in 4 s", "l5", "50 in 4 s", "l4", "leave")
	d.button("st", 1, "Day", "SC1", "l4", "-")
	d.button("st", 2, "Event", "SC2", "l4", "-")
	d.button("st", 3, "Evening", "SC3", "l4", "-")
	d.button("st", 4, "Raise", "UP", "l4", "-")
	d.button("st", 5, "Lower", "DN", "l4", "-")
	d.button("st", 6, "Off", "0", "l4", "-")
	for _, ps := range []string{"ps1", "ps2", "ps3", "ps4"} {
		d.acts(ps)
	}
	d.acts("av", "l1", "l2", "l3", "l5")
	d.acts("ds", "l2")
	d.intent("i1", domain.ByHand, "loads", "L1, L2, L3, L5")
	d.intent("i2", domain.ByPresence, "loads", "L1, L2, L3, L5", "scene", "1", "delay_s", "15 min")
	d.intent("i3", domain.ByPresence, "loads", "L4", "delay_s", "15 min", "off_level", "30", "warning_s", "0")
	d.intent("i4", domain.ByDaylight, "loads", "L2", "target_lx", "20 fc", "may_off", "yes")
	d.intent("i5", domain.BySchedule, "loads", "L1, L2, L3, L5", "off_at", "22:00")
	d.intent("i6", domain.ByAV, "loads", "L1, L2, L3, L5", "device", "av", "command", "event start", "scene", "2")
	d.intent("i7", domain.ByAV, "loads", "L1, L2, L3, L5", "device", "av", "command", "event end", "scene", "1")
	d.intent("i8", domain.OnDemandResponse, "loads", "L1, L2, L3, L5")
	d.intent("i9", domain.OnPowerBack, "restore", "full")
}

// workshop has high bays on a digital line and mains sensors that look down
// from 16 ft. Lights stay on while machines may run: a long delay, a long warning.
func workshop(d draft) {
	d.device("lc", "lc-digital", "on the mezzanine wall")
	d.device("gw", "gw-room", "on the mezzanine wall")
	d.device("st1", "st-4-mains", "at the main door", "height_m", "44 in", "sending", "loads")
	d.device("st2", "st-4-mains", "at the yard door", "height_m", "44 in", "sending", "loads")
	for i, place := range []string{"bay 1", "bay 2", "bay 3", "bay 4", "bay 5", "high in bay 2", "high in bay 3", "high in bay 4"} {
		d.device("ps"+string(rune('1'+i)), "ps-highbay", place, "presence", "vacancy", "sending", "loads")
	}
	d.device("ds", "ds-open", "roof truss, 6 ft from the clerestory", "parent", "lc")
	d.lights("l1", "d1", 4, "Bays 1 and 2", "lc 1", "zone", "second row")
	d.lights("l2", "d1", 4, "Bays 3 and 4", "lc 2", "zone", "second row")
	d.lights("l3", "d1", 2, "End bay", "lc 3", "zone", "second row")
	d.lights("l4", "d1", 4, "Along the clerestory", "lc 4", "zone", "window row")
	d.onOff("st1")
	d.raiseLower("st1")
	d.onOff("st2")
	d.raiseLower("st2")
	for _, ps := range []string{"ps1", "ps2", "ps3", "ps4", "ps5", "ps6", "ps7", "ps8"} {
		d.acts(ps)
	}
	d.acts("ds", "l4")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "14 min", "warning_s", "5 min")
	d.intent("i3", domain.ByDaylight, "loads", "L4", "target_lx", "50 fc", "lowest", "20", "may_off", "yes")
	d.intent("i4", domain.OnDemandResponse, "loads", "L4")
	d.intent("i5", domain.OnPowerBack, "restore", "full")
}

func breakRoom(d draft) {
	d.device("lc", "lc-2", "above the counter")
	d.device("rc", "rc-20", "above the counter")
	d.device("st", "st-4-battery", "latch side of the door", "height_m", "44 in", "parent", "lc")
	d.device("ps1", "ps-ceiling", "ceiling, over the first tables", "presence", "occupancy", "sending", "loads", "parent", "lc")
	d.device("ps2", "ps-ceiling", "ceiling, over the last tables", "presence", "occupancy", "sending", "loads", "parent", "lc")
	d.device("ds", "ds-open", "ceiling, 6 ft from the window", "parent", "lc")
	d.lights("l1", "a1", 5, "Tables", "lc 1", "zone", "second row")
	d.lights("l2", "a1", 3, "Window row", "lc 2", "zone", "window row")
	d.outlets("r1", "Counter receptacles, not the refrigerator", 8, "rc 1")
	d.onOff("st")
	d.raiseLower("st")
	d.acts("ps1", "l1", "l2", "r1")
	d.acts("ps2", "l1", "l2", "r1")
	d.acts("ds", "l2")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "15 min", "level", "50")
	d.intent("i3", domain.ByDaylight, "loads", "L2", "target_lx", "30 fc", "may_off", "yes")
	d.intent("i4", domain.ForReceptacles)
	d.intent("i5", domain.OnPowerBack)
}

// divisible is one room with a folding wall: each half has its station, and a
// contact in the wall's track tells whether it stands open.
func divisible(d draft) {
	d.device("lc", "lc-4", "above the folding wall")
	d.device("rc", "rc-20", "above the folding wall")
	d.device("gw", "gw-room", "above the folding wall")
	d.device("av", "av-serial", "in the AV rack of half A")
	d.device("cn", "cn-2", "at the track of the folding wall")
	d.device("st1", "st-6-mains", "door of half A", "height_m", "44 in", "sending", "loads")
	d.device("st2", "st-4-mains", "door of half B", "height_m", "44 in", "sending", "loads")
	for i, place := range []string{"ceiling, half A, door side", "ceiling, half A, far side", "ceiling, half B, door side", "ceiling, half B, far side"} {
		d.device("ps"+string(rune('1'+i)), "ps-ceiling", place, "presence", "vacancy", "sending", "loads", "parent", "lc")
	}
	d.lights("l1", "b1", 4, "Half A, tables", "lc 1")
	d.lights("l2", "c1", 6, "Half A, screen wall", "lc 2", "layer", "board")
	d.lights("l3", "b1", 4, "Half B, tables", "lc 3")
	d.lights("l4", "c1", 6, "Half B, rear wall", "lc 4", "layer", "board")
	d.outlets("r1", "Floor boxes", 12, "rc 1")
	d.scene("s1", "Meet, half A", "l3", "leave", "l4", "leave")
	d.scene("s2", "Present, half A", "l1", "40 in 4 s", "l2", "0 in 4 s", "l3", "leave", "l4", "leave")
	d.scene("s3", "Joined", "l1", "80 in 2 s", "l2", "60 in 2 s", "l3", "80 in 2 s", "l4", "60 in 2 s")
	for n, b := range []struct{ label, cell string }{{"Meet", "SC1"}, {"Present", "SC2"}, {"Raise", "UP"}, {"Lower", "DN"}, {"Off A", "0"}} {
		d.button("st1", n+1, b.label, b.cell, "l3", "-", "l4", "-")
	}
	d.button("st1", 6, "Off all", "0")
	for n, b := range []struct{ label, cell string }{{"On", "100"}, {"Raise", "UP"}, {"Lower", "DN"}, {"Off", "0"}} {
		d.button("st2", n+1, b.label, b.cell, "l1", "-", "l2", "-")
	}
	for _, ps := range []string{"ps1", "ps2", "ps3", "ps4"} {
		d.acts(ps, "l1", "l2", "l3", "l4", "r1")
	}
	d.acts("av", "l1", "l2")
	d.input("cn", 1)
	d.input("cn", 2, "spare")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "15 min")
	d.intent("i3", domain.ByAV, "loads", "L1, L2", "device", "av", "command", "presentation start", "scene", "2")
	d.intent("i4", domain.ByAV, "loads", "L1, L2", "device", "av", "command", "presentation end", "scene", "1")
	d.intent("i5", domain.ByContact, "device", "cn", "command", "open", "scene", "3")
	d.intent("i6", domain.ForReceptacles)
	d.intent("i7", domain.OnDemandResponse)
	d.intent("i8", domain.OnPowerBack)
}
