package sheet

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// loadColumns are the columns of a load table after the tag.
func loadColumns() []Column {
	return []Column{
		{Title: "What it serves", Width: 2}, {Title: "Luminaires", Width: 2.2}, {Title: "Power", Unit: "W", Kind: Number, Width: 1.1},
		{Title: "Volts", Unit: "V", Kind: Number, Width: 1}, {Title: "Current", Unit: "A", Kind: Number, Width: 1.15},
		{Title: "Circuit", Width: 1.3}, {Title: "Output", Width: 1.3}, {Title: "Dimming", Width: 1.9},
		{Title: "Daylight", Width: 1.5}, {Title: "Egress", Width: 2.3},
	}
}

// powerColumn is the place of the watts among loadColumns.
const powerColumn = 2

// loadTable lists the loads of one room with the sum of their watts.
func (r *room) loadTable() Table {
	t := Table{Caption: "Loads", Columns: append([]Column{{Title: "Tag", Width: 1}}, loadColumns()...),
		Empty: "No loads have been defined yet."}
	decimals := r.c.powerDecimals(r)
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		cells := append([]Cell{markIf(TextCell(or(l.Tag, "no tag")), r.departures().added("loads", l.ID))}, r.loadCells(l, decimals)...)
		t.Rows = append(t.Rows, Row{Cells: cells, Changed: r.changedIn("loads", l.ID)})
	}
	if len(t.Rows) > 0 {
		total := totalRow("", t.Columns, 1+powerColumn, r.lightingWatts(decimals), decimals)
		total.Cells[1] = TextCell("All lighting") // the tag's column is too narrow for it
		t.Rows = append(t.Rows, total)
	}
	return t
}

// totalRow is a row of dashes with one sum in it.
func totalRow(name string, columns []Column, at int, sum float64, decimals int) Row {
	row := Row{Total: true, Cells: make([]Cell, len(columns))}
	for i := range row.Cells {
		row.Cells[i] = TextCell("")
	}
	row.Cells[0], row.Cells[at] = TextCell(name), NumberCell(sum, decimals)
	return row
}

// powerDecimals is what it takes to print the watts of all given rooms in one column.
func (c *Content) powerDecimals(rooms ...*room) int {
	most := 0
	for _, r := range rooms {
		for i := range r.Design.Loads {
			w, _, _ := r.Design.Loads[i].Power(c.project)
			most = max(most, decimalsOf(float64(w)))
		}
	}
	return most
}

// lightingWatts is the sum of what the table prints for the lighting loads.
func (r *room) lightingWatts(decimals int) float64 {
	sum := 0.0
	for i := range r.Design.Loads {
		if l := &r.Design.Loads[i]; l.Kind == domain.Lighting {
			w, _, _ := l.Power(r.c.project)
			sum += roundTo(float64(w), decimals)
		}
	}
	return sum
}

func (r *room) loadCells(l *domain.Load, decimals int) []Cell {
	p := r.c.project
	differ := func(c Cell, fields ...string) Cell {
		return markIf(c, r.departures().field("loads", l.ID, fields...))
	}
	w, a, known := l.Power(p)
	return []Cell{
		differ(TextCell(or(l.Name, r.layerOf(l))), "name", "layer"),
		differ(TextCell(servedText(p, l)), "luminaire", "count", "rating_a", "kind"),
		differ(quantity(float64(w), w > 0, l.Kind, decimals), "watts", "luminaire", "count"),
		differ(quantity(float64(l.Voltage(p)), l.Voltage(p) > 0, l.Kind, decimalsOf(float64(l.Voltage(p)))), "volts"),
		differ(quantity(float64(a), known, l.Kind, 2), "watts", "volts"),
		TextCell(or(l.Circuit, notStated)),
		differ(TextCell(r.outputText(l)), "controller", "output"),
		differ(TextCell(dimmingText(p, l)), "dimming", "pair_wire"),
		differ(TextCell(zoneText(l)), "zone"),
		differ(TextCell(egressText(l)), "egress", "bypass"),
	}
}

func (r *room) layerOf(l *domain.Load) string {
	switch {
	case l.Kind == domain.Receptacle:
		return "receptacles"
	case l.Layer != "":
		return string(l.Layer) + " lighting"
	}
	return "lighting"
}

// quantity prints a number; of a receptacle load, whose power nobody knows, a dash.
func quantity(v float64, known bool, kind domain.LoadKind, decimals int) Cell {
	switch {
	case known:
		return NumberCell(v, decimals)
	case kind == domain.Receptacle:
		return TextCell(none)
	}
	return TextCell(notStated)
}

// servedText gives "6 x A", "receptacles, 20 A" or "own watts".
func servedText(p *domain.Project, l *domain.Load) string {
	if l.Kind == domain.Receptacle {
		if l.Rating > 0 {
			return "receptacles, " + number(float64(l.Rating)) + " A"
		}
		return "receptacles"
	}
	if lum := p.Luminaire(l.Luminaire); lum != nil {
		return fmt.Sprintf("%d x %s", l.Count, lum.Tag)
	}
	if l.Count > 0 {
		return fmt.Sprintf("%d, type not stated", l.Count)
	}
	return "type not stated"
}

func (r *room) outputText(l *domain.Load) string {
	d := r.Design.Device(l.Controller)
	switch {
	case d == nil:
		return "not assigned"
	case l.Output == 0:
		return d.Tag + ", output not stated"
	}
	return fmt.Sprintf("%s.%d", d.Tag, l.Output)
}

// dimmingText gives "0-10V, to 10 %".
func dimmingText(p *domain.Project, l *domain.Load) string {
	text := or(string(l.Dimming), "switched")
	if lum := p.Luminaire(l.Luminaire); lum != nil && text != "switched" && lum.DimsTo > 0 {
		text += ", to " + units.Percent(lum.DimsTo)
	}
	return text + pairText(l)
}

// pairText names the wire of a load's control pair where it is stated.
func pairText(l *domain.Load) string {
	if l.PairWire == "" || l.Dimming != equipment.Analog {
		return ""
	}
	return ", pair of " + string(l.PairWire)
}

func zoneText(l *domain.Load) string {
	if l.Zone == "" || l.Zone == domain.ZoneNone {
		return none
	}
	return string(l.Zone)
}

func egressText(l *domain.Load) string {
	switch {
	case !l.Egress:
		return none
	case l.Bypass == "":
		return "yes, bypass not stated"
	}
	return "yes, " + l.Bypass
}
