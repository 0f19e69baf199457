package demo

import (
	"scopewright/domain"
	"scopewright/domain/sequence"
)

// typicals are the rooms that repeat, designed once.
func typicals(p *domain.Project) []domain.Typical {
	var out []domain.Typical
	for i, design := range []func(*domain.Project, int) *domain.Typical{
		privateOffice, classroom, conference, restroom, corridor, store, stair, plantRoom,
	} {
		t := design(p, i+1)
		t.Design.Scenarios = sequence.Generate(p, &t.Design)
		out = append(out, *t)
	}
	return out
}

// privateOffice has a window: one load that daylight dims.
func privateOffice(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "PO-1", "Private office at the window", "office-private")
	d.device("lc", "lc-1", "above the door")
	d.device("rc", "rc-20", "above the door")
	d.device("st", "st-4-battery", "latch side of the door", "height_m", "44 in", "parent", "lc")
	d.device("ps", "ps-corner", "corner facing the desk", "height_m", "8 ft", "presence", "vacancy", "parent", "lc")
	d.device("ds", "ds-open", "ceiling, 6 ft from the window", "parent", "rc")
	d.lights("l1", "a1", 2, "Whole room", "lc 1", "zone", "window row")
	d.outlets("r1", "Desk receptacles", 4, "rc 1")
	d.onOff("st")
	d.raiseLower("st")
	d.acts("ps", "l1", "r1")
	d.acts("ds", "l1")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "15 min")
	d.intent("i3", domain.ByDaylight, "loads", "L1", "may_off", "yes")
	d.intent("i4", domain.ForReceptacles)
	d.intent("i5", domain.OnPowerBack)
	return t
}

// classroom keeps board, inner rows and window row apart; people press to get
// light, and everything goes off when they are gone.
func classroom(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "CR-1", "Classroom of 30, window row apart", "classroom")
	d.device("lc", "lc-4", "above the door")
	d.device("lc2", "lc-1", "above the board")
	d.device("rc", "rc-20", "above the door")
	d.device("gw", "gw-room", "above the door")
	d.device("st1", "st-6-mains", "latch side of the door", "height_m", "44 in", "sending", "loads")
	d.device("st2", "st-4-battery", "at the teacher's place", "height_m", "44 in", "sending", "loads", "parent", "lc")
	d.device("ps1", "ps-ceiling", "ceiling, front third", "presence", "vacancy", "sending", "loads", "parent", "lc")
	d.device("ps2", "ps-ceiling", "ceiling, rear third", "presence", "vacancy", "sending", "loads", "parent", "lc")
	d.device("ps3", "ps-ceiling", "ceiling, front third, at the windows", "presence", "vacancy", "sending", "loads", "parent", "lc")
	d.device("ds", "ds-open", "ceiling, 6 ft from the window", "parent", "lc")
	d.lights("l1", "c1", 6, "Board wash", "lc2 1", "layer", "board")
	d.lights("l2", "a2", 6, "Inner rows", "lc 1")
	d.lights("l3", "a2", 3, "Window row", "lc 2", "zone", "window row")
	d.lights("l4", "a2", 2, "Rear row", "lc 3")
	d.lights("l5", "c1", 2, "Entrance", "lc 4")
	d.outlets("r1", "Computer tables", 10, "rc 1")
	d.scene("s1", "Teach")
	d.scene("s2", "Present", "l1", "0 in 2 s", "l2", "50 in 2 s", "l3", "30 in 2 s", "l4", "50 in 2 s", "l5", "20 in 2 s")
	d.scene("s3", "Quiet work", "l1", "0 in 4 s", "l2", "70 in 4 s", "l3", "70 in 4 s", "l4", "70 in 4 s", "l5", "40 in 4 s")
	d.button("st1", 1, "Teach", "SC1")
	d.button("st1", 2, "Present", "SC2")
	d.button("st1", 3, "Quiet", "SC3")
	d.button("st1", 4, "Raise", "UP")
	d.button("st1", 5, "Lower", "DN")
	d.button("st1", 6, "Off", "0")
	d.button("st2", 1, "Teach", "SC1")
	d.button("st2", 2, "Present", "SC2")
	d.button("st2", 3, "Board", "-", "l1", "TGL")
	d.button("st2", 4, "Off", "0")
	d.acts("ps1", "l1", "l2", "l3", "l4", "l5", "r1")
	d.acts("ps2", "l1", "l2", "l3", "l4", "l5", "r1")
	d.acts("ps3", "l1", "l2", "l3", "l4", "l5", "r1")
	d.acts("ds", "l3")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "15 min")
	d.intent("i3", domain.ByDaylight, "loads", "L3", "target_lx", "40 fc", "may_off", "yes")
	d.intent("i4", domain.ForReceptacles)
	d.intent("i5", domain.OnDemandResponse)
	d.intent("i6", domain.OnPowerBack)
	return t
}

