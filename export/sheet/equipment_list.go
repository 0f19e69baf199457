package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// EquipmentAndLimits lists the equipment book with ratings and sources, and the limits
// that the rules test against.
func EquipmentAndLimits(c *Content) []Sheet {
	s := Sheet{ID: "equipment", Number: numberEquipment, Title: "Equipment and limits", Head: c.head(), Landscape: true}
	s.Blocks = withoutNil([]Block{c.partialNote(), c.equipmentTable(), c.limitTable(),
		Paragraph{Text: "Ratings and limits are data of this project. Before ordering, check them against the data sheets of what is really offered."}})
	return []Sheet{s}
}

func (c *Content) equipmentTable() Table {
	t := Table{Caption: "Equipment", Empty: "The equipment book is empty.", Columns: []Column{{Title: "Type", Width: 3}, {Title: "Kind", Width: 1.8}, {Title: "Supply", Width: 1.4}, {Title: "Ratings", Width: 5}, {Title: "Mounting, box", Width: 2.4}, {Title: "Used", Kind: Number, Width: 0.8}, {Title: "Source", Width: 2.4}}}
	n := countTypes(c.rooms())
	for _, k := range equipment.Kinds() {
		for i := range c.project.Book {
			typ := &c.project.Book[i]
			if typ.Kind != k {
				continue
			}
			supply := string(typ.Supply)
			if typ.Cell != "" {
				supply += " " + typ.Cell
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(typ.Name), TextCell(k.Traits().Name), TextCell(supply), TextCell(or(strings.Join(c.ratings(typ), "; "), notStated)),
				TextCell(mountText(typ)), countCell(n[typ.ID]), TextCell(or(typ.Source, notStated))}})
		}
	}
	return t
}

func mountText(t *equipment.Type) string {
	text := or(t.Mounting, notStated)
	if t.Box != "" && t.Box != "none" {
		text += "; " + t.Box
	}
	return text
}

// ratings says in words what a type can carry, hold and do; what is not stated is left out.
func (c *Content) ratings(t *equipment.Type) []string {
	var out []string
	add := func(have bool, format string, args ...any) {
		if have {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	add(t.Outputs > 0, "%s of %s A", count(t.Outputs, "output", "outputs"), number(float64(t.OutputAmps)))
	add(t.MaxVolts > 0, "%s-%s V", number(float64(t.MinVolts)), number(float64(t.MaxVolts)))
	dims := make([]string, len(t.Dims))
	for i, d := range t.Dims {
		dims[i] = string(d)
	}
	add(len(dims) > 0, "%s", strings.Join(dims, ", "))
	add(t.Sink > 0, "%s mA control current an output", number(float64(t.Sink)))
	add(t.Scenes > 0, "stores %s", count(t.Scenes, "scene", "scenes"))
	add(t.Buttons > 0, "%s", count(t.Buttons, "button", "buttons"))
	add(t.Inputs > 0, "%s", count(t.Inputs, "input", "inputs"))
	add(t.Aux > 0, "feeds %s W", number(float64(t.Aux)))
	add(t.Draw > 0, "takes %s W", number(float64(t.Draw)))
	add(t.LifeYears > 0, "cell lasts %s years", number(t.LifeYears))
	add(t.Coverage > 0, "covers %s", units.Area(t.Coverage, c.project.Units))
	children := t.Children
	if children == 0 {
		children = int(c.project.Limits.Value(domain.ChildrenPerRouter))
	}
	for _, text := range c.physics(t) {
		add(true, "%s", text)
	}
	add(t.Routes, "relays radio, up to %s", count(children, "battery device", "battery devices"))
	return out
}

// physics says what a type states of its radio and of what it sees.
func (c *Content) physics(t *equipment.Type) []string {
	var out []string
	length := func(m units.Metres) string { return units.PlainLength(m, c.project.Units) }
	if t.Sensitivity != 0 {
		text := fmt.Sprintf("radio %s dBm, hears %s dBm", number(t.TxPower), number(t.Sensitivity))
		if t.Gain != 0 {
			text += ", antenna " + number(t.Gain) + " dBi"
		}
		out = append(out, text)
	}
	if t.Senses != "" {
		out = append(out, string(t.Senses))
	}
	if t.MajorRadius > 0 {
		text := "sees walking within " + length(t.MajorRadius)
		if t.MinorRadius > 0 {
			text += ", small motion within " + length(t.MinorRadius)
		}
		if t.Angle > 0 && t.Angle < 360 {
			text += ", over " + number(t.Angle) + " degrees"
		}
		if t.StatedAt > 0 {
			text += ", mounted at " + length(t.StatedAt)
		}
		out = append(out, text)
	}
	if t.Lowest > 0 || t.Highest > 0 {
		out = append(out, "mounts at "+length(t.Lowest)+" to "+length(t.Highest))
	}
	if t.TestedForInrush {
		out = append(out, "tested for inrush by NEMA 410")
	}
	if t.InrushPeak > 0 {
		out = append(out, "makes a peak of "+number(float64(t.InrushPeak))+" A")
	}
	return out
}

func (c *Content) limitTable() Table {
	t := Table{Caption: "Limits", Columns: []Column{{Title: "Limit", Width: 4}, {Title: "Value", Width: 1.4}, {Title: "Source", Width: 5}}}
	for _, g := range domain.GenericLimits() {
		if group := domain.LimitGroup(g.ID); group != "" {
			t.Rows = append(t.Rows, Row{Group: true, Cells: []Cell{TextCell(group)}})
		}
		l := c.project.Limits.Find(g.ID)
		source := l.Source
		if l.Value != g.Value {
			source += " (built in: " + g.Text(c.project.Units) + ")"
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(l.Title), TextCell(l.Text(c.project.Units)), TextCell(source)}})
	}
	return t
}
