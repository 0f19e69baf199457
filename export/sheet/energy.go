package sheet

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
)

// EnergyUse estimates what the lighting of each room uses in a year, with its
// controls and switched by hand, by the standard's indicator and by playing a
// typical week through the room's own intents.
func EnergyUse(c *Content) []Sheet {
	s := Sheet{ID: "energy", Number: numberEnergy, Title: "Energy use of the lighting", Head: c.head(), Landscape: true}
	e := c.energy()
	s.Blocks = withoutNil([]Block{c.partialNote(), toCaution(domain.CautionEstimate), e.summary(), e.rooms(), e.controls()})
	if text := e.left(); text != "" {
		s.Blocks = append(s.Blocks, Paragraph{Text: text})
	}
	s.Blocks = append(s.Blocks, Heading{2, "How to read it"}, energyNotes())
	return []Sheet{s}
}

// roomYear is a room with its two figures.
type roomYear struct {
	*room
	area    units.SquareMetres
	setting energy.Setting
	result  energy.Result
	played  float64 // kWh of a year of typical weeks
	problem string  // why there is no figure
}

type yearOf struct {
	c     *Content
	years []roomYear
}

// weekSeed makes the typical weeks the same on every print.
const weekSeed = 1

func (c *Content) energy() *yearOf {
	e := &yearOf{c: c}
	for _, r := range c.rooms() {
		y := roomYear{room: r, area: r.Area, setting: energy.UsualSetting(c.project, r.Room)}
		if y.area <= 0 {
			y.area = r.Measured()
		}
		y.setting.Sky = zoneClass
		var err error
		if y.result, err = energy.Room(c.project, r.Resolved, y.setting); err != nil {
			y.problem = err.Error()
		} else if burned, err := energy.Run(c.project, &r.Design, energy.TypicalWeek(y.setting.Profile, weekSeed)); err == nil {
			for i := range burned {
				if r.Design.Loads[i].Kind == domain.Lighting {
					y.played += burned[i].KWh
				}
			}
		}
		e.years = append(e.years, y)
	}
	return e
}

// zoneClass takes the daylight of a load from the zone that the designer gave it
// (judgment: no zone is reckoned here).
func zoneClass(l *domain.Load) energy.Penetration {
	switch l.Zone {
	case domain.ZoneWindow, domain.ZoneRoof:
		return energy.Medium
	case domain.ZoneSecondary:
		return energy.Weak
	}
	return energy.NoDaylight
}

// three prints at most three significant figures: more would look like a
// measurement.
func three(v float64) Cell {
	decimals := 0
	switch a := math.Abs(v); {
	case a == 0 || a >= 100:
	case a >= 10:
		decimals = 1
	default:
		decimals = 2
	}
	if a := math.Abs(v); a >= 1000 {
		p := math.Pow10(int(math.Floor(math.Log10(a))) - 2)
		v = math.Round(v/p) * p
	}
	return NumberCell(roundTo(v, decimals), decimals)
}

func (e *yearOf) summary() Block {
	t := Table{Caption: "Building", Columns: []Column{{Title: "Storey", Width: 3}, {Title: "Area", Unit: e.areaUnit(), Kind: Number, Width: 1}, {Title: "Lighting", Unit: "kWh/yr", Kind: Number, Width: 1.2}, {Title: "Standby", Unit: "kWh/yr", Kind: Number, Width: 1.2},
		{Title: "LENI", Unit: "kWh/(m2 yr)", Kind: Number, Width: 1.2}, {Title: "By hand", Unit: "kWh/yr", Kind: Number, Width: 1.2}, {Title: "Saved", Unit: "%", Kind: Number, Width: 0.9}, {Title: "Week played", Unit: "kWh/yr", Kind: Number, Width: 1.2}},
		Empty: "No room has an area and loads whose watts are stated.",
		Note:  "Saved: against the same rooms switched by hand, standby counted; – where nothing is. Published averages, as a band to compare with and no result of these rooms: " + published() + "."}
	all := energySum{}
	for _, s := range e.c.storeys {
		sum := energySum{}
		for i := range e.years {
			if y := &e.years[i]; y.on == s && y.problem == "" {
				sum.add(y)
			}
		}
		if sum.area == 0 {
			continue
		}
		t.Rows = append(t.Rows, Row{Cells: sum.cells(e, s.name(e.c))})
		all.join(sum)
	}
	if len(t.Rows) > 1 {
		t.Rows = append(t.Rows, Row{Total: true, Cells: all.cells(e, "All")})
	}
	return t
}

