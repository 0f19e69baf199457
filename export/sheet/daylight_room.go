package sheet

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/units"
)

// sheet is the part of one room: its zones on the first page, its daylight factor on
// the second, then what both rest on and what they let save. Where a plan leaves room, what follows moves up.
func (r *daylitRoom) sheet(d *daylit) Sheet {
	zones, factor := r.zonePlan(d), r.factorPlan()
	s := Sheet{ID: "daylight-" + r.slug, Number: r.daylightNumber(), Title: "Daylight in room " + r.Label(), Head: r.head()}
	s.Blocks = []Block{toCaution(domain.CautionPrediction), r.facts(), zones, r.zoneTable(d), Heading{1, "Daylight factor"}, factor, r.factorFacts()}
	if len(r.space.Windows) > 0 {
		s.Blocks = append(s.Blocks, Paragraph{Text: "The two means differ: " + r.light.WhyMeansDiffer() + "."}, r.windowTable())
	}
	if len(r.space.Rooflights) > 0 {
		s.Blocks = append(s.Blocks, r.rooflightTable())
	}
	s.Blocks = append(s.Blocks, r.loadTable(), r.yearTable(d))
	if text := r.unhung(); text != "" {
		s.Blocks = append(s.Blocks, Paragraph{Text: text})
	}
	if t := r.thresholds(d); t != nil {
		s.Blocks = append(s.Blocks, t)
	}
	if doubts := r.light.Doubts(); len(doubts) > 0 {
		s.Blocks = append(s.Blocks, Heading{2, "Less sure than usual, because"}, doubtList(doubts))
	}
	s.Blocks = append(s.Blocks, Paragraph{Text: "What was assumed, with its sources, and how to read the figures stand on sheet " + numberDaylight + "."})
	return s
}

func doubtList(doubts []daylight.Doubt) Block {
	var out Statements
	for _, d := range doubts {
		out.Items = append(out.Items, Statement{Text: sentence(string(d)) + "."})
	}
	return out
}

func (r *daylitRoom) facts() Block {
	f := Facts{Columns: 3, Items: []Fact{{"Floor, as drawn", units.Area(units.SquareMetres(r.space.Outline.Area()), r.c.project.Units)}, {"Ceiling", r.length(float64(r.space.Ceiling))}}}
	if n := len(r.space.Windows); n > 0 {
		f = withFact(f, "Windows", fmt.Sprintf("%s, %s of openings", count(n, "window", "windows"), units.AreaTo(r.space.Glazing(), 1, r.c.project.Units)))
	}
	if n := len(r.space.Rooflights); n > 0 {
		f.Items = append(f.Items, Fact{"Rooflights", count(n, "rooflight", "rooflights")})
	}
	own := ""
	if !r.profile.Own {
		own = ", built in"
	}
	return withFact(withFact(f, "Hours of use a year", fmt.Sprintf("%s, for %s%s", number(r.profile.Day+r.profile.Night), strings.ToLower(r.Use.Name()), own)), "Hours and target from", r.profile.Source)
}

// zoneTable says of each kind of zone how it is drawn, how large it is and what hangs
// in it.
func (r *daylitRoom) zoneTable(d *daylit) Block {
	t := Table{Caption: "Daylight zones", Empty: "None: the code draws no zone here.", Columns: []Column{{Title: "Zone", Width: 1}, {Title: "Drawn", Width: 3}, {Title: "Area", Align: Right, Width: 1}, {Title: "Of the floor", Unit: "%", Kind: Number, Width: 0.7}, {Title: "Cut by", Width: 2}, {Title: "Luminaires", Kind: Number, Width: 1.2}, {Title: "Loads", Width: 1.6}, {Title: "Watts counted", Unit: "W", Kind: Number, Width: 0.9}},
		Note: "Zones by " + d.code.Name + ". General lighting only; a luminaire across an edge counts whole, to one zone."}
	floor := r.space.Outline.Area()
	for _, z := range []struct {
		name, drawn string
		of          *daylight.Zone
		n           *daylight.Counted
		known       bool
	}{
		{"Primary", sideWords(&d.code.Rules, r.c.project.Units), &r.zones.Primary, &r.tally.Primary, true},
		{"Secondary", "behind it, " + times(d.code.Rules.Secondary) + " the head height deep", &r.zones.Secondary, &r.tally.Secondary, d.code.Rules.Secondary > 0},
		{"Toplit", "under rooflights, " + times(d.code.Rules.Toplit) + " the ceiling's height beyond each edge", &r.zones.Toplit, &r.tally.Toplit, d.code.Rules.Toplit > 0},
	} {
		if !z.known || z.of.Area == 0 {
			continue
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(z.name), TextCell(sentence(z.drawn)), TextCell(units.Area(z.of.Area, r.c.project.Units)), NumberCell(roundTo(100*float64(z.of.Area)/floor, 0), 0), TextCell(r.cutWords(d, z.of)),
			NumberCell(float64(z.n.Luminaires), 0), TextCell(orDash(joined(r.tags(z.n.Loads)))), NumberCell(float64(z.n.Watts), decimalsOf(float64(z.n.Watts)))}})
	}
	return t
}

