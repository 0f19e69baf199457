package demo

import (
	"scopewright/domain"
	"scopewright/domain/edit"
)

func levelTwo(p *domain.Project, typicals []domain.Typical) []domain.Room {
	return storey(p, 2, typicals, []row{
		{"200", "Learning corridor", "corridor", "1440", "9 ft", false, 0, "COR-1", nil, wayOut},
		{"201", "Classroom", "classroom", "860", "9 ft 6 in", true, 30, "CR-1", nil, nil},
		{"202", "Classroom", "classroom", "860", "9 ft 6 in", true, 30, "CR-1", nil, nil},
		{"203", "Classroom", "classroom", "860", "9 ft 6 in", true, 30, "CR-1", nil, nil},
		{"204", "Classroom", "classroom", "860", "9 ft 6 in", true, 30, "CR-1", nil, nil},
		{"205", "Exam room", "classroom", "880", "9 ft 6 in", true, 28, "CR-1", nil, examRoom},
		{"206", "Classroom", "classroom", "860", "9 ft 6 in", true, 30, "CR-1", nil, nil},
		{"207", "Classroom", "classroom", "860", "9 ft 6 in", true, 30, "CR-1", nil, nil},
		{"208", "Large classroom", "classroom", "1240", "9 ft 6 in", true, 42, "CR-1", nil, largeClassroom},
		{"209", "Seminar room", "conference", "420", "9 ft", false, 14, "CF-1", nil, nil},
		{"210", "Faculty office", "office-private", "120", "9 ft", true, 1, "PO-1", nil, nil},
		{"211", "Faculty office", "office-private", "120", "9 ft", true, 1, "PO-1", nil, nil},
		{"212", "Faculty office, inner", "office-private", "110", "9 ft", false, 1, "PO-1", nil, innerOffice},
		{"213", "Faculty office, inner", "office-private", "110", "9 ft", false, 1, "PO-1", nil, innerOffice},
		{"214", "Women's restroom", "restroom", "240", "9 ft", false, 0, "RR-1", nil, nil},
		{"215", "Men's restroom", "restroom", "240", "9 ft", false, 0, "RR-1", nil, nil},
		{"216", "Book store", "storage", "220", "9 ft", false, 0, "ST-1", nil, nil},
		{"217", "Network closet", "electrical", "80", "9 ft", false, 0, "EL-1", nil, func(d draft) { d.set("loads/l1", "count", "1") }},
		{"2S1", "North stair", "stair", "260", "11 ft", false, 0, "STR-1", nil, nil},
		{"2S2", "South stair", "stair", "260", "11 ft", false, 0, "STR-1", nil, nil},
	})
}

// examRoom waits longer: people who write move little.
func examRoom(d draft) {
	d.set("devices/ps1", "delay_s", "30 min")
	d.set("devices/ps2", "delay_s", "30 min")
	d.set("devices/ps3", "delay_s", "30 min")
}

// largeClassroom has a row of seats more, and a sensor that sees it.
func largeClassroom(d draft) {
	d.device("ps4", "ps-ceiling", "ceiling, over the added row", "presence", "vacancy", "sending", "loads", "parent", "lc")
	d.acts("ps4", "l1", "l2", "l3", "l4", "l5", "r1")
	d.set("loads/l4", "count", "5")
}

// innerOffice has no window: no daylight to share the work with.
func innerOffice(d draft) {
	d.do(edit.Remove{Part: "devices", ID: "ds"}, edit.Remove{Part: "intents", ID: "i3"})
	d.set("loads/l1", "zone", "none")
}
