package sheet

import (
	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/units"
)

// loadTable says for each load on the plan what daylight reaches it and what makes it
// follow.
func (r *daylitRoom) loadTable() Block {
	t := Table{Caption: "Loads in daylight", Empty: "No luminaire of a lighting load stands on the plan.", Columns: []Column{{Title: "Load", Width: 0.7}, {Title: "Follows daylight by", Width: 3}, {Title: "Lit from", Width: 1.4}, {Title: "Factor under it", Unit: "%", Kind: Number, Width: 1.2}, {Title: "Target", Align: Right, Width: 1}, {Title: "Down to", Align: Right, Width: 1.4}}}
	for i := range r.loads {
		x := &r.loads[i]
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(x.Load.Tag), r.followsBy(x), TextCell(orDash(joined(r.sides(x)))), NumberCell(roundTo(x.Under.Mean, 1), 1), TextCell(units.Light(x.Set, r.c.project.Units)), TextCell(lowest(&x.Lamps))}})
	}
	return t
}

// yearTable says what following daylight would let each of them save in a year.
func (r *daylitRoom) yearTable(d *daylit) Block {
	t := Table{Caption: "Dimming by daylight through the year, predicted, in the hours of use", Empty: "No luminaire of a lighting load stands on the plan.", Columns: []Column{{Title: "Load", Width: 0.7}},
		Note: "Light and power are means over the year, of full; enough is the share of the hours in which daylight alone gives the target. Overcast, clear: every day so. A load that nothing trims by daylight is shown as one with the usual numbers would do."}
	for _, sky := range []string{"Overcast", "Clear", "Mixed"} {
		for _, what := range []string{"light", "power", "enough"} {
			t.Columns = append(t.Columns, Column{Title: sky + ": " + what, Unit: "%", Kind: Number, Width: 1})
		}
	}
	for i := range r.loads {
		x := &r.loads[i]
		cells := []Cell{TextCell(x.Load.Tag)}
		for _, s := range []daylight.Saved{x.Overcast, x.Clear, x.Mixed} {
			cells = append(cells, d.savedCells(s)...)
		}
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	return t
}

// savedCells print a year under one sky, nothing where the project has no place.
func (d *daylit) savedCells(s daylight.Saved) []Cell {
	if d.place != nil {
		return []Cell{TextCell(none), TextCell(none), TextCell(none)}
	}
	return []Cell{NumberCell(roundTo(100*s.Light, 0), 0), NumberCell(roundTo(100*s.Power, 0), 0), NumberCell(roundTo(100*s.Enough, 0), 0)}
}

// followsBy names what makes a load follow daylight, or what lacks.
func (r *daylitRoom) followsBy(x *daylight.Prediction) Cell {
	switch {
	case x.Intent == nil && x.Sensed:
		return TextCell("nothing: no statement says how").Marked(Warning)
	case x.Intent == nil:
		return TextCell("nothing")
	case !x.Sensed:
		return TextCell(r.stepOfIntent(x.Intent.ID) + ", but no sensor acts on it").Marked(Warning)
	}
	text := r.stepOfIntent(x.Intent.ID) + ", " + shortTags(r.sensorsOn(x.Load.ID), ", ")
	if x.Intent.Conditional() {
		text += "; at times only, which is not in the figures"
	}
	return TextCell(text)
}

// sensorsOn lists the daylight sensors that act on a load.
func (r *room) sensorsOn(load domain.ID) (tags []string) {
	for i := range r.Design.Devices {
		dev := &r.Design.Devices[i]
		t := r.c.project.Book.Find(dev.Type)
		if t == nil || !t.Kind.Traits().Daylight {
			continue
		}
		if k := r.link(domain.Input{Device: dev.ID}, load); k != nil && k.Do.Verb == domain.Acts {
			tags = append(tags, dev.Tag)
		}
	}
	return tags
}

// sides names from where a load's luminaires are lit.
func (r *daylitRoom) sides(x *daylight.Prediction) (out []string) {
	for _, f := range x.Facing {
		out = append(out, winds[int(f.Azimuth/45+0.5)%8])
	}
	if out == nil && len(r.space.Rooflights) > 0 {
		return []string{"above"}
	}
	return out
}

// lowest says how far lamps go down: "10 %, then off".
func lowest(d *daylight.Dimming) string {
	switch {
	case d.Steps > 0:
		return "on or off"
	case d.LeastLight >= 1:
		return "stays on"
	}
	text := units.Percent(units.Level(100 * d.LeastLight))
	if d.Off {
		text += ", then off"
	}
	return text
}
