package roomlist

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// create makes the room that a line states, with what a reader of the plan
// should see of it.
func (p *planner) create(line *Line, in domain.ID) (room *domain.Room, facts, remarks []string) {
	s := p.places.storey(in, line.Storey)
	room = &domain.Room{ID: p.newID(), StoreyID: s.id, Number: line.Number, Name: line.Name, Use: line.Use,
		Area: line.Area, Ceiling: line.Ceiling, Notes: line.Notes}
	facts = append(facts, s.name)
	if line.Storey == "" && s.name == storeyNotStated {
		remarks = append(remarks, "the file names no storey for the room")
	}
	if line.Use != "" {
		facts = append(facts, line.Use.Name()+guessed(line))
	}
	if line.Area > 0 {
		facts = append(facts, units.Area(line.Area, p.units))
	}
	if line.Ceiling > 0 {
		facts = append(facts, "ceiling "+units.Length(line.Ceiling, p.units))
	}
	if line.Windows != nil {
		room.Windows = *line.Windows
		facts = append(facts, "windows "+yesNo(room.Windows))
	}
	if line.Seats != nil {
		room.Seats = *line.Seats
		facts = append(facts, fmt.Sprintf("%d occupants", room.Seats))
	}
	if line.Typical != "" {
		change, remark := p.setTypical(room, line.Typical)
		if change != "" {
			facts = append(facts, "typical "+p.byID[room.TypicalID].Name)
		}
		if remark != "" {
			remarks = append(remarks, remark)
		}
	}
	return room, facts, remarks
}

func guessed(line *Line) string {
	if line.Guessed {
		return " (guessed)"
	}
	return ""
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// update gives a copy of the room with the facts that the line states, and
// says which differ. The copy shares the design, which is not touched.
func (p *planner) update(line *Line, old *domain.Room, in domain.ID) (room *domain.Room, changes, remarks []string) {
	copied := *old
	room = &copied
	differ := func(what, before, after string) {
		changes = append(changes, fmt.Sprintf("%s %s -> %s", what, orBlank(before), orBlank(after)))
	}
	if line.Given.Has(GivenStorey) && in != "" {
		b := p.places.at(in)
		if s := p.places.storey(in, line.Storey); s.id != room.StoreyID {
			differ("storey", b.nameOf(room.StoreyID), s.name)
			room.StoreyID = s.id
		}
	}
	if line.Given.Has(GivenName) && line.Name != room.Name {
		differ("name", room.Name, line.Name)
		room.Name = line.Name
	}
	if line.Given.Has(GivenUse) && line.Use != room.Use {
		differ("use", room.Use.Name(), line.Use.Name()+guessed(line))
		room.Use = line.Use
	}
	if line.Given.Has(GivenArea) && !alike(float64(line.Area), float64(room.Area)) {
		differ("area", shownArea(room.Area, p.units), shownArea(line.Area, p.units))
		room.Area = line.Area
	}
	if line.Given.Has(GivenCeiling) && !alike(float64(line.Ceiling), float64(room.Ceiling)) {
		differ("ceiling", shownLength(room.Ceiling, p.units), shownLength(line.Ceiling, p.units))
		room.Ceiling = line.Ceiling
	}
	if line.Windows != nil && *line.Windows != room.Windows {
		differ("windows", yesNo(room.Windows), yesNo(*line.Windows))
		room.Windows = *line.Windows
	}
	if line.Seats != nil && *line.Seats != room.Seats {
		differ("occupants", fmt.Sprint(room.Seats), fmt.Sprint(*line.Seats))
		room.Seats = *line.Seats
	}
	if line.Given.Has(GivenNotes) && line.Notes != room.Notes {
		differ("notes", short(room.Notes), short(line.Notes))
		room.Notes = line.Notes
	}
	if line.Given.Has(GivenTypical) {
		change, remark := p.setTypical(room, line.Typical)
		if change != "" {
			changes = append(changes, change)
		}
		if remark != "" {
			remarks = append(remarks, remark)
		}
	}
	return room, changes, remarks
}

func (b *building) nameOf(id domain.ID) string {
	for _, s := range b.storeys {
		if s.id == id {
			return s.name
		}
	}
	return ""
}

func orBlank(text string) string {
	if text == "" {
		return "(blank)"
	}
	return text
}

// alike tells that two lengths or areas differ by no more than their way
// through another unit and back costs.
func alike(a, b float64) bool {
	return math.Abs(a-b) <= 1e-6*math.Max(math.Abs(a), math.Abs(b))
}

// shownArea prints an area to a hundredth, so that a small change can be seen.
func shownArea(a units.SquareMetres, sys units.System) string {
	if a == 0 {
		return ""
	}
	return units.AreaTo(a, 2, sys)
}

func shownLength(m units.Metres, sys units.System) string {
	if m == 0 {
		return ""
	}
	return units.Length(m, sys)
}

func short(text string) string {
	if r := []rune(text); len(r) > 60 {
		return string(r[:60]) + "..."
	}
	return text
}

// setTypical lets the room follow the typical of that name, unless it would
// lose a design or exceptions by it.
func (p *planner) setTypical(room *domain.Room, name string) (change, remark string) {
	t := p.typicals[strings.ToLower(strings.TrimSpace(name))]
	switch {
	case t == nil:
		return "", fmt.Sprintf("the project has no typical %q: make it first, or correct the name; the room's typical was left as it is", short(name))
	case t.ID == room.TypicalID:
		return "", ""
	case room.TypicalID == "" && !room.Design.Empty():
		return "", fmt.Sprintf("the room has a design of its own, which following typical %s would replace: assign the typical in the building table if that is meant", t.Name)
	case len(room.Exceptions) > 0:
		return "", fmt.Sprintf("the room has exceptions to its typical, which following typical %s would lose: give them back first", t.Name)
	}
	before := ""
	if old := p.byID[room.TypicalID]; old != nil {
		before = old.Name
	}
	room.TypicalID = t.ID
	return fmt.Sprintf("typical %s -> %s", orBlank(before), t.Name), ""
}
