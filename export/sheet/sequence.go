package sheet

import (
	"fmt"
	"slices"
	"strings"
)

// SequenceOfOperations prints the numbered statements of all rooms: each typical once with
// the rooms that follow it, then what is otherwise in rooms with exceptions, then the
// rooms designed by themselves.
func SequenceOfOperations(c *Content) []Sheet {
	s := Sheet{ID: "sequence", Number: numberSequence, Title: "Sequence of operations", Head: c.head()}
	s.Blocks = withoutNil([]Block{c.partialNote(), c.priorities()})
	s.Blocks = append(s.Blocks, c.calendarBlocks()...)
	groups, own, bare := c.byTypical()
	for _, g := range groups {
		s.Blocks = append(s.Blocks, Heading{1, g.title()}, Paragraph{Text: holdsFor(g.plain)}, g.base.statements())
		s.Blocks = append(s.Blocks, g.departures()...)
	}
	if len(own) > 0 {
		s.Blocks = append(s.Blocks, Heading{1, "Rooms designed by themselves"})
	}
	for _, r := range own {
		s.Blocks = append(s.Blocks, Heading{2, r.Label()}, r.statements())
	}
	s.Blocks = append(s.Blocks, withoutDesign(bare)...)
	return []Sheet{s}
}

// departures states what is otherwise in the rooms that depart from the typical, once for
// rooms that depart in the same way.
func (g followers) departures() []Block {
	type way struct {
		rooms []*room
		is    departing
	}
	var ways []way
	for _, r := range g.departing {
		is := r.departsFrom(g.base)
		at := slices.IndexFunc(ways, func(w way) bool { return w.is.equal(is) })
		if at < 0 {
			ways, at = append(ways, way{is: is}), len(ways)
		}
		ways[at].rooms = append(ways[at].rooms, r)
	}
	var out []Block
	for _, w := range ways {
		out = append(out, Heading{2, exceptionsOf(w.rooms)})
		out = append(out, w.is.blocks()...)
	}
	return out
}

// departing is how a room differs from its typical: its exceptions, the statements that
// read otherwise or come besides, and those of the typical that it lacks.
type departing struct {
	exceptions []string
	other      []Statement
	lacks      []string
}

func (d departing) equal(o departing) bool {
	return slices.Equal(d.exceptions, o.exceptions) && slices.Equal(d.other, o.other) && slices.Equal(d.lacks, o.lacks)
}

func (r *room) departsFrom(base *room) departing {
	d := departing{exceptions: r.exceptions()}
	there, here := map[string]bool{}, map[string]bool{}
	for _, s := range base.sequence() {
		there[s.text] = true
	}
	for _, s := range r.sequence() {
		here[s.text] = true
		if !there[s.text] {
			d.other = append(d.other, Statement{ID: s.id, Text: s.text, Source: s.source})
		}
	}
	for _, s := range base.sequence() {
		if !here[s.text] {
			d.lacks = append(d.lacks, s.id)
		}
	}
	return d
}

func (d departing) blocks() []Block {
	var list Statements
	for i, text := range d.exceptions {
		list.Items = append(list.Items, Statement{ID: fmt.Sprintf("E%d", i+1), Text: sentence(text)})
	}
	out := []Block{list}
	switch {
	case len(d.lacks)+len(d.other) == 0:
		return append(out, Paragraph{Text: "The statements read as in the typical."})
	case len(d.other) == 0:
		return append(out, Paragraph{Text: "Without " + strings.Join(d.lacks, ", ") + " of the typical; the other statements read alike."})
	case len(d.lacks) > 0:
		out = append(out, Paragraph{Text: "In place of " + strings.Join(d.lacks, ", ") + " of the typical, with the numbers of the room's own scope sheet:"})
	default:
		out = append(out, Paragraph{Text: "Besides the typical's statements, with the numbers of the room's own scope sheet:"})
	}
	return append(out, Statements{Items: d.other})
}
