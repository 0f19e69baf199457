package sheet

import (
	"slices"
	"strings"

	"scopewright/domain"
)

// followers are the picked rooms of one typical: those that follow it as it is, and those
// that depart from it. Base is the typical itself as a room.
type followers struct {
	base      *room
	plain     []*room
	departing []*room
}

// byTypical sorts the designed rooms by what they follow, in the order of the typicals;
// own lists those designed by themselves, bare those without a design.
func (c *Content) byTypical() (groups []followers, own, bare []*room) {
	at := map[domain.ID]int{}
	for i := range c.in.Scope.Typicals {
		t := &c.in.Scope.Typicals[i]
		at[t.ID] = i
		groups = append(groups, followers{base: c.typicalAsRoom(t)})
	}
	for _, r := range c.rooms() {
		switch {
		case r.Design.Empty():
			bare = append(bare, r)
		case r.Typical == nil:
			own = append(own, r)
		case len(r.RealExceptions()) == 0:
			g := &groups[at[r.TypicalID]]
			g.plain = append(g.plain, r)
		default:
			g := &groups[at[r.TypicalID]]
			g.departing = append(g.departing, r)
		}
	}
	kept := groups[:0]
	for _, g := range groups {
		if len(g.plain)+len(g.departing) > 0 {
			kept = append(kept, g)
		}
	}
	return kept, own, bare
}

// typicalAsRoom lets a typical print with the same words as a room.
func (c *Content) typicalAsRoom(t *domain.Typical) *room {
	as := &domain.Room{ID: t.ID, Number: t.Name, Name: t.Title, Use: t.Use}
	return &room{Resolved: &domain.Resolved{Room: as, Design: t.Design, Typical: t}, c: c, on: &storey{}}
}

// title gives "Typical CR-2 Classroom".
func (g followers) title() string {
	return "Typical " + g.base.Label()
}

// holdsFor lists the rooms to which a typical's page applies.
func holdsFor(rooms []*room) string {
	if len(rooms) == 0 {
		return "No room follows it without exceptions."
	}
	return "Holds for " + count(len(rooms), "room", "rooms") + ": " + roomNumbers(rooms) + "."
}

// exceptionsOf heads what is otherwise in some rooms of one typical.
func exceptionsOf(rooms []*room) string {
	name := rooms[0].Label()
	if len(rooms) > 1 {
		name = "Rooms " + roomNumbers(rooms)
	}
	return name + ": exceptions to typical " + rooms[0].Typical.Name
}

func roomNumbers(rooms []*room) string {
	words := make([]string, len(rooms))
	for i, r := range rooms {
		words[i] = r.Number
	}
	return strings.Join(words, ", ")
}

// sameWords tells that two tables print the same, but for marks.
func sameWords(a, b Table) bool {
	if len(a.Rows) != len(b.Rows) || len(a.Columns) != len(b.Columns) {
		return false
	}
	for i := range a.Columns {
		if a.Columns[i].Title != b.Columns[i].Title {
			return false
		}
	}
	for i := range a.Rows {
		for j := range a.Rows[i].Cells {
			if a.Rows[i].Cells[j].String() != b.Rows[i].Cells[j].String() {
				return false
			}
		}
	}
	return true
}

// perTypical prints one table a typical with the rooms it holds for, then one for each
// room whose table differs or that is designed by itself. A typical with exceptions that
// do not touch the table counts those rooms in.
func (c *Content) perTypical(table func(*room, string) Table) (blocks []Block, printed []Table) {
	groups, own, bare := c.byTypical()
	for _, g := range groups {
		base, holds := table(g.base, g.title()), g.plain
		var others []Table
		var whose [][]*room
		for _, r := range g.departing {
			t := table(r, "")
			if sameWords(base, t) {
				holds = append(holds, r)
				continue
			}
			at := slices.IndexFunc(others, func(o Table) bool { return sameWords(o, t) })
			if at < 0 {
				others, whose, at = append(others, t), append(whose, nil), len(others)
			}
			whose[at] = append(whose[at], r)
		}
		for i := range others {
			others[i].Caption = exceptionsOf(whose[i])
		}
		blocks = append(blocks, Heading{2, g.title()}, Paragraph{Text: holdsFor(holds)})
		if len(holds) > 0 {
			others = append([]Table{base}, others...)
		}
		for _, t := range others {
			blocks, printed = append(blocks, t), append(printed, t)
		}
	}
	if len(own) > 0 {
		blocks = append(blocks, Heading{2, "Rooms designed by themselves"})
	}
	for _, r := range own {
		t := table(r, r.Label())
		blocks, printed = append(blocks, t), append(printed, t)
	}
	return append(blocks, withoutDesign(bare)...), printed
}

func withoutDesign(bare []*room) []Block {
	if len(bare) == 0 {
		return nil
	}
	return []Block{Paragraph{Text: "Without a design: " + roomNumbers(bare) + "."}}
}
