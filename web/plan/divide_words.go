package plan

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
	"scopewright/web/edits"
)

// findingSide is what the rules find before or after.
type findingSide struct {
	Title  string
	Counts verdict
	Named  []namedFinding
	More   string // what is not named
}

// namedFinding is a finding with the room that it is of.
type namedFinding struct {
	Severity, Word, Room, Text string
}

// findingsNamed is how many findings of one severity are named in full, shared by
// the rooms that they are of.
const findingsNamed = 4

var findingWords = map[rule.Severity]string{rule.Error: "Error", rule.Warning: "Warning"}

// sides tells the findings of the room now, and of its areas then.
func (d *dividable) sides(w *way) []findingSide {
	now := findingSide{Title: "Now: room " + d.room.Number, Counts: verdictOf(d.found)}
	now.name([]*domain.Resolved{d.room}, [][]rule.Finding{d.found})
	var numbers []string
	for _, room := range w.after {
		numbers = append(numbers, room.Number)
	}
	then := findingSide{Title: "Then: rooms " + domain.JoinWords(numbers), Counts: w.verdict}
	then.name(w.after, w.found)
	return []findingSide{now, then}
}

// name names the first errors and warnings that are open, of each room some.
func (f *findingSide) name(rooms []*domain.Resolved, found [][]rule.Finding) {
	var more []string
	for _, severity := range []rule.Severity{rule.Error, rule.Warning} {
		left := 0
		for i, list := range found {
			named := 0
			for j := range list {
				one := &list[j]
				switch {
				case one.Severity != severity || one.Waived():
				case named < max(1, findingsNamed/len(rooms)):
					named++
					f.Named = append(f.Named, namedFinding{string(severity), findingWords[severity], rooms[i].Number, one.Message})
				default:
					left++
				}
			}
		}
		if left > 0 {
			more = append(more, edits.Count(left, "more "+string(severity)))
		}
	}
	if len(more) > 0 {
		f.More = "And " + domain.JoinWords(more) + "."
	}
}

// worse says how many findings the areas have that the room has not.
func (d *dividable) worse(w *way) string {
	now := verdictOf(d.found)
	if w.verdict.errors <= now.errors && w.verdict.warnings <= now.warnings {
		return ""
	}
	said := func(v verdict) string {
		return edits.Count(v.errors, "error") + " and " + edits.Count(v.warnings, "warning")
	}
	return fmt.Sprintf("The areas have %s together, the whole room %s: what a cut separates from its loads wants new stations, sensors or links. The rooms' workbenches list them.", said(w.verdict), said(now))
}

// lists tells what the division changes and costs.
func (d *dividable) lists(w *way) []toldList {
	var tags []string
	for _, id := range w.Unplaced {
		tags = append(tags, d.room.Design.Device(id).Tag)
	}
	var unplaced []string
	if len(tags) > 0 {
		unplaced = []string{strings.Join(tags, ", ")}
	}
	all := []toldList{
		{"What an area lacks", "The room has it and this area has none: add one there, or cut elsewhere.", d.lacks(w)},
		{"Goes to another controller", "The luminaires of these loads hang in one area and their controller stays in another. Wire them anew.", d.rehung(w)},
		{"Left out of the design", "Links between what comes to be in two rooms are cut; scenes, intents and scenarios stay where they still name something.", edit.LeftOut(&d.room.Design, w.after)},
		{"Standing in another area", "A station goes with its loads, a load with its controller. Move these things, or hang them on a controller of the area that they stand in.", d.strays(w)},
		{"Without a place on the plan", "They go with what they act on. Place them first where it matters.", unplaced},
	}
	var out []toldList
	for _, l := range all {
		if len(l.Lines) > 0 {
			out = append(out, l)
		}
	}
	return out
}

func (d *dividable) strays(w *way) (out []string) {
	for _, x := range w.Strays {
		out = append(out, d.strayLine(x, w.after[x.Area].Number, w.after[x.In].Number))
	}
	return out
}

func (d *dividable) strayLine(x propose.Stray, area, in string) string {
	if x.Device != "" {
		return fmt.Sprintf("%s goes to %s and stands in %s", d.room.Design.Device(x.Device).Tag, area, in)
	}
	return fmt.Sprintf("%s goes to %s; %d of its %s hang in %s", d.room.Design.Load(x.Load).Tag, area, x.Count, edits.Count(x.Of, "luminaire"), in)
}

// rehung tells which loads go from one controller to another.
func (d *dividable) rehung(w *way) (out []string) {
	for i := range w.Areas {
		for _, h := range w.Areas[i].Hung {
			load, room := d.room.Design.Load(h.Load), w.after[i]
			from, to := d.room.Design.Device(load.Controller), room.Design.Device(h.Controller)
			out = append(out, fmt.Sprintf("%s goes to %s, from %s to %s output %d", load.Tag, room.Number, from.Tag, to.Tag, h.Output))
		}
	}
	return out
}

// lackable are the kinds of device that a room's areas each want, where it has one.
var lackable = []struct {
	name string
	is   func(equipment.Traits) bool
}{
	{"presence sensor", func(t equipment.Traits) bool { return t.Presence }},
	{"daylight sensor", func(t equipment.Traits) bool { return t.Daylight }},
	{"station", func(t equipment.Traits) bool { return t.Buttons && !t.OwnOnly }},
}

// lacks tells what areas with lighting have none of though the room has one.
func (d *dividable) lacks(w *way) (out []string) {
	for _, k := range lackable {
		if !d.state.hasKind(&d.room.Design, k.is) {
			continue
		}
		for _, room := range w.after {
			if len(room.Design.Loads) > 0 && !d.state.hasKind(&room.Design, k.is) {
				out = append(out, fmt.Sprintf("%s has no %s", room.Number, k.name))
			}
		}
	}
	return out
}

func (st *state) hasKind(d *domain.Design, is func(equipment.Traits) bool) bool {
	for i := range d.Devices {
		if t := st.Project.Book.Find(d.Devices[i].Type); t != nil && is(t.Kind.Traits()) {
			return true
		}
	}
	return false
}
