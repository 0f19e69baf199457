package sheet

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// RoomScope builds the scope sheet of each room: everything about one room, for the
// installer, the technician and the reviewer.
func RoomScope(c *Content) []Sheet {
	var out []Sheet
	for _, r := range c.rooms() {
		out = append(out, r.scopeSheet())
	}
	return out
}

func (r *room) scopeSheet() Sheet {
	s := Sheet{ID: "room-" + r.slug, Number: r.scopeNumber(), Title: "Scope of room " + r.Label(), Head: r.head()}
	s.Blocks = append(s.Blocks, r.changeBlocks()...)
	s.Blocks = append(s.Blocks, r.printedBlocks()...)
	s.Blocks = append(s.Blocks, r.reviewBlocks()...)
	return s
}

// designBlocks are the blocks of the scope sheet that the content hash covers: what the
// room is, holds and does, and what the rules find.
func (r *room) designBlocks(found []rule.Finding) []Block {
	out := append([]Block{r.facts(found)}, r.planBlocks()...)
	if r.Notes != "" {
		out = append(out, Paragraph{Text: "Notes: " + r.Notes})
	}
	out = append(out, r.exceptionBlocks()...)
	if r.Design.Empty() {
		out = append(out, Paragraph{Text: "Nothing has been designed for this room yet.", Strong: true})
	} else {
		if r.hasEgress() {
			out = append(out, toCaution(domain.CautionEgress))
		}
		out = append(out, r.equipmentBlocks()...)
		out = append(out, r.behaviorBlocks()...)
	}
	out = append(out, Heading{1, "Findings and waivers"}, r.findingBlock(found))
	return append(out, r.cautions()...)
}

func (r *room) findingBlock(found []rule.Finding) Block {
	if r.c.in.Findings == nil {
		return Paragraph{Text: "The rules were not run for this print."}
	}
	return findingLines(found)
}

func (r *room) equipmentBlocks() []Block {
	return []Block{Heading{1, "Devices and loads"}, r.deviceTable(), r.loadTable()}
}

func (r *room) behaviorBlocks() []Block {
	matrix, scenes := r.matrixTable("Control matrix"), r.sceneTable("Scenes")
	matrix.Note = legendNote(matrixLegend(matrix))
	out := []Block{Heading{1, "Who controls what"}, matrix}
	if len(scenes.Rows) > 0 {
		out = append(out, scenes)
	}
	out = append(out, Heading{1, "Sequence of operations"}, r.statements(), r.c.priorities())
	out = append(out, r.clockBlocks()...)
	return append(out, Heading{1, "Failure states"}, r.failureTable(r.powerBack()))
}

func (r *room) facts(found []rule.Finding) Block {
	p := r.c.project
	e := r.env()
	show := func(name string) string {
		f, _ := domain.FieldNamed(domain.RoomFields, name)
		return or(f.Show(e, r.Room), notStated)
	}
	findings := tallyOf(found).String()
	if r.c.in.Findings == nil {
		findings = "rules not run"
	}
	return Facts{Columns: 3, Items: []Fact{
		{"Use", or(r.Use.Name(), notStated)}, {"Kind of space", energycode.KindsOf(p).KindWords(energycode.KindsOf(p).KindOf(r.Resolved))}, {"Area", show("area_m2")}, {"Ceiling height", show("ceiling_m")}, {"Windows", show("windows")}, {"Receptacles", show("receptacles")},
		{"Occupants", show("seats")}, {"Hours of use", or(p.Hours, notStated)}, {"Code and edition", or(p.CodeEdition, notStated)}, {"Follows", r.follows()},
		{"Connected lighting", r.connected()}, {"Holds", r.holds()}, {"Does", r.does()}, {"Findings", findings},
	}}
}

func (r *room) follows() string {
	if r.Typical == nil {
		return "no typical: designed by itself"
	}
	text := "typical " + r.Typical.Name
	if r.Typical.Title != "" {
		text += " " + r.Typical.Title
	}
	if n := len(r.exceptions()); n > 0 {
		return text + ", " + count(n, "exception", "exceptions")
	}
	return text + ", no exceptions"
}

func (r *room) connected() string {
	decimals := r.c.powerDecimals(r)
	w := r.lightingWatts(decimals)
	if w == 0 {
		return none
	}
	return units.Trim(w, decimals) + " W"
}

func (r *room) holds() string {
	text := count(len(r.Design.Devices), "device", "devices") + ", " + count(r.countLoads(domain.Lighting), "lighting load", "lighting loads")
	if n := r.countLoads(domain.Receptacle); n > 0 {
		text += ", " + count(n, "receptacle load", "receptacle loads")
	}
	return text
}

func (r *room) does() string {
	return count(len(r.Design.Scenes), "scene", "scenes") + ", " + count(len(r.sequence()), "statement", "statements")
}

// exceptions says in words how the room departs from its typical.
func (r *room) exceptions() []string {
	if r.exceptionLines == nil && r.Typical != nil {
		r.exceptionLines = r.DescribeExceptions(r.c.project)
	}
	return r.exceptionLines
}

// exceptionBlocks lists in words how the room departs from its typical.
func (r *room) exceptionBlocks() []Block {
	if r.Typical == nil {
		return nil
	}
	var list Statements
	for i, text := range r.exceptions() {
		list.Items = append(list.Items, Statement{ID: fmt.Sprintf("E%d", i+1), Text: sentence(text)})
	}
	if n := len(r.Orphans); n > 0 {
		list.Items = append(list.Items, Statement{ID: "E!", Text: fmt.Sprintf("%s no longer find their place in typical %s: ask the designer.", count(n, "exception", "exceptions"), r.Typical.Name)})
	}
	if len(list.Items) == 0 {
		return nil
	}
	return []Block{Heading{1, "How this room differs from typical " + r.Typical.Name}, list}
}

func (r *room) hasEgress() bool {
	for i := range r.Design.Loads {
		if r.Design.Loads[i].Egress {
			return true
		}
	}
	return false
}

// cautions stand at the end of the design: those that concern what the room holds.
func (r *room) cautions() []Block {
	if r.hasSupply(equipment.Mains) || len(r.Design.Loads) > 0 {
		return []Block{toCaution(domain.CautionMains)}
	}
	return nil
}

func (r *room) hasSupply(s equipment.Supply) bool {
	for i := range r.Design.Devices {
		if t := r.c.project.Book.Find(r.Design.Devices[i].Type); t != nil && t.Supply == s {
			return true
		}
	}
	return false
}
