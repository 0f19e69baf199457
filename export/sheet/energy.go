package sheet

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// EnergyUse estimates what the lighting of each room uses in a year, with its
// controls and switched by hand, by the standard's indicator and by playing
// typical weeks through the room's own intents.
func EnergyUse(c *Content) []Sheet {
	s := Sheet{ID: "energy", Number: numberEnergy, Title: "Energy use of the lighting", Head: c.head(), Landscape: true}
	e := c.energy()
	s.Blocks = withoutNil([]Block{c.partialNote(), toCaution(domain.CautionEstimate), e.facts(), e.hoursNote(), e.summary(), e.byStorey(), e.besideBand(), e.money(), e.rooms(), e.whys(), e.controls()})
	if text := e.left(); text != "" {
		s.Blocks = append(s.Blocks, Paragraph{Text: text})
	}
	s.Blocks = append(s.Blocks, Heading{1, "Numbers it stands on"}, e.profiles(), e.factors(), Heading{1, "How to read it"}, energyNotes(c.project))
	return []Sheet{s}
}

// roomYear is a room with its figures.
type roomYear struct {
	*room
	energy.Year
}

type yearOf struct {
	c     *Content
	years []roomYear
	sums  map[*storey]*energy.Sum
	all   energy.Sum
}

func (c *Content) energy() *yearOf {
	e := &yearOf{c: c, sums: map[*storey]*energy.Sum{}}
	model, habit := energy.NewModel(c.project), energy.HabitOf(c.project)
	for _, r := range c.rooms() {
		y := roomYear{room: r, Year: model.Room(r.Resolved)}
		if err := model.Play(&y.Year, false); err != nil {
			y.LENI.Notes = append(y.LENI.Notes, err.Error())
		}
		if e.sums[r.on] == nil {
			e.sums[r.on] = &energy.Sum{}
		}
		e.sums[r.on].Add(&y.Year, habit)
		e.all.Add(&y.Year, habit)
		e.years = append(e.years, y)
	}
	return e
}

// reckoned gives the rooms of a storey that have a figure.
func (e *yearOf) reckoned(on *storey) (out []*roomYear) {
	for i := range e.years {
		if y := &e.years[i]; y.on == on && y.Problem == "" && len(y.LENI.Lines) > 0 {
			out = append(out, y)
		}
	}
	return out
}

// three prints at most three significant figures: more would look like a
// measurement.
func three(v float64) Cell {
	rounded, decimals := energy.Figures(v)
	return NumberCell(rounded, decimals)
}

func (e *yearOf) facts() Block {
	p := e.c.project
	f := Facts{Columns: 3, Items: []Fact{{"Hours of use, as the project states them", orNone(p.Hours)}, {"Latitude", "not stated: no daylight is counted"}, {"Edition", energy.Edition}}}
	if p.Latitude != nil {
		f.Items[1].Value = units.Trim(*p.Latitude, 1) + "°"
	}
	return f
}

// hoursNote says that the stated hours are not those of the figures; nil without any.
func (e *yearOf) hoursNote() Block {
	var profiles []energy.Profile
	for i := range e.years {
		if y := &e.years[i]; y.Problem == "" && len(y.LENI.Lines) > 0 {
			profiles = append(profiles, y.Setting.Profile)
		}
	}
	if text := energy.HoursNote(e.c.project, profiles); text != "" {
		return Paragraph{Text: text}
	}
	return nil
}

func orNone(text string) string {
	if text == "" {
		return "not stated"
	}
	return text
}

// columns are those of sums, of a storey or a room.
func (e *yearOf) columns(first string) []Column {
	out := []Column{{Title: first, Width: 2.4}, {Title: "Area", Unit: e.areaUnit(), Kind: Number, Width: 1}, {Title: "Connected", Unit: "W", Kind: Number, Width: 1}, {Title: "Lighting", Unit: "kWh/yr", Kind: Number, Width: 1}, {Title: "Standby", Unit: "kWh/yr", Kind: Number, Width: 1},
		{Title: "LENI", Unit: "kWh/(m2 yr)", Kind: Number, Width: 1.2}}
	if e.us() {
		out = append(out, Column{Title: "The same", Unit: "kWh/(ft2 yr)", Kind: Number, Width: 1.2})
	}
	return append(out, Column{Title: "LENI, by hand", Unit: "kWh/yr", Kind: Number, Width: 1}, Column{Title: "LENI, saved", Unit: "%", Kind: Number, Width: 0.8},
		Column{Title: "Weeks, controls", Unit: "kWh/yr", Kind: Number, Width: 1.1}, Column{Title: "Weeks, by hand", Unit: "kWh/yr", Kind: Number, Width: 1.1}, Column{Title: "Weeks, saved", Unit: "%", Kind: Number, Width: 0.8})
}

