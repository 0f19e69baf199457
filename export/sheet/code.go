package sheet

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
)

// EnergyCode checks each room's controls and the building's lighting power by the energy
// code that the project names, and writes the account of the controls that codes want
// handed over.
func EnergyCode(c *Content) []Sheet {
	s := Sheet{ID: "code", Number: numberCode, Title: "Energy code checks", Head: c.head(), Landscape: true}
	s.Blocks = withoutNil([]Block{c.partialNote(), Caution{Title: "Energy code", Text: energycode.Notice}})
	p, problem := c.codePack()
	if p == nil {
		s.Blocks = append(s.Blocks, Table{Caption: "Checks", Columns: []Column{{Title: "Room", Width: 1}, {Title: "Check", Width: 3}}, Empty: problem})
		return []Sheet{s}
	}
	k := c.checked(p)
	s.Blocks = append(s.Blocks, k.blocks()...)
	return []Sheet{s}
}

// codePack finds the code that the project names; where there is none to check by, the
// problem says what to do.
func (c *Content) codePack() (p *energycode.Pack, problem string) {
	id := c.project.CodePack
	const choose = `choose one in the settings of the project under "Energy code checked by".`
	if id == "" {
		return nil, "No energy code is chosen for this project, so nothing has been checked: " + choose
	}
	if p = energycode.Find(string(id)); p == nil || !p.Whole() {
		return nil, fmt.Sprintf("The project names the energy code %q, which is not known here, so nothing has been checked: %s", id, choose)
	}
	if c.Rooms() == 0 {
		return nil, "There are no rooms to check."
	}
	return p, ""
}

// codeCheck is all rooms judged by one code, ready to print.
type codeCheck struct {
	c      *Content
	p      *energycode.Pack
	rooms  []codeRoom
	d      energycode.Documents
	marks  codeMarks
	egress bool // some check asks to darken light on the way out
}

// codeRoom is a room with the kind of space by which it was judged.
type codeRoom struct {
	*room
	kind   string           // name of the kind, and whether a person confirmed it
	why    string           // where the kind comes from
	checks []energycode.Row // but for lighting power
	doubt  string           // why its daylight areas could not be drawn
}

func (c *Content) checked(p *energycode.Pack) *codeCheck {
	k := &codeCheck{c: c, p: p}
	var judged []energycode.Room
	for _, r := range c.rooms() {
		given := energycode.Given{}
		out := codeRoom{room: r}
		var err error
		if given.Zones, err = energycode.ZonesOf(p, c.project, r.Resolved, daylight.AssumedOf(c.project)); err != nil {
			out.doubt = err.Error()
		}
		facts := energycode.FactsOf(c.project, r.Resolved, given)
		space, confirmed := p.SpaceOf(r.Resolved, facts.Area)
		out.kind, out.why = k.kindOf(&space, confirmed, p.Propose(r.Use, facts.Area))
		judged = append(judged, energycode.Room{ID: r.ID, Space: space.Space, Facts: facts})
		k.rooms = append(k.rooms, out)
	}
	report := energycode.JudgeBuilding(p, judged, c.project.Units)
	k.d = report.Documents()
	for i := range k.rooms {
		for _, row := range k.d.Rooms[i].Rows {
			k.egress = k.egress || row.Caution != ""
			if row.Requirement != energycode.PowerDensity.Title() {
				k.rooms[i].checks = append(k.rooms[i].checks, row)
			}
		}
	}
	return k
}

// kindOf words the kind of space and where it comes from. A confirmed kind that use and
// area do not suggest any more is said, for a room may have been divided since.
func (k *codeCheck) kindOf(space *energycode.Proposal, confirmed bool, proposed energycode.Proposal) (kind, why string) {
	s := k.p.Space(space.Space)
	switch {
	case s == nil:
		return "not chosen", space.Why
	case !confirmed:
		return s.Name + " (proposed)", space.Why
	case proposed.Space != "" && proposed.Space != space.Space:
		return s.Name, space.Why + fmt.Sprintf(" Use and area suggest %q.", k.p.Space(proposed.Space).Name)
	}
	return s.Name, space.Why
}

func (k *codeCheck) blocks() []Block {
	out := []Block{k.facts()}
	if k.egress {
		out = append(out, Caution{Title: domain.CautionEgress.Title, Text: energycode.LifeSafety})
	}
	out = append(out, k.building(), k.summary(), k.densities(), k.checks(), k.narrative())
	return append(out, Heading{2, "How to read it"}, k.notes())
}

func (k *codeCheck) facts() Block {
	return Facts{Columns: 1, Items: []Fact{{"Checked by", k.d.Key}, {"State of these figures", sentence(k.d.State)}, {"Made of", orDash(k.d.Note)},
		{"Code and edition, as stated for the project", or(k.c.project.CodeEdition, notStated)}}}
}
