package sheet

import (
	"fmt"
	"strings"
	"time"

	"scopewright/domain"
)

// priorities says who wins where two statements meet, in the project's order.
func (c *Content) priorities() Block {
	words := make([]string, len(c.project.Order()))
	for i, class := range c.project.Order() {
		words[i] = string(class)
	}
	return Paragraph{Text: "Where two statements meet, the class that stands first wins for as long as its command counts: " + strings.Join(words, ", ") +
		". Buttons are of class manual. Within a class the newest command counts. Daylight only trims what the others ask for."}
}

// calendarBlocks print what the clock does: the calendar of modes, the holidays, and the
// place and time zone by which the sun and the clock go. Nothing where no room needs them.
func (c *Content) calendarBlocks() []Block {
	need := needs{}
	for _, r := range c.rooms() {
		need.add(&r.Design)
	}
	return c.clockBlocks(need, true)
}

// clockBlocks print the same for one room, without the list of holidays: that changes
// every year, and a signature under the room shall outlive it.
func (r *room) clockBlocks() []Block {
	need := needs{}
	need.add(&r.Design)
	return r.c.clockBlocks(need, false)
}

// needs tells what of the clock a design depends on.
type needs struct{ clock, modes, sun bool }

func (n *needs) add(d *domain.Design) {
	for i := range d.Intents {
		in := &d.Intents[i]
		n.modes = n.modes || len(in.Modes) > 0 || in.Kind == domain.OnMode || in.Do == domain.SetMode
		for _, at := range []string{in.OnAt, in.OffAt, in.From, in.Until} {
			n.clock = n.clock || at != ""
			n.sun = n.sun || strings.HasPrefix(at, string(domain.Sunrise)) || strings.HasPrefix(at, string(domain.Sunset))
		}
	}
}

func (c *Content) clockBlocks(need needs, holidays bool) []Block {
	if !need.clock && !need.modes {
		return nil
	}
	p := c.project
	clock := []Fact{{"Time zone", or(p.Zone, "none: the clock has no summer time")}}
	for _, line := range p.Calendar {
		if need.modes && (strings.Contains(line, string(domain.Sunrise)) || strings.Contains(line, string(domain.Sunset))) {
			need.sun = true
		}
	}
	if need.sun {
		clock = append(clock, Fact{"Place, for sunrise and sunset", c.place()})
	}
	out := []Block{Facts{Columns: len(clock), Items: clock}}
	if need.modes {
		out = append(out, c.modeTable())
	}
	if holidays {
		out = append(out, c.holidayTable())
	}
	return out
}

func (c *Content) place() string {
	p := c.project
	if p.Latitude == nil || p.Longitude == nil {
		return notStated
	}
	return fmt.Sprintf("latitude %s, longitude %s degrees", number(*p.Latitude), number(*p.Longitude))
}

// modeTable is the calendar of modes, line by line.
func (c *Content) modeTable() Table {
	t := Table{Caption: "Calendar of modes", Empty: "No calendar of modes: rooms stay in mode normal until something changes it.",
		Columns: []Column{{Title: "Days", Width: 3}, {Title: "Time", Width: 2}, {Title: "Mode from then on", Width: 2}}}
	for _, line := range c.project.Calendar {
		m, err := domain.ParseModeTime(line)
		if err != nil {
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(or(line, none)), TextCell(undecided).Marked(Warning), TextCell(undecided).Marked(Warning)}})
			continue
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(m.Days.String()), TextCell(m.At.String()), TextCell(string(m.Mode))}})
	}
	return t
}

func (c *Content) holidayTable() Table {
	t := Table{Caption: "Holidays", Empty: "No holidays are listed.", Columns: []Column{{Title: "Date", Width: 1}, {Title: "Name", Width: 4}}}
	for _, line := range c.project.Holidays {
		day, name, err := domain.Holiday(line)
		if err != nil {
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(or(line, none)).Marked(Warning), TextCell(undecided)}})
			continue
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(day.Format(time.DateOnly)), TextCell(orDash(name))}})
	}
	return t
}
