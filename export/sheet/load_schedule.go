package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// LoadSchedule lists all loads by storey and room, with the watts of each room, storey and
// building, and what each circuit carries.
func LoadSchedule(c *Content) []Sheet {
	s := Sheet{ID: "loads", Number: numberLoads, Title: "Load schedule", Head: c.head(), Landscape: true}
	decimals := c.powerDecimals(c.rooms()...)
	s.Blocks = []Block{c.partialNote(), c.loadList(decimals), Heading{1, "Totals"}, c.roomLoads(decimals),
		c.circuitLoads(decimals), toCaution(domain.CautionMains)}
	s.Blocks = withoutNil(s.Blocks)
	return []Sheet{s}
}

// partialNote says that a document holds some rooms only; its totals then are theirs.
func (c *Content) partialNote() Block {
	if !c.partial {
		return nil
	}
	return Paragraph{Text: fmt.Sprintf("Holds %s picked out of %d; totals are of these.", count(c.Rooms(), "room", "rooms"), len(c.in.Scope.Rooms)), Strong: true}
}

func withoutNil(blocks []Block) []Block {
	return slices.DeleteFunc(blocks, func(b Block) bool { return b == nil })
}

func groupRow(text string) Row { return Row{Group: true, Cells: []Cell{TextCell(text)}} }

func (c *Content) loadList(decimals int) Table {
	t := Table{Caption: "Loads", Columns: append([]Column{{Title: "Room", Width: 1}, {Title: "Tag", Width: 1}}, loadColumns()...),
		Empty: "No loads have been defined yet."}
	all := 0.0
	for _, s := range c.storeys {
		sum, rows := 0.0, []Row{}
		for _, r := range s.rooms {
			for i := range r.Design.Loads {
				l := &r.Design.Loads[i]
				cells := append([]Cell{TextCell(r.Number), TextCell(l.Tag)}, r.loadCells(l, decimals)...)
				rows = append(rows, Row{Cells: cells, Changed: r.changedIn("loads", l.ID)})
			}
			sum += r.lightingWatts(decimals)
		}
		if len(rows) == 0 {
			continue
		}
		all += sum
		t.Rows = append(t.Rows, groupRow(s.name(c)))
		t.Rows = append(t.Rows, rows...)
		t.Rows = append(t.Rows, totalRow("Lighting, "+s.name(c), t.Columns, 2+powerColumn, sum, decimals))
	}
	if len(t.Rows) > 0 {
		t.Rows = append(t.Rows, totalRow("Lighting, all storeys", t.Columns, 2+powerColumn, all, decimals))
	}
	return t
}

func (c *Content) roomLoads(decimals int) Table {
	t := Table{Caption: "Connected load by room", Empty: "No rooms.", Columns: []Column{
		{Title: "Room", Width: 3}, {Title: "Use", Width: 2}, {Title: "Lighting loads", Kind: Number, Width: 1}, {Title: "Lighting", Unit: "W", Kind: Number, Width: 1},
		{Title: "Per area", Unit: c.densityUnit(), Kind: Number, Width: 1}, {Title: "Receptacle loads", Kind: Number, Width: 1}}}
	total := func(name string, n int, w float64, plugs int) Row {
		return Row{Total: true, Cells: []Cell{TextCell(name), TextCell(""), NumberCell(float64(n), 0), NumberCell(w, decimals), TextCell(""), NumberCell(float64(plugs), 0)}}
	}
	var allN, allPlugs int
	var allW float64
	for i, s := range c.storeys {
		var n, plugs int
		var w float64
		for _, r := range s.rooms {
			rn, rp, rw := r.countLoads(domain.Lighting), r.countLoads(domain.Receptacle), r.lightingWatts(decimals)
			n, plugs, w = n+rn, plugs+rp, w+rw
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(r.Label()), TextCell(or(r.Use.Name(), notStated)), NumberCell(float64(rn), 0), NumberCell(rw, decimals), r.density(rw), NumberCell(float64(rp), 0)}})
		}
		if len(s.rooms) > 0 {
			t.Rows = append(t.Rows, total(s.name(c), n, w, plugs))
		}
		allN, allPlugs, allW = allN+n, allPlugs+plugs, allW+w
		if s.lastOfBuilding(c, i) && len(c.project.Buildings) > 1 {
			bn, bp, bw := c.buildingLoads(s.building, decimals)
			t.Rows = append(t.Rows, total(s.building.Name, bn, bw, bp))
		}
	}
	if len(t.Rows) > 0 {
		t.Rows = append(t.Rows, total("All rooms", allN, allW, allPlugs))
	}
	return t
}

// lastOfBuilding tells that the next storey belongs to another building.
func (s *storey) lastOfBuilding(c *Content, at int) bool {
	return s.building != nil && (at+1 == len(c.storeys) || c.storeys[at+1].building != s.building)
}

