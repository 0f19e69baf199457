package sheet

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// LuminaireSchedule lists the luminaire types with their ratings and how many are used.
func LuminaireSchedule(c *Content) []Sheet {
	s := Sheet{ID: "luminaires", Number: numberLuminaires, Title: "Luminaire schedule", Head: c.head(), Landscape: true}
	s.Blocks = withoutNil([]Block{c.partialNote(), c.luminaireTable(), toCaution(domain.CautionMains)})
	return []Sheet{s}
}

func (c *Content) luminaireTable() Table {
	t := Table{Caption: "Luminaires", Empty: "The luminaire schedule is empty.", Note: "Control current where none is stated: at most 2 mA a driver is assumed (IEC 60929 Annex E, from memory). Inrush is peak current x width at half of the peak.",
		Columns: []Column{{Title: "Type", Width: 0.9}, {Title: "Description", Width: 3.4}, {Title: "Power", Unit: "W", Kind: Number, Width: 1}, {Title: "Volts", Unit: "V", Kind: Number, Width: 1}, {Title: "Power factor", Kind: Number, Width: 1},
			{Title: "Driver", Width: 1.6}, {Title: "Drivers each", Kind: Number, Width: 1}, {Title: "Control", Unit: "mA", Width: 1.2}, {Title: "Inrush", Width: 1.5}, {Title: "Dims to", Width: 1.3}, {Title: "Used", Kind: Number, Width: 0.9}, {Title: "Source", Width: 2}}}
	used, watts := map[domain.ID]int{}, 0
	for _, r := range c.rooms() {
		for i := range r.Design.Loads {
			used[r.Design.Loads[i].Luminaire] += r.Design.Loads[i].Count
		}
	}
	for i := range c.project.Luminaires {
		watts = max(watts, decimalsOf(float64(c.project.Luminaires[i].Watts)))
	}
	for i := range c.project.Luminaires {
		l := &c.project.Luminaires[i]
		pf := NumberCell(l.PowerFactor, max(2, decimalsOf(l.PowerFactor)))
		if l.PowerFactor <= 0 {
			pf = TextCell("1 assumed")
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(l.Tag), TextCell(or(l.Description, notStated)), quantity(float64(l.Watts), l.Watts > 0, domain.Lighting, watts), quantity(float64(l.Volts), l.Volts > 0, domain.Lighting, decimalsOf(float64(l.Volts))), pf,
			TextCell(string(l.Driver)), NumberCell(float64(l.DriverCount()), 0), TextCell(controlText(l)), TextCell(inrushText(l)), TextCell(dimsText(l)), NumberCell(float64(used[l.ID]), 0), TextCell(or(l.Source, notStated))}})
	}
	return t
}

func controlText(l *domain.Luminaire) string {
	if l.Driver != domain.DriverAnalog {
		return none
	}
	ma, assumed := l.ControlCurrent()
	if assumed {
		return number(float64(ma)) + " assumed"
	}
	return number(float64(ma))
}

func inrushText(l *domain.Luminaire) string {
	switch {
	case l.InrushPeak <= 0:
		return notStated
	case l.InrushUs <= 0:
		return number(float64(l.InrushPeak)) + " A"
	}
	return number(float64(l.InrushPeak)) + " A x " + number(l.InrushUs) + " us"
}

func dimsText(l *domain.Luminaire) string {
	if l.Driver == domain.DriverSwitched {
		return none
	}
	text := notStated
	if l.DimsTo > 0 {
		text = units.Percent(l.DimsTo)
	}
	if l.DimToOff {
		text += ", then off"
	}
	return text
}