func published() string {
	var parts []string
	for _, p := range energy.PublishedAverages() {
		parts = append(parts, fmt.Sprintf("%s %s %%", p.Strategy, number(100*p.Share)))
	}
	return strings.Join(parts, ", ") + " (" + energy.PublishedSource + ")"
}

type energySum struct{ area, lamps, standby, byHand, played float64 }

func (s *energySum) add(y *roomYear) {
	s.join(energySum{float64(y.area), y.result.Use.Lamps, y.result.Use.Standby, y.result.ByHand.Total(), y.played})
}

func (s *energySum) join(o energySum) {
	s.area, s.lamps, s.standby, s.byHand, s.played = s.area+o.area, s.lamps+o.lamps, s.standby+o.standby, s.byHand+o.byHand, s.played+o.played
}

func (s *energySum) cells(e *yearOf, name string) []Cell {
	return []Cell{TextCell(name), three(e.inUnits(units.SquareMetres(s.area))), three(s.lamps), three(s.standby), three((s.lamps + s.standby) / s.area), three(s.byHand), savedCell(s.lamps+s.standby, s.byHand), three(s.played)}
}

func savedCell(use, byHand float64) Cell {
	if byHand <= 0 || use > byHand { // standby alone can be more than is saved
		return TextCell(none)
	}
	return NumberCell(math.Round(100*(1-use/byHand)), 0)
}

func (e *yearOf) areaUnit() string {
	if e.c.project.Units == units.US {
		return "ft2"
	}
	return "m2"
}

func (e *yearOf) inUnits(a units.SquareMetres) float64 {
	if e.c.project.Units == units.US {
		return float64(a) / units.SquareMetresPerSquareFoot
	}
	return float64(a)
}

func (e *yearOf) rooms() Block {
	t := Table{Caption: "Rooms", Empty: "No rooms.", Columns: []Column{{Title: "Room", Width: 2.4}, {Title: "Area", Unit: e.areaUnit(), Kind: Number, Width: 0.9}, {Title: "Connected", Unit: "W", Kind: Number, Width: 0.9}, {Title: "Hours day + night", Width: 1.3}, {Title: "Empty", Unit: "%", Kind: Number, Width: 0.8},
		{Title: "Lighting", Unit: "kWh/yr", Kind: Number, Width: 1}, {Title: "Standby", Unit: "kWh/yr", Kind: Number, Width: 1}, {Title: "LENI", Unit: "kWh/(m2 yr)", Kind: Number, Width: 1.1}, {Title: "By hand", Unit: "kWh/yr", Kind: Number, Width: 1}, {Title: "Saved", Unit: "%", Kind: Number, Width: 0.8}, {Title: "Week played", Unit: "kWh/yr", Kind: Number, Width: 1}}}
	for _, s := range e.c.storeys {
		headed := false
		for i := range e.years {
			y := &e.years[i]
			if y.on != s || y.problem != "" || len(y.result.Lines) == 0 {
				continue
			}
			if !headed {
				t.Rows, headed = append(t.Rows, groupRow(s.name(e.c))), true
			}
			p, watts := y.setting.Profile, 0.0
			for _, l := range y.result.Lines {
				watts += float64(l.Watts)
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(y.Label()), three(e.inUnits(y.area)), three(watts), TextCell(number(p.Day) + " + " + number(p.Night)), NumberCell(100*p.Absence, 0),
				three(y.result.Use.Lamps), three(y.result.Use.Standby), three(y.result.Use.LENI), three(y.result.ByHand.Total()), savedCell(y.result.Use.Total(), y.result.ByHand.Total()), three(y.played)}})
		}
	}
	return t
}

