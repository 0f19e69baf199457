package sheet

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// sightBlocks tells what the room's presence sensors see, nothing where it has none.
func (r *room) sightBlocks(sight *coverage.Room) []Block {
	if !r.hasPresence() {
		return nil
	}
	head := Heading{1, "Sight of presence sensors"}
	if sight == nil {
		return []Block{head, Paragraph{Text: "Nothing is predicted: the room has no outline on the plan."}}
	}
	if len(sight.Sensors) == 0 {
		return []Block{head, Paragraph{Text: "Nothing is predicted: no presence sensor stands on the plan."}}
	}
	blocks := []Block{head, r.sightFacts(sight), r.sensorTable(sight)}
	if len(sight.Seats)+len(sight.Entrances) > 0 {
		blocks = append(blocks, r.targetPlan(sight), r.targetTable(sight))
	}
	if t := r.leakTable(sight); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	return blocks
}

func (r *room) hasPresence() bool {
	for i := range r.Design.Devices {
		if t := r.c.project.Book.Find(r.Design.Devices[i].Type); t != nil && t.Kind.Traits().Presence {
			return true
		}
	}
	return false
}

func (r *room) length(m float64) string {
	return units.Nearly(units.Metres(m), r.c.project.Units)
}

func (r *room) sightFacts(s *coverage.Room) Block {
	seen := func(list []coverage.Target) string {
		n := 0
		for i := range list {
			if list[i].Seen() {
				n++
			}
		}
		return fmt.Sprintf("%d of %d", n, len(list))
	}
	f := Facts{Columns: 3, Items: []Fact{
		{"Floor seen, walking", number(roundTo(100*s.Share(coverage.Major), 1)) + " %, asked " + number(r.c.project.Limits.Value(domain.CoveredShare)) + " %"},
		{"Floor seen, small motion", number(roundTo(100*s.Share(coverage.Minor), 1)) + " %"},
		{"Seats seen", seen(s.Seats)}, {"Entrances seen", seen(s.Entrances)},
	}}
	if n := len(s.Unplaced); n > 0 {
		f.Items = append(f.Items, Fact{"Not on the plan, not checked", count(n, "sensor", "sensors")})
	}
	return f
}

func (r *room) sensorTable(s *coverage.Room) Table {
	t := Table{Caption: "Sensors", Columns: []Column{{Title: "Sensor", Width: 1}, {Title: "Senses by", Width: 1.3}, {Title: "Height", Width: 1.2}, {Title: "Walking within", Width: 1.3}, {Title: "Small motion within", Width: 1.4}, {Title: "Spans", Width: 1}, {Title: "Sees of the floor", Unit: "%", Kind: Number, Width: 1.2}, {Title: "What else", Width: 3}, {Title: "Walked, seen to", Width: 1.4}}}
	floor := s.Area(s.Floor)
	for i := range s.Sensors {
		one := &s.Sensors[i]
		span, note := "all around", ""
		if one.Span > 0 && one.Span < 360 {
			span = number(one.Span) + " degrees"
		}
		switch {
		case one.Refused != nil:
			note = sentence(one.Refused.Error())
		case one.Assumed:
			note = "Its type states no pattern: a disc is assumed."
		}
		share := TextCell(none)
		if floor > 0 && one.Refused == nil {
			share = NumberCell(roundTo(100*s.Area(one.Seen(coverage.Major))/floor, 1), 1)
		}
		height := r.length(one.Height)
		if one.Guess {
			height += " assumed"
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(one.Tag), TextCell(or(string(one.Senses), notStated)), TextCell(height), r.radius(one.Walk), r.radius(one.Small), TextCell(span), share, TextCell(orDash(note)), TextCell(blankShort)}})
	}
	return t
}

// radius prints how far a sensor sees; none where that is not reckoned.
func (r *room) radius(m float64) Cell {
	if m <= 0 {
		return TextCell(none)
	}
	return TextCell(r.length(m))
}

// targetPlan shows the seats by their numbers and the entrances by E and theirs, with
// the sensors.
func (r *room) targetPlan(s *coverage.Room) Drawing {
	var marks []drawing.Mark
	for i := range s.Seats {
		marks = append(marks, drawing.Mark{At: s.Seats[i].At, Text: strconv.Itoa(i + 1)})
	}
	for i := range s.Entrances {
		marks = append(marks, drawing.Mark{At: s.Entrances[i].At, Text: "E" + strconv.Itoa(i+1)})
	}
	view := drawing.RoomView(r.c.project, r.c.planOf(r.on), r.Resolved, r.c.neighbors(r.StoreyID), drawing.Options{Furniture: true, Spread: true, Marks: marks,
		Layers: drawing.Without(drawing.LayerLuminaires, drawing.LayerSeats, drawing.LayerNames)})
	return Drawing{Caption: "Seats and entrances by number", View: view, Height: roomPlanHeight, Note: "Numbers are seats and E entrances, as in the table below."}
}

// targetTable says of each seat and entrance by which sensors it is seen.
func (r *room) targetTable(s *coverage.Room) Table {
	t := Table{Caption: "Seats and entrances", Columns: []Column{{Title: "Number on the plan", Width: 1.4}, {Title: "From the left and from the bottom of the room", Width: 2.4}, {Title: "Seen by", Width: 3}, {Title: "Tried", Align: Center, Width: 0.8}},
		Note: fmt.Sprintf("A seat must be seen for small motion at %s, an entrance for a person who walks in.", r.length(s.Seated))}
	corner := s.Outline.Bounds().Min
	add := func(what, mark string, list []coverage.Target) {
		for i := range list {
			var tags []string
			for _, by := range list[i].By {
				tags = append(tags, s.Sensors[by].Tag)
			}
			seen := TextCell(joined(tags))
			if tags == nil {
				seen = TextCell("no sensor").Marked(Warning)
			}
			at := list[i].At.Sub(corner)
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(fmt.Sprintf("%s%d, %s", mark, i+1, what)), TextCell(r.length(at.X) + " from the left, " + r.length(at.Y) + " from the bottom"), seen, TextCell(tick)}})
		}
	}
	add("seat", "", s.Seats)
	add("entrance", "E", s.Entrances)
	return t
}

func (r *room) leakTable(s *coverage.Room) Table {
	t := Table{Caption: "What is seen through open doors and gaps", Columns: []Column{{Title: "Sensor", Width: 1}, {Title: "Through", Width: 1.6}, {Title: "Floor seen beyond", Width: 2}, {Title: "What to do", Width: 4}}}
	limit := r.c.project.Limits.Value(domain.LeakArea)
	for _, l := range s.Leaks() {
		through := "a gap"
		if l.Door {
			through = "a door, open"
		}
		area, advice := TextCell(smallArea(l.Area, r.c.project.Units)), "Within the limit."
		if !units.AtMost(l.Area, limit) {
			area, advice = area.Marked(Warning), "People who pass there keep the light on: turn or mask the sensor on site, or move it."
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(s.Sensors[l.Sensor].Tag), TextCell(through), area, TextCell(advice)}})
	}
	return t
}

// smallArea prints square feet to a tenth: whole ones hide what is seen of a corridor.
func smallArea(a float64, sys units.System) string {
	decimals := 2
	if sys == units.US {
		decimals = 1
	}
	return units.AreaTo(units.SquareMetres(a), decimals, sys)
}