// conference is an inner room with a screen that an AV system drives.
func conference(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "CF-1", "Conference room of 12 with AV", "conference")
	d.device("lc", "lc-2", "above the door")
	d.device("rc", "rc-20", "above the door")
	d.device("gw", "gw-room", "above the door")
	d.device("av", "av-serial", "in the AV rack")
	d.device("st", "st-6-mains", "latch side of the door", "height_m", "44 in")
	d.device("ps", "ps-ceiling", "ceiling, over the table", "presence", "vacancy", "parent", "lc")
	d.lights("l1", "a1", 6, "Table", "lc 1")
	d.lights("l2", "c1", 4, "Screen wall", "lc 2", "layer", "board")
	d.outlets("r1", "Table and wall receptacles", 6, "rc 1")
	d.scene("s1", "Meet")
	d.scene("s2", "Present", "l1", "40 in 4 s", "l2", "0 in 4 s")
	d.scene("s3", "Video call", "l1", "80 in 2 s", "l2", "60 in 2 s")
	d.button("st", 1, "Meet", "SC1")
	d.button("st", 2, "Present", "SC2")
	d.button("st", 3, "Video", "SC3")
	d.button("st", 4, "Raise", "UP")
	d.button("st", 5, "Lower", "DN")
	d.button("st", 6, "Off", "0")
	d.acts("ps", "l1", "l2", "r1")
	d.acts("av")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.ByPresence, "delay_s", "15 min")
	d.intent("i3", domain.ByAV, "device", "av", "command", "presentation start", "scene", "2")
	d.intent("i4", domain.ByAV, "device", "av", "command", "presentation end", "scene", "1")
	d.intent("i5", domain.ForReceptacles)
	d.intent("i6", domain.OnDemandResponse)
	d.intent("i7", domain.OnPowerBack)
	return t
}

// restroom lights on entry; only who cleans has something to press.
func restroom(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "RR-1", "Restroom, lit on entry", "restroom")
	d.device("lc", "lc-1", "above the door")
	d.device("ps", "ps-ceiling", "ceiling, inside the entrance screen", "presence", "occupancy", "delay_s", "15 min", "parent", "lc")
	d.lights("l1", "c1", 8, "Whole room", "lc 1")
	d.device("st", "st-key", "latch side of the door", "height_m", "44 in", "parent", "lc")
	d.button("st", 1, "Clean", "100")
	d.button("st", 2, "Off", "0")
	d.acts("ps")
	d.intent("i1", domain.ByPresence, "watchdog_s", "24 h")
	d.intent("i3", domain.ByHand)
	d.intent("i2", domain.OnPowerBack, "restore", "full")
	return t
}