func (c *Content) buildingLoads(b *domain.Building, decimals int) (lighting, receptacles int, watts float64) {
	for _, s := range c.storeys {
		if s.building != b {
			continue
		}
		for _, r := range s.rooms {
			lighting, receptacles, watts = lighting+r.countLoads(domain.Lighting), receptacles+r.countLoads(domain.Receptacle), watts+r.lightingWatts(decimals)
		}
	}
	return lighting, receptacles, watts
}

func (c *Content) densityUnit() string {
	if c.project.Units == units.US {
		return "W/ft2"
	}
	return "W/m2"
}

func (r *room) density(watts float64) Cell {
	area := float64(r.Area)
	if r.c.project.Units == units.US {
		area /= units.SquareMetresPerSquareFoot
	}
	if area <= 0 {
		return TextCell("area not stated")
	}
	return NumberCell(watts/area, 2)
}

// circuitLoad is what one circuit at one voltage carries.
type circuitLoad struct {
	building, circuit string
	volts             float64
	lighting, plugs   int
	watts, amps       float64
	unknown           int // lighting loads without watts or volts
	rooms             []string
}

// circuitLoads adds up the loads of each circuit. Loads without a circuit stand last.
func (c *Content) circuitLoads(decimals int) Table {
	t := Table{Caption: "Connected load by circuit", Empty: "No loads have been defined yet.", Columns: []Column{
		{Title: "Circuit", Width: 1.5}, {Title: "Rooms", Width: 4}, {Title: "Lighting loads", Kind: Number, Width: 1.1}, {Title: "Lighting", Unit: "W", Kind: Number, Width: 1.1},
		{Title: "Volts", Unit: "V", Kind: Number, Width: 1}, {Title: "Current", Unit: "A", Kind: Number, Width: 1.1}, {Title: "Receptacle loads", Kind: Number, Width: 1.2}},
		Note: onlyListed}
	circuits, voltages := c.circuits(decimals), map[string]int{}
	for _, k := range circuits {
		voltages[k.building+"\x00"+k.circuit]++
	}
	for _, k := range circuits {
		name := k.circuit
		if len(c.project.Buildings) > 1 && k.building != "" {
			name = k.building + ", " + name
		}
		volts, amps := NumberCell(k.volts, decimalsOf(k.volts)), NumberCell(k.amps, 2)
		if k.volts == 0 {
			volts, amps = TextCell(notStated), TextCell(notStated)
		}
		if k.unknown > 0 {
			amps = TextCell(fmt.Sprintf("%s + %d unknown", units.Trim(k.amps, 2), k.unknown))
		}
		if k.lighting == 0 {
			amps = TextCell(none)
		}
		if voltages[k.building+"\x00"+k.circuit] > 1 && k.circuit != notStated {
			volts = volts.Marked(Warning)
			t.Note = atTwoVoltages + " " + onlyListed
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(name), TextCell(strings.Join(k.rooms, ", ")), countCell(k.lighting), NumberCell(k.watts, decimals), volts, amps, countCell(k.plugs)}})
	}
	return t
}

// Notes under the circuits.
const (
	onlyListed    = "Only what this schedule lists is counted; a circuit may feed more. Currents of a circuit are added as if in phase, which is on the safe side."
	atTwoVoltages = "A circuit that is marked is listed at two voltages: settle which holds."
)

func (c *Content) circuits(decimals int) []*circuitLoad {
	type key struct {
		building, circuit string
		volts             float64
	}
	byKey := map[key]*circuitLoad{}
	var out []*circuitLoad
	for _, r := range c.rooms() {
		for i := range r.Design.Loads {
			l := &r.Design.Loads[i]
			k := key{r.on.buildingName(), or(l.Circuit, notStated), float64(l.Voltage(c.project))}
			at := byKey[k]
			if at == nil {
				at = &circuitLoad{building: k.building, circuit: k.circuit, volts: k.volts}
				byKey[k], out = at, append(out, at)
			}
			at.add(c.project, r, l, decimals)
		}
	}
	slices.SortStableFunc(out, func(a, b *circuitLoad) int {
		return cmp.Or(compareBool(a.circuit == notStated, b.circuit == notStated), cmp.Compare(a.building, b.building),
			domain.CompareNumbers(a.circuit, b.circuit), cmp.Compare(a.circuit, b.circuit), cmp.Compare(a.volts, b.volts))
	})
	return out
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

func (k *circuitLoad) add(p *domain.Project, r *room, l *domain.Load, decimals int) {
	if n := len(k.rooms); n == 0 || k.rooms[n-1] != r.Number {
		k.rooms = append(k.rooms, r.Number)
	}
	if l.Kind == domain.Receptacle {
		k.plugs++
		return
	}
	k.lighting++
	w, a, known := l.Power(p)
	k.watts += roundTo(float64(w), decimals)
	k.amps += float64(a)
	if !known {
		k.unknown++
	}
}
