package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/electrical"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// PanelSchedule lists what each circuit carries, panel by panel, against its breaker, and
// the loads that name no circuit.
func PanelSchedule(c *Content) []Sheet {
	p := c.panels()
	s := Sheet{ID: "circuits", Number: numberCircuits, Title: "Panel and circuit schedule", Head: c.head(), Landscape: true}
	s.Blocks = withoutNil([]Block{c.partialNote(), toCaution(domain.CautionCircuits), p.table(), p.assumptions(),
		Heading{1, "Loads that name no circuit"}, p.homeless()})
	if c.in.ProjectFindings != nil {
		s.Blocks = append(s.Blocks, Heading{1, "Findings of circuits"}, findingLines(ofCircuits(c.in.ProjectFindings)))
	}
	s.Blocks = append(s.Blocks, toCaution(domain.CautionMains))
	return []Sheet{s}
}

// panels is the circuits of a project with the loads on each.
type panels struct {
	c      *Content
	totals []domain.CircuitTotal
	loads  map[string][]loadsOf // by CircuitTotal.Key
}

// loadsOf is the loads that one room has on a circuit.
type loadsOf struct {
	room *room
	tags []string
}

func (c *Content) panels() *panels {
	p := &panels{c: c, loads: map[string][]loadsOf{}}
	var shares []domain.CircuitShare
	for _, r := range c.rooms() {
		shares = append(shares, r.CircuitShares(c.project)...)
		for i := range r.Design.Loads {
			l := &r.Design.Loads[i]
			of := domain.CircuitTotal{Name: l.Circuit}
			if r.on.building != nil {
				of.Building = r.on.building.ID
			}
			list := p.loads[of.Key()]
			if n := len(list); n == 0 || list[n-1].room != r {
				list = append(list, loadsOf{room: r})
			}
			list[len(list)-1].tags = append(list[len(list)-1].tags, or(l.Tag, "no tag"))
			p.loads[of.Key()] = list
		}
	}
	p.totals = domain.SumCircuits(c.project, shares)
	return p
}

// Columns of the table of circuits.
const (
	panelVA   = 4
	panelAmps = 5
)

func (p *panels) table() Table {
	t := Table{Caption: "Circuits by panel", Empty: "No load names a circuit yet.", Note: "Used is the current over what the breaker may carry for hours. Currents of a circuit are added as if in phase, which is on the safe side. Only loads of this project are counted; a circuit may feed more.",
		Columns: []Column{{Title: "Circuit", Width: 1.3}, {Title: "Rooms and loads", Width: 5}, {Title: "Lighting", Unit: "W", Kind: Number, Width: 1.1}, {Title: "Volts", Unit: "V", Width: 1.1},
			{Title: "Load", Unit: "VA", Kind: Number, Width: 1.1}, {Title: "Current", Unit: "A", Kind: Number, Width: 1.1}, {Title: "Breaker", Unit: "A", Kind: Number, Width: 1.1},
			{Title: "Used", Unit: "%", Kind: Number, Width: 1}, {Title: "Inrush", Unit: "A", Width: 1.7}, {Title: "Remarks", Width: 3.6}}}
	panel, sum, n := "\x00", 0.0, 0
	finish := func() {
		if n > 1 && sum > 0 {
			t.Rows = append(t.Rows, totalRow("Total", t.Columns, panelVA, sum, 0))
		}
		sum, n = 0, 0
	}
	for i := range p.totals {
		k := &p.totals[i]
		if k.Name == "" || p.c.partial && len(k.Shares) == 0 {
			continue
		}
		if name := p.panelName(k); name != panel {
			finish()
			panel = name
			t.Rows = append(t.Rows, groupRow(name))
		}
		t.Rows = append(t.Rows, p.row(k))
		sum, n = sum+roundTo(k.VA, 0), n+1
	}
	finish()
	return t
}

func (p *panels) panelName(k *domain.CircuitTotal) string {
	panel, _ := domain.PanelOf(k.Name)
	name := "Panel " + panel
	if panel == "" {
		name = "No panel named"
	}
	if len(p.c.project.Buildings) > 1 {
		for i := range p.c.project.Buildings {
			if b := &p.c.project.Buildings[i]; b.ID == k.Building {
				return b.Name + ", " + strings.ToLower(name[:1]) + name[1:]
			}
		}
	}
	return name
}

func (p *panels) row(k *domain.CircuitTotal) Row {
	project := p.c.project
	allowed, used := k.Allowed(project), TextCell(none)
	rating, _ := k.Rating(project)
	va, amps := NumberCell(k.VA, 0), NumberCell(float64(k.Amps+k.Rest), 2)
	if k.Unknown > 0 {
		amps = TextCell(fmt.Sprintf("%s + %d unknown", units.Trim(float64(k.Amps+k.Rest), 2), k.Unknown))
	}
	if k.Loads == 0 && k.Rest == 0 {
		va, amps = TextCell(none), TextCell(none)
	} else if allowed > 0 {
		used = NumberCell(100*float64(k.Counted(project)/allowed), 1)
		if !units.AtMost(float64(k.Counted(project)), float64(allowed)) {
			used = used.Marked(Error)
		}
	}
	return Row{Cells: []Cell{TextCell(k.Name), TextCell(p.feeds(k)), wattsCell(k), p.volts(k), va, amps, NumberCell(float64(rating), decimalsOf(float64(rating))), used, p.inrush(k), TextCell(orDash(p.remarks(k)))}}
}

