package domain

import "fmt"

// StartChecklist gives a fresh copy of the questions of a second opinion that a project
// starts with; people edit, add and remove them. In our words, after common practice in
// design review; no published source. Legal limits are for the adopted code to say.
func StartChecklist() []ChecklistItem {
	out := make([]ChecklistItem, 0, len(startQuestions))
	for i, q := range startQuestions {
		out = append(out, ChecklistItem{ID: ID(fmt.Sprintf("q%02d", i+1)), Seq: i + 1, Subject: q.subject, Text: q.text, For: q.of})
	}
	return out
}

type question struct {
	subject string
	of      Asked
	text    string
}

var startQuestions = []question{
	{"Brief", AskProject, "Is there a brief from the owner, dated and agreed?"},
	{"Brief", AskProject, "Has the owner said in a sentence what each kind of room should do?"},
	{"Brief", AskProject, "Are hours of use, holidays, cleaning and security rounds known?"},
	{"Brief", AskProject, "Are the code, its edition and its local changes named?"},
	{"Brief", AskRoom, "Is every exception to the code that this room relies on named?"},
	{"Brief", AskProject, "Is it listed what others provide, and who they are?"},

	{"Room", AskRoom, "Do area and ceiling height agree with the architect's current plan?"},
	{"Room", AskRoom, "Does the use stated here fit what happens in the room, and the code's kind of space?"},
	{"Room", AskRoom, "Are partitions, shelves and tall furniture known and allowed for?"},
	{"Room", AskRoom, "Can everything above the ceiling be reached again for service?"},
	{"Room", AskRoom, "Do windows and rooflights match the current plan?"},

	{"Loads", AskRoom, "Does every luminaire hang on exactly one load?"},
	{"Loads", AskRoom, "Are rows in daylight on loads apart from the inner rows, each side of the building by itself?"},
	{"Loads", AskRoom, "Are board, display and task lighting on loads of their own?"},
	{"Loads", AskRoom, "Are egress loads marked, each with the listed device that overrides the controls?"},
	{"Loads", AskRoom, "Do watts, volts and drivers come from the luminaire schedule?"},
	{"Loads", AskRoom, "Can each driver be dimmed the way its output dims?"},
	{"Loads", AskRoom, "Is the area that one load or one station covers within what the code allows?"},
	{"Loads", AskRoom, "Are the receptacles to be controlled counted, and marked on the plan?"},

	{"Stations", AskRoom, "Is there a station at each usual entrance, on the latch side, in sight of what it lights?"},
	{"Stations", AskRoom, "Is every button's label listed, short, and true to what the button does?"},
	{"Stations", AskProject, "Do like rooms have like buttons in like order?"},
	{"Stations", AskRoom, "Can everybody reach the stations, seated or standing?"},
	{"Stations", AskRoom, "Does whoever teaches or presents have a station at hand?"},
	{"Stations", AskRoom, "Is there no off button where darkness would endanger people?"},
	{"Stations", AskRoom, "Is there a wall to mount each station on: no glass, no door swinging over it, no furniture before it?"},

	{"Presence", AskRoom, "Does a sensor see small movements at every seat or stall?"},
	{"Presence", AskRoom, "Is a person seen within a step of coming in?"},
	{"Presence", AskRoom, "Does no sensor look out through a door or past the end of an aisle?"},
	{"Presence", AskRoom, "Are the sensors away from air outlets, moving blinds and hot equipment?"},
	{"Presence", AskRoom, "Is it right that the sensors here are of the occupancy kind, or of the vacancy kind?"},
	{"Presence", AskRoom, "Is the delay what use and code ask for, with any hold time in the sensor counted in?"},
	{"Presence", AskRoom, "Where several sensors share a room, do they overlap, and is it said when the room is vacant?"},

	{"Daylight", AskRoom, "Is it settled for each daylight sensor whether its loop is open or closed, where it sits and where it looks?"},
	{"Daylight", AskRoom, "Do the daylight loads match where daylight really falls, at the windows as built?"},
	{"Daylight", AskRoom, "Has the target a unit, and a place where it is measured?"},
	{"Daylight", AskRoom, "Is it said how low daylight may dim, and whether it may switch off?"},
	{"Daylight", AskProject, "Is it planned who calibrates daylight sensors, at which hour, with blinds how?"},

	{"Sequence", AskRoom, "Has each load a way to be turned on and a way to be turned off?"},
	{"Sequence", AskRoom, "Is it complete what happens when people leave: delay, warning, level?"},
	{"Sequence", AskRoom, "Is it said what a person can do after hours, for how long, and how often?"},
	{"Sequence", AskRoom, "Is it said what happens when power comes back, without network, without server, and with a silent sensor?"},
	{"Sequence", AskProject, "Is it agreed what wins when two statements meet?"},
	{"Sequence", AskRoom, "Are AV commands and contacts agreed with those who send them, both ways, and what follows at the end?"},
	{"Sequence", AskRoom, "Is it said per load what demand response does, and that egress loads are left out?"},
	{"Sequence", AskRoom, "Where the room divides, is each state of the partition described?"},
	{"Sequence", AskRoom, "Does nothing in the sequence contradict anything else in it?"},
	{"Sequence", AskRoom, "Can people still turn the lights on and off when all else has failed?"},

	{"Scenes", AskRoom, "Does every scene say something for every load, at levels that the drivers reach?"},
	{"Scenes", AskRoom, "Are the fades pleasant: a scene in seconds, daylight slower?"},
	{"Scenes", AskRoom, "Are the scenes called what the owner calls them?"},

	{"Radio and capacity", AskRoom, "Are the counts of devices, sensors and stations inside the limits, with room to grow?"},
	{"Radio and capacity", AskRoom, "Has every battery device two routers in reach, so that one may fail?"},
	{"Radio and capacity", AskRoom, "Are metal, concrete, coated glass and lift shafts between devices allowed for?"},
	{"Radio and capacity", AskRoom, "Is the gateway placed well for radio and for its network cable?"},
	{"Radio and capacity", AskRoom, "What happens when many buttons are pressed at once, or all sensors report together?"},

	{"Power", AskProject, "Is no circuit loaded beyond what the code allows for continuous load?"},
	{"Power", AskRoom, "Are output ratings, drivers per output and inrush checked against data sheets, or marked as not checked?"},
	{"Power", AskRoom, "Are line voltage and control wiring kept apart?"},
	{"Power", AskRoom, "Is the supply of wired sensors enough for all of them?"},
	{"Power", AskRoom, "Are the boxes deep enough for what goes in?"},

	{"Network", AskProject, "Is it drawn how rooms reach the server, with addresses and with what powers each box?"},
	{"Network", AskProject, "Has the building automation trade agreed in writing to names, priorities and failure values?"},
	{"Network", AskProject, "Is it named what sets the clocks, the time zone, and who keeps the holidays?"},
	{"Network", AskProject, "Is it named who owns accounts and passwords, and who updates the software?"},

	{"Documents", AskProject, "Do plan, schedules, matrix and labels carry the same tags?"},
	{"Documents", AskProject, "Do the counts in schedule, bill and plan agree?"},
	{"Documents", AskProject, "Do revision, date and list of changes stand on every sheet that goes out?"},
	{"Documents", AskProject, "Is it listed which rooms follow each typical?"},
	{"Documents", AskRoom, "Are this room's exceptions to its typical intended, and all of them listed?"},
	{"Documents", AskProject, "Are units stated, signs explained, and the print large enough to read on site?"},
	{"Documents", AskProject, "Can each statement of a sequence be tested, and is it planned who tests it?"},
	{"Documents", AskProject, "Are the order of start-up, the records to keep, spares and battery plan ready to hand over?"},
	{"Documents", AskProject, "Are the objections of earlier reviews closed?"},
	{"Documents", AskRoom, "Has every waiver a name, a date and a reason that holds?"},
	{"Documents", AskProject, "Do the sheets carry the cautions about egress lighting and mains wiring?"},
}
