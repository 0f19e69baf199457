package sheet

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/units"
)

// How near the task must come, and how small a change is left alone (common practice,
// no published source).
const (
	taskWithin = 10   // % of the target
	deadBand   = 0.05 // of full
	warmUp     = 30   // minutes
)

// steps are the method, by the kind of loop.
func steps(s *calibratedSensor) Block {
	night := fmt.Sprintf("Night: after dark, furniture in, blinds as in use. Switch on the loads that the sensor governs and nothing else; keep light on every way out. Let the lamps burn for %d minutes.", warmUp)
	day := "Day: an even sky, overcast or with the sun off this side of the building, blinds open, no patch of sun on the task, the sensor or the wall beside it. Read all within a minute; wait and read again where two readings differ by more than a tenth."
	points := "Measure at the task, on the work plane: at three places or more under the loads that the sensor governs, where people work. Write down their mean, and mark the places on the plan."
	after := "Enter the results in the control, write down its settings, and go through the acceptance table on another day or at another time of the same day."
	if s.closed {
		return Statements{Items: []Statement{{Text: points}, {Text: night + " Dim the lamps until the task has the target Eset, and read the sensor: Sn."},
			{Text: day + " Switch the lamps off: the task has E1, which must be below Eset, and the sensor reads S1d."}, {Text: "Reckon M and enter it: the level is 1 + M (S - Sn), kept between the lowest level and 1, where 1 is the level of the night measurement."}, {Text: after}}}
	}
	return Statements{Items: []Statement{{Text: points}, {Text: night + " At full the task has Efull."},
		{Text: day + " Switch the lamps off: the task has E1 and the sensor reads S1."}, {Text: "Reckon a, L1 and b and enter a and b: the level is a - b S, kept between the lowest level and 1."}, {Text: after}}}
}

// measured is where readings and results are written.
func (r *room) measured(s *calibratedSensor) Block {
	t := Table{Caption: s.device.Tag + ": readings and results", Writing: true, Columns: []Column{{Title: "Quantity", Width: 3}, {Title: "Symbol", Align: Center, Width: 0.8}, {Title: "How", Width: 2.6}, {Title: "Predicted", Align: Right, Width: 1.2}, {Title: "Point 1", Width: 1}, {Title: "Point 2", Width: 1}, {Title: "Point 3", Width: 1}, {Title: "Mean or result", Width: 1.3}, {Title: "Unit", Width: 0.9}},
		Note: "Task in " + lightUnit(r.c.project.Units) + "; the sensor in the unit that the control shows. Any one unit serves the task throughout. Levels are shares of full, 0 to 1."}
	for _, q := range r.readings(s) {
		blank := writeCells(4)
		if !q.points {
			blank[0], blank[1], blank[2] = TextCell(none), TextCell(none), TextCell(none)
		}
		cells := append([]Cell{TextCell(q.name), TextCell(q.symbol), TextCell(q.how), TextCell(orDash(q.predicted))}, blank...)
		t.Rows = append(t.Rows, Row{Cells: append(cells, TextCell(q.unit))})
	}
	return t
}

// reading is a line of the form.
type reading struct {
	name, symbol, how, predicted, unit string
	points                             bool // read at several places
}

func (r *room) readings(s *calibratedSensor) []reading {
	task, sensor := lightUnit(r.c.project.Units), "as shown"
	target, e1, l1 := "", "", ""
	if s.target > 0 {
		target = units.Light(s.target, r.c.project.Units)
	}
	if s.factor > 0 && s.target > 0 {
		e1, l1 = units.Light(s.target/2, r.c.project.Units), "0.5"
	}
	if s.closed {
		return []reading{
			{"Task at night, lamps dimmed to the target", "Eset", "meter at the task", target, task, true},
			{"Sensor at night, lamps at the target", "Sn", "read from the control", "", sensor, false},
			{"Task by day, lamps off", "E1", "meter at the task, on a good day", e1, task, true},
			{"Sensor by day, lamps off", "S1d", "read from the control", "", sensor, false},
			{"Share that daylight gives", "E1/Eset", "E1 over Eset, below 1", l1, none, false},
			{"Gain", "M", "-(E1/Eset) / (S1d + (1 - E1/Eset) Sn - Sn)", "", "per unit of the sensor", false},
		}
	}
	a := ""
	if s.target > 0 {
		a = "1 or less"
	}
	return []reading{
		{"Target at the task", "Eset", "from the design", target, task, false},
		{"Task at night, lamps at full", "Efull", "meter at the task", "", task, true},
		{"Task by day, lamps off", "E1", "meter at the task, on a good day", e1, task, true},
		{"Sensor by day, lamps off", "S1", "read from the control", "", sensor, false},
		{"Level at night", "a", "Eset / Efull", a, none, false},
		{"Level wanted by day", "L1", "(Eset - E1) / Efull", "", none, false},
		{"Slope", "b", "(a - L1) / S1", "", "per unit of the sensor", false},
	}
}