// corridor goes off after hours but for a row that lights the way out.
func corridor(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "COR-1", "Corridor with night row", "corridor")
	d.device("lc", "lc-2", "above the ceiling, middle bay")
	d.device("gw", "gw-room", "above the ceiling, middle bay")
	d.device("st", "st-key", "beside the north stair", "height_m", "44 in", "parent", "lc")
	d.device("ps1", "ps-corridor", "ceiling, north bay", "presence", "occupancy", "parent", "lc")
	d.device("ps2", "ps-corridor", "ceiling, middle bay", "presence", "occupancy", "parent", "lc")
	d.device("ps3", "ps-corridor", "ceiling, south bay", "presence", "occupancy", "parent", "lc")
	d.lights("l1", "a1", 10, "Day rows", "lc 1")
	d.lights("l2", "a1", 5, "Night and egress row", "lc 2", "egress", "yes", "bypass", "Listed bypass relay EB-1 in panel EP-1")
	d.button("st", 1, "Clean", "100", "l2", "-")
	d.button("st", 2, "Off", "0", "l2", "-")
	d.acts("ps1")
	d.acts("ps2")
	d.acts("ps3")
	d.intent("i1", domain.ByPresence, "loads", "L1", "delay_s", "15 min")
	d.intent("i2", domain.ByPresence, "loads", "L2", "delay_s", "15 min", "off_level", "30", "warning_s", "0")
	d.intent("i3", domain.BySchedule, "loads", "L1", "off_at", "22:00")
	d.intent("i4", domain.ByHand, "loads", "L1")
	d.intent("i5", domain.OnDemandResponse, "loads", "L1")
	d.intent("i6", domain.OnPowerBack, "restore", "full")
	return t
}

// store is any small room: who enters presses for light, and it goes off by itself.
func store(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "ST-1", "Store or service room, off by itself", "storage")
	d.device("wb", "wb-switch", "latch side of the door", "height_m", "44 in")
	d.device("ps", "ps-corner", "corner of the door's wall", "height_m", "8 ft", "presence", "vacancy", "parent", "wb")
	d.lights("l1", "e1", 2, "Whole room", "wb 1")
	d.button("wb", 1, "On", "100")
	d.button("wb", 2, "Off", "0")
	d.acts("ps")
	d.intent("i1", domain.ByPresence, "warning_s", "0", "delay_s", "10 min", "fade_s", "0")
	d.intent("i2", domain.OnPowerBack)
	return t
}

// stair never goes dark: full when people are on it, low when they are not.
func stair(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "STR-1", "Stair, dimmed when empty", "stair")
	d.device("lc", "lc-1", "above the landing")
	d.device("ps1", "ps-corner", "upper landing", "height_m", "8 ft", "presence", "occupancy", "parent", "lc")
	d.device("ps2", "ps-corner", "lower landing", "height_m", "8 ft", "presence", "occupancy", "parent", "lc")
	d.lights("l1", "f1", 5, "Flights and landings", "lc 1", "egress", "yes", "bypass", "Listed bypass relay EB-1 in panel EP-1")
	d.device("st", "st-key", "beside the lower door", "height_m", "44 in", "parent", "lc")
	d.button("st", 1, "Full", "100")
	d.button("st", 2, "Half", "50")
	d.acts("ps1")
	d.acts("ps2")
	d.intent("i1", domain.ByPresence, "delay_s", "10 min", "off_level", "30", "warning_s", "0")
	d.intent("i3", domain.ByHand)
	d.intent("i2", domain.OnPowerBack, "restore", "full")
	return t
}

// plantRoom is switched by hand alone: nobody shall stand in the dark before
// an open panel.
func plantRoom(p *domain.Project, seq int) *domain.Typical {
	d, t := newTypical(p, seq, "EL-1", "Electrical or plant room, switched by hand", "electrical")
	d.device("wb", "wb-switch", "latch side of the door", "height_m", "44 in")
	d.lights("l1", "e1", 2, "Whole room", "wb 1")
	d.button("wb", 1, "On", "100")
	d.button("wb", 2, "Off", "0")
	d.intent("i1", domain.ByHand)
	d.intent("i2", domain.OnPowerBack)
	return t
}