func wattsCell(k *domain.CircuitTotal) Cell {
	if k.Loads == 0 {
		return TextCell(none)
	}
	return NumberCell(float64(k.Watts), decimalsOf(float64(k.Watts)))
}

// feeds gives "101: L1 to L4; 102: L1".
func (p *panels) feeds(k *domain.CircuitTotal) string {
	var parts []string
	for _, of := range p.loads[k.Key()] {
		parts = append(parts, or(of.room.Number, "room without number")+": "+shortTags(of.tags, ", "))
	}
	return or(strings.Join(parts, "; "), "nothing of this project")
}

func (p *panels) volts(k *domain.CircuitTotal) Cell {
	var known []string
	for _, v := range k.Volts {
		known = append(known, number(float64(v)))
	}
	if len(known) == 0 && k.Facts != nil && k.Facts.Volts > 0 {
		known = append(known, number(float64(k.Facts.Volts)))
	}
	cell := TextCell(or(strings.Join(known, " and "), notStated))
	if len(known) > 1 || len(k.Volts) == 1 && k.Facts != nil && k.Facts.Volts > 0 && k.Facts.Volts != k.Volts[0] {
		return cell.Marked(Error)
	}
	return cell
}

// inrush gives the sum of the peaks over what the breaker stands: "450 of 452.55".
func (p *panels) inrush(k *domain.CircuitTotal) Cell {
	most := electrical.BreakerPeak(p.c.project, k)
	switch {
	case k.Loads == 0:
		return TextCell(none)
	case k.Unstated > 0 && k.Drivers == 0:
		return TextCell("not checked")
	case k.Unstated > 0:
		return TextCell(fmt.Sprintf("%s of %s, %s not checked", number(float64(k.Inrush)), units.Trim(float64(most), 0), count(k.Unstated, "load", "loads")))
	}
	cell := TextCell(number(float64(k.Inrush)) + " of " + units.Trim(float64(most), 0))
	if !units.AtMost(float64(k.Inrush), float64(most)) {
		return cell.Marked(Warning)
	}
	return cell
}

func (p *panels) remarks(k *domain.CircuitTotal) string {
	var out []string
	_, assumed := k.Rating(p.c.project)
	_, assumedTrip := k.TripMultiple(p.c.project)
	assumedTrip = assumedTrip && k.Drivers+k.Unstated > 0 // else nothing is held to it
	switch {
	case assumed && assumedTrip:
		out = append(out, "breaker and trip assumed")
	case assumed:
		out = append(out, "breaker assumed")
	case assumedTrip:
		out = append(out, "trip assumed")
	}
	if k.Facts != nil && k.Facts.Trip != "" {
		out = append(out, "trip "+string(k.Facts.Trip))
	}
	if k.Facts != nil && k.Facts.Emergency {
		out = append(out, "emergency source")
	}
	if k.Receptacles > 0 {
		out = append(out, count(k.Receptacles, "receptacle load", "receptacle loads")+unmeasured(k))
	}
	if k.Facts != nil && k.Facts.Notes != "" {
		out = append(out, strings.Join(strings.Fields(k.Facts.Notes), " "))
	}
	return strings.Join(out, "; ")
}

func unmeasured(k *domain.CircuitTotal) string {
	if k.Rest > 0 {
		return ""
	}
	return ", not in the sums"
}

func (p *panels) assumptions() Facts {
	l := p.c.project.Limits
	return Facts{Columns: 2, Items: []Fact{
		{"Breaker where none is stated", number(l.Value(domain.CircuitRating)) + " A"},
		{"Continuous load, of the rating", number(l.Value(domain.OutputShare)) + " % (NEC 210.20(A); elsewhere a value to choose)"},
		{"Trip where none is stated", number(l.Value(domain.TripMultiple)) + " times the rating"},
		{"Inrush a breaker stands", "root 2 x " + number(l.Value(domain.InrushFactor)) + " x trip x rating; all drivers start together"},
	}}
}

// homeless lists the loads that name no circuit.
func (p *panels) homeless() Table {
	t := Table{Caption: "Loads without a circuit", Empty: "Every load names its circuit.", Columns: []Column{{Title: "Room", Width: 3}, {Title: "Loads", Width: 5}, {Title: "Lighting", Unit: "W", Kind: Number, Width: 1}, {Title: "Current", Unit: "A", Kind: Number, Width: 1}}}
	for i := range p.totals {
		k := &p.totals[i]
		if k.Name != "" {
			continue
		}
		for _, of := range p.loads[k.Key()] {
			var watts, amps float64
			for _, s := range k.Shares {
				if s.Room == of.room.ID {
					watts, amps = watts+float64(s.Watts), amps+float64(s.Amps)
				}
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(of.room.Label()), TextCell(shortTags(of.tags, ", ")), NumberCell(watts, decimalsOf(watts)), NumberCell(amps, 2)}})
		}
	}
	return t
}

// ofCircuits picks what the rules found of circuits.
func ofCircuits(found []rule.Finding) []rule.Finding {
	var out []rule.Finding
	for _, f := range found {
		if strings.HasPrefix(f.Rule, "power-circuit-") || f.Rule == "power-breaker-inrush" {
			out = append(out, f)
		}
	}
	return out
}