func lightUnit(sys units.System) string {
	if sys == units.US {
		return "fc"
	}
	return "lx"
}

// acceptance is the check after the calibration.
func (r *room) acceptance(s *calibratedSensor) Block {
	t := Table{Caption: s.device.Tag + ": acceptance", Writing: true, Columns: []Column{{Title: "Check", Width: 1.4}, {Title: "Do", Width: 3}, {Title: "Expect", Width: 3.4}, {Title: "Sensor", Width: 1}, {Title: "Level seen", Width: 1}, {Title: "Task", Width: 1}, {Title: "Pass", Align: Center, Width: 0.7}, {Title: "Initials and date", Width: 1.2}},
		Note: fmt.Sprintf("The task passes within %d %%, a level within %d points (common practice, no published source).", taskWithin, levelWithin)}
	half, level := "half of the target", "level a - b S as reckoned"
	target := "the target"
	if s.target > 0 {
		target = units.Light(s.target, r.c.project.Units)
		half = units.Light(s.target/2, r.c.project.Units)
	}
	if s.closed {
		level = "level (1 + M (Sd - Sn)) / (1 - M Sn), with Sd the sensor's reading with the lamps off"
	}
	for _, line := range [][3]string{
		{"Dark", "After dark, lamps under daylight control", "Task " + target + "; the level of the night measurement"},
		{"Half daylight", "Daylight alone gives the task about " + half, "Lamps and daylight together give the task " + target + "; " + level},
		{"Bright", "Daylight alone gives the task more than " + target, brightest(s.intent)},
		{"Dead band", "Shade the sensor so that the level wanted changes by less than " + number(100*deadBand) + " points, then by twice that", "No change the first time, one the second; no hunting for 5 minutes"},
		{"Fade", "Shade and uncover the sensor, with a watch", "Each change takes " + fadeWords(s.intent) + " and nobody notices it as a jump"},
	} {
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{TextCell(line[0]), TextCell(line[1]), TextCell(line[2]), TextCell(blankShort), TextCell(blankShort), TextCell(blankShort)}, TextCell(tick), TextCell(blankShort))})
	}
	return t
}

func brightest(in *domain.Intent) string {
	switch {
	case in == nil:
		return "The lowest level that the design allows"
	case in.MayOff:
		return "Lamps go off, and come back when it gets darker"
	}
	return "Lamps at " + units.Percent(in.Lowest) + ", not lower"
}

func fadeWords(in *domain.Intent) string {
	if in == nil {
		return "as long as set"
	}
	return units.Duration(in.Fade)
}

// refusals are the conditions under which a calibration means nothing.
func refusals(open, closed bool) Block {
	out := Statements{Items: []Statement{
		{ID: tick, Text: "Sun patches lie on the task, the sensor or the wall beside it, or E1 is twice the target or more."},
		{ID: tick, Text: "E1 is 0 or below: the task gets no daylight, or other lamps were on at night."},
	}}
	add := func(text string) { out.Items = append(out.Items, Statement{ID: tick, Text: text}) }
	if open {
		add("S1 is 0: the sensor sees no daylight. Look where it faces, and whether its view is covered.")
		add("L1 is over a: by day the task would want more than at night. Measure again.")
		add("Efull is below Eset: the lamps cannot reach the target at night. Tell the designer.")
	}
	if closed {
		add("E1 is the target or more: wait for a darker sky.")
		add("S1d + (1 - E1/Eset) Sn - Sn is 0 or below: the sensor sees too little of the daylight that the task gets. Move it.")
	}
	return out
}