func times(v float64) string { return number(v) + " times" }

// sideWords says how a sidelit zone is drawn.
func sideWords(r *daylight.ZoneRules, sys units.System) string {
	text := times(r.Depth) + " the head height deep"
	switch {
	case r.SideFixed > 0:
		text += ", " + units.Length(r.SideFixed, sys) + " beyond each jamb"
	case r.Side > 0:
		text += ", " + times(r.Side) + " it beyond each jamb"
	}
	return text
}

// cutWords names what ends a zone: walls and partitions in the room, else corners or
// another zone.
func (r *daylitRoom) cutWords(d *daylit, z *daylight.Zone) string {
	if !z.Cut {
		return none
	}
	cutting, err := d.code.Rules.Cutting(r.space, &r.zones)
	if err != nil || len(cutting) == 0 {
		return "the room's shape, or another zone"
	}
	var words []string
	for _, i := range cutting {
		text := "a wall in the room"
		if o := &r.space.Obstructions[i]; !math.IsInf(float64(o.Height), 1) {
			text = "a partition of " + r.length(float64(o.Height))
		}
		words = appendNew(words, text)
	}
	return joined(words)
}

func (r *room) tags(loads []domain.ID) (out []string) {
	for _, id := range loads {
		if l := r.Design.Load(id); l != nil {
			out = append(out, l.Tag)
		}
	}
	return out
}

// thresholds compares the room with the code's watts and glazing, nil where no code is
// chosen that has any.
func (r *daylitRoom) thresholds(d *daylit) Block {
	if r.asked == nil || len(r.asked.Figures) == 0 {
		return nil
	}
	t := Table{Caption: "From where on the code asks for a response to daylight", Columns: []Column{{Title: "What", Width: 2.4}, {Title: "Here", Align: Right, Width: 1.2}, {Title: "The code's figure", Align: Right, Width: 1.4}, {Title: "Reached", Width: 2.4}, {Title: "Clause", Width: 1.2}, {Title: "How sure", Width: 1.2}}}
	var sure []string
	for _, f := range r.asked.Figures {
		reached := "no: none is asked for by this"
		switch {
		case f.Keeps() && f.Unit == "ft2":
			reached = "yes: side daylight is exempt"
		case f.Keeps():
			reached = "yes: a response is asked for"
		case f.Unit == "ft2":
			reached = "no: not exempt"
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(sentence(f.Name)), TextCell(r.codeFigure(f.Measured, f.Unit)), TextCell(string(f.Sign) + " " + r.codeFigure(f.Limit, f.Unit)), TextCell(reached), TextCell(orDash(f.Basis.Clause)), TextCell(string(f.Basis.Mark))}})
		sure = appendNew(sure, f.Basis.Words())
	}
	t.Note = "By " + d.pack.Key() + "; its figures: " + strings.Join(sure, "; ") + ". Whether the room's controls meet it stands on sheet " + numberCode + "."
	return t
}

// codeFigure prints a code's watts, or its square feet of glazing in the project's units, to
// a tenth: 22.5 lies between the 20 and 24 of codes.
func (r *room) codeFigure(v float64, unit string) string {
	if unit == "ft2" {
		return units.AreaTo(units.SquareMetres(v*units.SquareMetresPerSquareFoot), 1, r.c.project.Units)
	}
	return number(v) + " " + unit
}

// unhung names the loads of which nothing can be said.
func (r *daylitRoom) unhung() string {
	loads := daylight.Unhung(r.Resolved)
	if len(loads) == 0 {
		return ""
	}
	return "Not all luminaires stand on the plan, so zones and predictions lack what is missing: " + joined(r.tags(loads)) + "."
}