// controls shows how each load's factors come about, alike loads of a room
// together.
func (e *yearOf) controls() Block {
	t := Table{Caption: "Factors, by room and control", Empty: "No loads.", Columns: []Column{{Title: "Room", Width: 1}, {Title: "Loads", Width: 2}, {Title: "Control, from the intents", Width: 2.6}, {Title: "F_O", Kind: Number, Width: 0.7}, {Title: "Daylight", Width: 1}, {Title: "Dims by it", Width: 0.9}, {Title: "F_D", Kind: Number, Width: 0.7}, {Title: "Profile from", Width: 3}}}
	for i := range e.years {
		y := &e.years[i]
		for j := 0; j < len(y.result.Lines); {
			first, tags := y.result.Lines[j], []string(nil)
			for j < len(y.result.Lines) && alikeLines(first, y.result.Lines[j]) {
				tags = append(tags, y.result.Lines[j].Load.Tag)
				j++
			}
			dims := "no"
			if first.Dims {
				dims = "yes"
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(y.Number), TextCell(joined(tags)), TextCell(string(first.Control)), NumberCell(roundTo(first.People, 2), 2), TextCell(string(first.Class)), TextCell(dims), NumberCell(roundTo(first.Sky, 2), 2), TextCell(y.setting.Profile.Source)}})
		}
	}
	return t
}

func alikeLines(a, b energy.Line) bool {
	return a.Control == b.Control && a.People == b.People && a.Class == b.Class && a.Dims == b.Dims && a.Sky == b.Sky
}

// left says what is not in the sums, and what was noted on the way.
func (e *yearOf) left() string {
	var missing, unknown []string
	notes := map[string][]string{}
	var order []string
	for i := range e.years {
		y := &e.years[i]
		switch {
		case y.problem != "":
			missing = append(missing, y.Number)
		case len(y.result.Unknown) > 0:
			unknown = append(unknown, y.Number)
		}
		for _, n := range y.result.Notes {
			if notes[n] == nil {
				order = append(order, n)
			}
			notes[n] = append(notes[n], y.Number)
		}
	}
	var out []string
	if missing != nil {
		out = append(out, "Not in the sums, for want of an area: "+joined(missing)+".")
	}
	if unknown != nil {
		out = append(out, "Loads whose watts are not stated are not in the sums: rooms "+joined(unknown)+".")
	}
	for _, n := range order {
		out = append(out, sentence(n)+": "+joined(notes[n])+".")
	}
	return strings.Join(out, " ")
}

func energyNotes() Block {
	return Statements{Items: []Statement{
		{Text: "LENI is the lighting energy numeric indicator of EN 15193: lamps and standby in kWh a year over the floor area. Its factors and tables are recalled from the edition of 2007 and are to be confirmed against the text before a report quotes them.", Source: energy.Edition},
		{Text: "F_O goes by the control that the room's intents really give and by the share of the hours in which the room is empty; F_D by the daylight zone that the designer gave the load, at the project's latitude, and by whether a sensor dims it."},
		{Text: "Week played: a typical week of the room's hours and absence, the same on every print, run through the room's own intents; lamps only, daylight left out. Where it is above the lamps of LENI, the delay keeps light on that the factor does not know, or daylight saves what the week leaves out; where it is below, people go more often than the factor takes."},
		{Text: "By hand: the same room switched at the door, without sensors and schedules."},
		{Text: "Standby: 0.4 W for each driver and 0.5 W for each mains-powered control device while the lamps are off (common practice, no published source)."},
	}}
}
