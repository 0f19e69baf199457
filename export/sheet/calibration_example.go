package sheet

import (
	"fmt"

	"scopewright/domain/daylight"
	"scopewright/domain/units"
)

// exampleSheet works the formulas through with numbers, once for all rooms of a document.
func (c *Content) exampleSheet(open, closed bool) Sheet {
	s := Sheet{ID: "calibration-example", Number: numberCalibrate, Title: "Calibration of daylight sensors: worked example", Head: c.head(), Landscape: true}
	note := "Invented numbers, which show the way of reckoning and nothing of this building."
	if c.project.Units == units.US {
		note += " They are round in lx, and their footcandles stand before them. Ratios and levels are the same in either unit."
	}
	s.Blocks = append(s.Blocks, Paragraph{Text: note})
	x := example{c.project.Units}
	if open {
		s.Blocks = append(s.Blocks, x.open())
	}
	if closed {
		s.Blocks = append(s.Blocks, x.closed())
	}
	s.Blocks = append(s.Blocks, Paragraph{Text: x.resetFault()})
	return s
}

// example prints worked examples in a project's unit, with their lx beside.
type example struct{ sys units.System }

// Readings of the worked examples, lx.
var (
	openReadings   = []units.Lux{2000, 8000, 11000, 20000}
	closedReadings = []units.Lux{0, 75, 150, 225}
)

// light prints an illuminance: "46.5 fc (500 lx)", "500 lx".
func (x example) light(e units.Lux) string {
	lx := number(roundTo(float64(e), 1)) + " lx"
	if x.sys != units.US {
		return lx
	}
	return units.Light(e, units.US) + " (" + lx + ")"
}

// per prints what is reckoned per lx, with so many decimals, and per fc before it.
func (x example) per(v float64, decimals int) string {
	lx := fmt.Sprintf("%.*f per lx", decimals, v)
	if x.sys != units.US {
		return lx
	}
	return fmt.Sprintf("%.*f per fc (%s)", decimals-1, v*units.LuxPerFootcandle, lx)
}

func (x example) open() Block {
	loop, err := daylight.CalibrateOpen(500, 550, 8000, 300, 0.1)
	if err != nil {
		return Paragraph{Text: sentence(err.Error())}
	}
	t := Table{Caption: fmt.Sprintf("Open loop: Eset %s, Efull %s, E1 %s, S1 %s, lowest level 0.1", x.light(500), x.light(550), x.light(300), x.light(8000)), Columns: exampleColumns()}
	add := exampleRows(&t)
	add("a = Eset / Efull", "500 / 550", fmt.Sprintf("%.5f", loop.Night))
	add("L1 = (Eset - E1) / Efull", "(500 - 300) / 550", fmt.Sprintf("%.5f", loop.Level(8000)))
	add("b = (a - L1) / S1", fmt.Sprintf("(%.5f - %.5f) / 8000", loop.Night, loop.Level(8000)), x.per(loop.Slope, 10))
	for _, s := range openReadings {
		add("Level at S = "+x.light(s), fmt.Sprintf("%.5f - %.10f x %s, not below 0.1", loop.Night, loop.Slope, number(float64(s))), fmt.Sprintf("%.5f", loop.Level(s)))
	}
	add("The lowest level is reached at", fmt.Sprintf("(%.5f - 0.1) / %.10f", loop.Night, loop.Slope), x.light(loop.ReadingAt(0.1)))
	return t
}

func (x example) closed() Block {
	loop, err := daylight.CalibrateClosed(100, 500, 150, 300, 0.1)
	if err != nil {
		return Paragraph{Text: sentence(err.Error())}
	}
	t := Table{Caption: fmt.Sprintf("Closed loop: Eset %s, Sn %s, E1 %s, S1d %s, lowest level 0.1", x.light(500), x.light(100), x.light(300), x.light(150)), Columns: exampleColumns(),
		Note: "The task stays at " + x.light(500) + " while daylight keeps its ratio of task to sensor, 300 to 150."}
	add := exampleRows(&t)
	add("M", "-(300/500) / (150 + (1 - 300/500) x 100 - 100)", x.per(loop.Gain, 8))
	for _, sd := range closedReadings {
		level := loop.Level(sd)
		task := daylight.TaskLight(500, level, 2*sd)
		add("Level with Sd = "+x.light(sd)+" of daylight at the sensor", fmt.Sprintf("(1 + M (%s - 100)) / (1 - M x 100)", number(float64(sd))), fmt.Sprintf("%.1f, task %s", level, x.light(task)))
	}
	return t
}

func exampleColumns() []Column {
	return []Column{{Title: "What", Width: 2.4}, {Title: "Reckoned in lx", Width: 4}, {Title: "Result", Align: Right, Width: 2.2}}
}

func exampleRows(t *Table) func(what, how, result string) {
	return func(what, how, result string) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(what), TextCell(how), TextCell(result)}})
	}
}

// resetFault says in one line why integral reset is not the way, with the numbers of
// the example.
func (x example) resetFault() string {
	level := daylight.ResetLevel(100, 75, 0.1)
	return fmt.Sprintf("Integral reset, which holds the sensor at its night reading, leaves the task too dark: a sensor that reads %s at night, and %s of daylight alone by day while the task has %s of it, dims to %s, and the task has %s instead of %s. The ceiling sees relatively more daylight than the desk.",
		x.light(100), x.light(75), x.light(150), number(level), x.light(daylight.TaskLight(500, level, 150)), x.light(500))
}