func (e *yearOf) cells(name string, s energy.Sum) []Cell {
	out := []Cell{TextCell(name), three(e.inUnits(units.SquareMetres(s.Area))), three(s.Watts), three(s.Lamps), three(s.Standby), three(s.LENI())}
	if e.us() {
		out = append(out, three(s.LENI()*units.SquareMetresPerSquareFoot))
	}
	out = append(out, three(s.ByHand), savedCell(s.ByHand, s.Saved()))
	if !s.AllPlayed() {
		return append(out, TextCell(none), TextCell(none), TextCell(none))
	}
	return append(out, three(s.Played), three(s.Hand), savedCell(s.Hand, s.PlayedSaved()))
}

// savedCell prints a share of what switching by hand uses.
func savedCell(byHand, share float64) Cell {
	if byHand <= 0 || share < 0 { // standby alone can be more than is saved
		return TextCell(none)
	}
	return NumberCell(math.Round(100*share), 0)
}

func (e *yearOf) summary() Block {
	t := Table{Caption: "Building", Columns: e.columns("Storey"), Empty: "No room has an area and loads whose watts are stated.",
		Note: "Compare LENI with LENI, and weeks with weeks: lighting and standby by LENI against LENI by hand, and the weeks that were played with the controls against the same weeks and people by hand. Saved: standby counted; – where nothing is."}
	for _, s := range e.c.storeys {
		if sum := e.sums[s]; sum != nil && sum.Rooms > 0 {
			t.Rows = append(t.Rows, Row{Cells: e.cells(s.name(e.c), *sum)})
		}
	}
	if len(t.Rows) > 1 {
		t.Rows = append(t.Rows, Row{Total: true, Cells: e.cells("All", e.all)})
	}
	return t
}

// byStorey draws the sums of the storeys; nil where there are none.
func (e *yearOf) byStorey() Block {
	var names []string
	var sums []energy.Sum
	for _, s := range e.c.storeys {
		if sum := e.sums[s]; sum != nil && sum.Rooms > 0 {
			names, sums = append(names, s.name(e.c)), append(sums, *sum)
		}
	}
	if len(sums) == 0 {
		return nil
	}
	return Chart{Caption: "Energy of a year by storey, by LENI", Chart: drawing.EnergyBars("Energy of a year by storey, by LENI", names, sums)}
}

// besideBand sets the saving beside published averages.
func (e *yearOf) besideBand() Block {
	if e.all.ByHand <= 0 {
		return nil
	}
	return Chart{Caption: "Saved against switching by hand, beside published averages", Chart: drawing.SavingBars(e.all),
		Note: "The averages are a band to compare with and no result of these rooms. " + energy.PublishedSource + ". At most together: occupancy and daylighting, whose shares multiply and never add."}
}

func (e *yearOf) us() bool { return e.c.project.Units == units.US }

func (e *yearOf) areaUnit() string {
	if e.us() {
		return "sq ft"
	}
	return "m2"
}

func (e *yearOf) inUnits(a units.SquareMetres) float64 {
	if e.us() {
		return float64(a) / units.SquareMetresPerSquareFoot
	}
	return float64(a)
}

// left says what is not in the sums, and what was noted on the way.
func (e *yearOf) left() string {
	var missing, unknown []string
	notes := map[string][]string{}
	var order []string
	note := func(text, number string) {
		if notes[text] == nil {
			order = append(order, text)
		}
		notes[text] = append(notes[text], number)
	}
	for i := range e.years {
		y := &e.years[i]
		switch {
		case y.Problem != "":
			missing = append(missing, y.Number)
		case len(y.LENI.Unknown) > 0:
			unknown = append(unknown, y.Number)
		}
		for _, n := range y.LENI.Notes {
			note(n, y.Number)
		}
		if y.Played != nil && y.Played.Daylight != "" {
			note("no daylight is played in the weeks, "+y.Played.Daylight, y.Number)
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

func energyNotes(p *domain.Project) Block {
	return Statements{Items: []Statement{
		{Text: "LENI is the lighting energy numeric indicator of EN 15193: lamps and standby in kWh a year over the floor area in m2. Its factors and tables are recalled from the edition of 2007 and are to be confirmed against the text before a report quotes them.", Source: energy.Edition},
		{Text: "F_O goes by the control that the room's intents really give and by the share of the hours in which the room is empty; F_D by the daylight of each load, at the project's latitude, and by whether a sensor dims it."},
		{Text: fmt.Sprintf("Weeks played: %d weeks of the year, one in the middle of each month, with the hours and absence of the room's profile, the same on every print, run through the room's own intents. Daylight is predicted from the plan, hour by hour, with the overcast days that the limits say; blinds are not in it. The table of differences says, cause by cause, why the weeks use more or less than LENI.", energy.Weeks)},
		{Text: energy.HandText},
		{Text: fmt.Sprintf("Standby: %s W for each driver and %s W for each mains-powered control device. LENI counts both outside of the hours of use, the weeks devices always and drivers while their lamps are off.", units.Trim(p.Limits.Value(domain.StandbyDriver), 3), units.Trim(p.Limits.Value(domain.StandbyDevice), 3))},
	}}
}
