package sheet

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// generalNotes hold what is true of every sheet: how to read it, the agreed words, the
// signs and the cautions.
func (c *Content) generalNotes() Sheet {
	s := Sheet{ID: "notes", Number: numberNotes, Title: "General notes", Head: c.head()}
	s.Blocks = []Block{Heading{1, "How to read this set"}, readingNotes(c.project.Units), Heading{1, "Words"}, glossary(),
		Heading{1, "Signs and codes"}, signLegend(), Paragraph{Text: "Codes of the control matrix: " + legendNote(wholeMatrixLegend()) + "."}, Heading{1, "Cautions"}}
	for _, w := range domain.Cautions() {
		s.Blocks = append(s.Blocks, toCaution(w))
	}
	return s
}

func readingNotes(system units.System) Statements {
	length := "Lengths are in meters, areas in square meters."
	if system == units.US {
		length = "Lengths are in feet and inches, areas in square feet."
	}
	texts := []string{
		"Each room has a scope sheet: what it holds, who controls what, and what then happens. A room that follows a typical lists its exceptions.",
		"Tags are the same on every sheet and on the device. A blank cell would be an error: a dash means that it does not apply, \"not stated\" that someone has to say.",
		length + " Heights are to the center of the device, above finished floor. Dates are year-month-day.",
		"Levels are percentages of full light output. Delays run from the last report of people; fades from the present level.",
		"Statements of a sequence are numbered Q1, Q2 and so on, room by room; the control matrix and the failure states point to them.",
		"The content code in the title block names what the sheet says. Two prints with one code say the same about the room; a signature binds to it.",
		"Sheet numbers: EL-0 general, EL-6 schedules and diagrams, EL-7 scope sheets and EL-8 installer's pages, both with the storey's place and the room number. Functional tests (EL-614) and reviews (EL-611) of rooms are documents of their own.",
	}
	var out Statements
	for _, t := range texts {
		out.Items = append(out.Items, Statement{Text: t})
	}
	return out
}

// glossary is how this set uses its words; parties on site use some of them otherwise.
func glossary() Legend {
	return Legend{Items: []LegendItem{
		{"Load", "what is switched or dimmed as one: the luminaires of one zone, or receptacles"},
		{"Load controller", "mains device that switches or dims loads at its outputs"},
		{"Wall station", "buttons for people; it drives no load itself"},
		{"Wall-box controller", "dimmer or switch in a wall box, for the load wired to it alone"},
		{"Occupancy sensor", "reports people, and may turn loads on"},
		{"Vacancy sensor", "reports people, and never turns anything on"},
		{"Daylight sensor", "reports daylight: open loop sees outdoors, closed loop sees the task"},
		{"Contact input", "brings in a dry contact, or the signal of a powered sensor"},
		{"Gateway", "the room's one link to the building network"},
		{"AV interface", "serial link by which a presentation system asks for scenes"},
		{"Router, parent", "mains device through which battery devices talk"},
		{"Scene", "named levels of a room's loads, recalled together"},
		{"Fade", "time from one level to the next"},
		{"Mode", "how a room is being used: normal, after hours, cleaning or event"},
		{"Class", "kind of source that a command has; the order of priority says which class wins"},
		{"Hold", "time for which a person's command keeps lower classes away from a load"},
		{"Lock", "a level that nothing else moves until the lock ends"},
		{"Scenario", "a story of the room in steps: what happens, and the levels to expect"},
		{"Delay", "time between the last report of people and what then happens"},
		{"Warning", "dip before the lights go off; a press or a movement brings them back"},
		{"Occupied, vacant", "the first sensor that sees people makes a room occupied; it is vacant only when all say so"},
		{"Typical", "a room designed once that others follow"},
		{"Exception", "what a room does otherwise than its typical"},
		{"Egress load", "load that lights the way out"},
		{"Bypass", "listed device that gives egress loads power past the controls when normal power fails"},
		{"Window row, second row", "luminaires nearest to the windows, and the next ones in"},
		{"Finding", "what a rule noticed, with its numbers"},
		{"Waiver", "a finding that a named person accepts for a stated reason; it lapses when the numbers get worse"},
		{"Sign-off", "a name under a room as it was; stale once the room changes"},
		{"Start-up, verification", "making it work, and showing by tests that it does: two jobs, two records"},
	}}
}

func signLegend() Legend {
	out := Legend{}
	for _, m := range Marks() {
		out.Items = append(out.Items, LegendItem{m.Symbol(), m.Meaning()})
	}
	return out
}

func wholeMatrixLegend() Legend {
	out := Legend{Items: []LegendItem{{"0-100", "level in % of full output"}}}
	for _, w := range matrixWords {
		out.Items = append(out.Items, LegendItem{w.code, w.meaning})
	}
	out.Items = append(out.Items, LegendItem{none, "does nothing, on purpose"})
	return out
}
