package plan

import (
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// bands are the daylight factors that are told apart, from each on in percent. A mean
// of 2 % gives a room that looks lit by day for the most part, one of 5 % a room that
// needs no lamps by day: BS 8206-2, from memory. 1 % is common practice, no published
// source.
var bands = []struct {
	from  float64
	hatch hatch
	text  string
}{{0, hatchDim, "under 1 %"}, {1, hatchSome, "1 to 2 %"}, {dayFrom, hatchDay, "2 to 5 %"}, {5, hatchMuch, "5 % and more"}}

// dayFrom is the daylight factor of which the list says on how much of the floor it is
// reached, percent: that of bands.
const dayFrom = 2

func bandOf(percent float64) int {
	for i := len(bands) - 1; i > 0; i-- {
		if percent >= bands[i].from {
			return i
		}
	}
	return 0
}

// outdoors is the illuminance for which factors are told as light: a round figure of
// an overcast sky.
const outdoors units.Lux = 10_000

// lightOf says what a daylight factor in percent is in light.
func lightOf(percent float64, sys units.System) string {
	return units.Light(outdoors*units.Lux(percent/100), sys)
}

// factorText prints a daylight factor in percent: to a tenth, small ones to a
// hundredth.
func factorText(percent float64) string {
	if percent < 1 {
		return units.Trim(percent, 2) + " %"
	}
	return units.Trim(percent, 1) + " %"
}

// factors draws the daylight factors of the room.
func (d *dayDrawing) factors(now *models, before models) roomOverlay {
	if why := d.dark(); why != "" {
		return d.without(why)
	}
	if d.err != nil {
		return d.without(edits.SentenceOf(d.err))
	}
	g := d.grid(now, before)
	cells, lines := d.bands(g), &markup{}
	d.glass(lines)
	if d.whole {
		return d.drawn(cells, lines, d.factorSummary(g))
	}
	d.numbers(lines, g)
	return d.drawn(cells, lines, d.factorList(g)...)
}

// bands draws cells of one band as one shape.
func (d *dayDrawing) bands(g *daylight.Grid) *markup {
	box := d.space.Outline.Bounds()
	columns, count := place(box.Width(), g.Step), place(box.Height(), g.Step)
	level := make([]int, columns*count)
	for i := range level {
		level[i] = -1
	}
	for i := range g.Cells {
		at := g.Cells[i].At.Sub(box.Min)
		level[int(at.Y/g.Step)*columns+int(at.X/g.Step)] = bandOf(g.Cells[i].Total())
	}
	out := &markup{}
	for i, path := range cellPaths(box.Min, box.Max, g.Step, columns, count, len(bands), func(c, r int) int { return level[r*columns+c] }) {
		out.area(bands[i].hatch, path)
	}
	return out
}

// place counts the cells of a step along a length, as Grid does.
func place(length, step float64) int { return max(1, int(math.Ceil(length/step-1e-9))) }

// Numbers stand this far apart at least, meters, and no more of them than that.
const (
	numberEvery = 1.4
	mostNumbers = 150
)

// numbers writes factors at some points of the grid.
func (d *dayDrawing) numbers(out *markup, g *daylight.Grid) {
	every := max(1, int(math.Ceil(max(numberEvery, math.Sqrt(d.space.Outline.Area()/mostNumbers))/g.Step)))
	from := d.space.Outline.Bounds().Min
	for i := range g.Cells {
		at := g.Cells[i].At.Sub(from)
		if column, row := int(at.X/g.Step), int(at.Y/g.Step); column%every == every/2 && row%every == every/2 {
			out.note("o-number", g.Cells[i].At.Sub(geom.Pt(0, 0.08)), strings.TrimSuffix(factorText(g.Cells[i].Total()), " %"))
		}
	}
}

func (d *dayDrawing) factorSummary(g *daylight.Grid) overlayRow {
	return d.roomRow("mean "+factorText(g.Spread().Mean)+", "+d.dayShare(g)+d.coarse(g), "")
}

// coarse says that a grid is wider than the limit asks, so that its figures may differ
// from the sheet's; "" where it is not.
func (d *dayDrawing) coarse(g *daylight.Grid) string {
	if units.AtMost(g.Step, d.project.Limits.Value(domain.DaylightGrid)) {
		return ""
	}
	return ", on a coarse grid of " + units.Nearly(units.Metres(g.Step), d.project.Units)
}

func (d *dayDrawing) dayShare(g *daylight.Grid) string {
	return units.Share(g.ShareOver(dayFrom)) + " of the floor at 2 % or more"
}

// factorList tells the room's figures, what its loads get, and what is doubtful.
func (d *dayDrawing) factorList(g *daylight.Grid) []overlayRow {
	s, sys := g.Spread(), d.project.Units
	at := func(percent float64) string {
		return lightOf(percent, sys) + " under " + units.Light(outdoors, sys) + " outdoors"
	}
	formula := "ADF, by glass and surfaces"
	if len(d.space.Rooflights) > 0 {
		formula += "; rooflights are not in it"
	}
	out := []overlayRow{
		d.row("mean", "Mean of the work plane", factorText(s.Mean), at(s.Mean)+d.coarse(g)),
		d.row("formula", "Mean by the formula", factorText(d.light.Mean()), formula),
		d.row("differ", "The two means differ", "", d.light.WhyMeansDiffer()),
		d.spot("least", "Least", g, s.Least, at(s.Least)),
		d.spot("most", "Most", g, s.Most, at(s.Most)),
		d.row("even", "Uniformity", units.Trim(s.Uniformity, 2), "least over mean"),
		d.row("share", d.dayShare(g), "", ""),
		d.row("inside", "Reflected in the room, its mean", factorText(d.light.Reflected()), "in all of these"),
	}
	out = append(out, d.row("point", "Point at the plan for the factor there, part by part", "", "from the keyboard: Q on the plan, then arrows"))
	out = append(out, d.underLoads()...)
	return append(out, d.doubts()...)
}

// spot is a line about the first point of the grid that has a factor.
func (d *dayDrawing) spot(name, title string, g *daylight.Grid, percent float64, more string) overlayRow {
	row := d.row(name, title, factorText(percent), more)
	if i := slices.IndexFunc(g.Cells, func(c daylight.Cell) bool { return c.Total() == percent }); i >= 0 {
		row.Key, row.At = "room/"+d.id(), lookAt(g.Cells[i].At)
	}
	return row
}

// underLoads tells what daylight there is beneath the luminaires of each load.
func (d *dayDrawing) underLoads() []overlayRow {
	light := d.light
	var out []overlayRow
	for i := range d.room.Design.Loads {
		l := &d.room.Design.Loads[i]
		if s := light.Under(l.ID); l.Kind == domain.Lighting && s.Points > 0 {
			out = append(out, d.row("under-"+string(l.ID), "Under "+strings.TrimSpace(l.Tag+" "+l.Name), factorText(s.Mean), "mean of "+edits.Count(s.Points, "luminaire")+", least "+factorText(s.Least)))
		}
	}
	return out
}

func (d *dayDrawing) doubts() []overlayRow {
	var out []overlayRow
	for i, doubt := range d.light.Doubts() {
		row := d.row("doubt-"+units.Trim(float64(i), 0), upperFirst(string(doubt)), "", "")
		row.Grade = grade{"info", "less sure"}
		out = append(out, row)
	}
	return out
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
