package sheet

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// EnergyCode checks each room's controls and the building's lighting power by the energy
// code that the project names, and writes the account of the controls that codes want
// handed over.
func EnergyCode(c *Content) []Sheet {
	s := Sheet{ID: "code", Number: numberCode, Title: "Energy code checks", Head: c.head(), Landscape: true}
	if rooms := c.rooms(); c.partial && len(rooms) == 1 {
		r := rooms[0]
		s.ID, s.Number, s.Title, s.Head = "code-"+r.slug, fmt.Sprintf("%s-%02d-%s", numberCode, r.on.place, r.number), "Energy code checks of room "+r.Label(), r.head()
	}
	s.Blocks = withoutNil([]Block{c.codePartial(), Caution{Title: "Energy code", Text: energycode.Notice}})
	p, problem := c.codePack()
	if p == nil {
		s.Blocks = append(s.Blocks, Table{Caption: "Checks", Columns: []Column{{Title: "Room", Width: 1}, {Title: "Check", Width: 3}}, Empty: problem})
		return []Sheet{s}
	}
	k := c.checked(p)
	s.Blocks = append(s.Blocks, k.blocks()...)
	return []Sheet{s}
}

// codePartial says of how many rooms the sheet is, and that sums are of all.
func (c *Content) codePartial() Block {
	if !c.partial {
		return nil
	}
	return Paragraph{Text: fmt.Sprintf("Holds %s picked out of %d; what is said of the building is of all of them.", count(c.Rooms(), "room", "rooms"), len(c.in.Scope.Rooms)), Strong: true}
}

// codePack finds the code that the project names; where there is none to check by, the
// problem says what to do.
func (c *Content) codePack() (p *energycode.Pack, problem string) {
	id := c.project.CodePack
	const choose = `choose one in the settings of the project under "Energy code checked by".`
	if id == "" {
		return nil, "No energy code is chosen for this project, so nothing has been checked: " + choose
	}
	if p = energycode.PackOf(c.project); p == nil {
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
	rooms  []codeRoom // that are printed
	d      energycode.Documents
	marks  codeMarks
	egress bool // some check asks to darken light on the way out
	lost   int  // rooms that were not picked and cannot be read
}

// codeRoom is a room with the kind of space by which it was judged.
type codeRoom struct {
	*room
	kind    string           // name of the kind, and whether a person confirmed it
	why     string           // where the kind comes from
	checks  []energycode.Row // but for lighting power
	sum     energycode.SummaryRow
	density energycode.DensityRow
	doubt   string // why its daylight areas could not be drawn
}

// checked judges every room of the project, since some figures hold for the building as
// a whole, and keeps what is printed of the rooms that were picked.
func (c *Content) checked(p *energycode.Pack) *codeCheck {
	k := &codeCheck{c: c, p: p}
	rooms := c.rooms()
	found := make([]energycode.Found, len(rooms))
	for i, r := range rooms {
		found[i] = k.read(r.Resolved, r.findings())
	}
	if c.partial {
		found = append(found, k.others(rooms)...)
	}
	report := energycode.JudgeAll(p, c.project, found)
	k.d = report.Documents()
	for i, r := range rooms {
		k.add(r, &found[i], i)
	}
	return k
}

func (k *codeCheck) read(r *domain.Resolved, found []rule.Finding) energycode.Found {
	return energycode.RoomOf(k.p, k.c.project, r, validate.Claims(found))
}

// others reads the rooms that were not picked, which count in the sums. What people
// claim of them is counted, and not printed.
func (k *codeCheck) others(picked []*room) []energycode.Found {
	here := map[domain.ID]bool{}
	for _, r := range picked {
		here[r.ID] = true
	}
	var out []energycode.Found
	scope := k.c.in.Scope
	for i := range scope.Rooms {
		if here[scope.Rooms[i].ID] {
			continue
		}
		if r, err := scope.Resolve(&scope.Rooms[i]); err != nil {
			k.lost++
		} else {
			var found []rule.Finding
			if len(r.Waivers) > 0 && k.c.in.Findings != nil { // only then may an exception be claimed
				found = k.c.in.Findings(r)
			}
			out = append(out, k.read(r, found))
		}
	}
	return out
}

// add takes a room into what is printed; at is its place among all that were judged.
func (k *codeCheck) add(r *room, f *energycode.Found, at int) {
	out := codeRoom{room: r, sum: k.d.Summary[at], density: k.d.Densities[at], doubt: f.Doubt}
	out.kind, out.why = k.kindOf(f)
	for _, row := range k.d.Rooms[at].Rows {
		k.egress = k.egress || row.Caution != ""
		if row.Requirement != energycode.PowerDensity.Title() {
			out.checks = append(out.checks, row)
		}
	}
	k.rooms = append(k.rooms, out)
}

// kindOf words the kind of space and where it comes from. A confirmed kind that use and
// area do not suggest any more is said, for a room may have been divided since.
func (k *codeCheck) kindOf(f *energycode.Found) (kind, why string) {
	why = f.Kind.Why
	if suggested := k.p.Space(f.Suggested.Space); f.Confirmed && suggested != nil && suggested.ID != f.Kind.Space {
		why += fmt.Sprintf(" Use and area suggest %q.", suggested.Name)
	}
	return k.p.KindWords(f.Kind, f.Confirmed), why
}

func (k *codeCheck) blocks() []Block {
	out := []Block{k.facts()}
	if k.egress {
		out = append(out, Caution{Title: domain.CautionEgress.Title, Text: energycode.LifeSafety})
	}
	out = append(out, k.building(), k.summary(), k.claims(), k.densities(), k.checks(), k.narrative())
	return append(out, Heading{1, "How to read it"}, k.notes())
}

func (k *codeCheck) facts() Block {
	out := Facts{Columns: 1, Items: []Fact{{"Checked by", k.title()}, {"State of these figures", sentence(k.d.State)}, {"Made of", orDash(k.d.Note)},
		{"Code and edition, as stated for the project", or(k.c.project.CodeEdition, notStated)}}}
	if k.lost > 0 {
		out.Items = append(out.Items, Fact{"Left out of the sums", count(k.lost, "room", "rooms") + " whose typical is missing"})
	}
	return out
}

// title names the code: a worksheet by its own title as well.
func (k *codeCheck) title() string {
	if k.p.Worksheet() {
		return k.d.Key + ", worksheet \"" + k.p.Title + "\""
	}
	return k.d.Key
}
