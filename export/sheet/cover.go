package sheet

import (
	"fmt"

	"scopewright/domain"
)

// cover opens an issue set: what it is, the revisions, and the index of its sheets.
func (c *Content) cover(others []Sheet) Sheet {
	s := Sheet{ID: "cover", Number: numberCover, Title: "Cover and index", Head: c.head()}
	s.Blocks = withoutNil([]Block{Heading{1, c.project.Name}, BigText{"Lighting controls: scope of operation"}, c.partialNote(), c.projectFacts()})
	if c.project.Brief != "" {
		s.Blocks = append(s.Blocks, Heading{2, "Owner's wishes"}, Paragraph{Text: c.project.Brief})
	}
	index := Index{Items: []IndexLine{{Number: s.Number, Title: s.Title}}}
	for _, o := range others {
		index.Items = append(index.Items, IndexLine{Number: o.Number, Title: o.Title})
	}
	s.Blocks = append(s.Blocks, c.revisionTable(), toCaution(domain.CautionGeneral), Heading{1, "Index"}, index)
	return s
}

func (c *Content) projectFacts() Facts {
	p := c.project
	buildings, designed, devices := count(len(p.Buildings), "building", "buildings"), 0, 0
	for _, r := range c.rooms() {
		if !r.Design.Empty() {
			designed++
		}
		devices += len(r.Design.Devices)
	}
	total := tallyOf(c.in.ProjectFindings)
	for _, r := range c.rooms() {
		total.add(tallyOf(r.findings()))
	}
	findings := total.String()
	if c.in.Findings == nil {
		findings = "rules not run"
	}
	return Facts{Columns: 2, Items: []Fact{
		{"Client", or(p.Client, notStated)}, {"Address", or(p.Address, notStated)},
		{"Code and edition", or(p.CodeEdition, notStated)}, {"Hours of use", or(p.Hours, notStated)},
		{"Extent", fmt.Sprintf("%s, %s, %s", buildings, count(len(c.occupied()), "storey", "storeys"), count(c.Rooms(), "room", "rooms"))},
		{"Designed", fmt.Sprintf("%s with %s", count(designed, "room", "rooms"), count(devices, "device", "devices"))},
		{"Findings", findings}, {"Units", unitsName(p.Units)},
	}}
}

// revisionTable lists the issues, the newest first, with what changed at the newest.
func (c *Content) revisionTable() Table {
	t := Table{Caption: "Revisions", Columns: []Column{{Title: "Revision", Width: 1}, {Title: "Date", Width: 1.3}, {Title: "Purpose", Width: 2}, {Title: "Author", Width: 1.8}, {Title: "What changed", Width: 5}}}
	row := func(i Issue, what string) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(or(i.Revision, none)), TextCell(or(i.Date, none)), TextCell(i.purpose()), TextCell(or(i.Author, notStated)), TextCell(what)}})
	}
	row(c.in.Issue, c.changeSummary())
	for i := len(c.in.Earlier) - 1; i >= 0; i-- {
		row(c.in.Earlier[i], or(c.in.Earlier[i].Note, none))
	}
	return t
}

// changeSummary says in one line what the newest issue changes.
func (c *Content) changeSummary() string {
	note := c.in.Issue.Note
	if note != "" {
		note += ". "
	}
	switch {
	case c.in.Changes == nil && len(c.in.Earlier) == 0:
		return or(c.in.Issue.Note, "first issue")
	case c.in.Changes == nil:
		return or(c.in.Issue.Note, none)
	case c.in.Changes.Empty():
		return note + "nothing that prints"
	}
	n := map[domain.ChangeKind]int{}
	for _, r := range c.in.Changes.Rooms {
		n[r.Kind]++
	}
	var parts []string
	for _, k := range []domain.ChangeKind{domain.RoomAdded, domain.RoomChanged, domain.RoomRemoved} {
		if n[k] > 0 {
			parts = append(parts, count(n[k], "room", "rooms")+" "+string(k))
		}
	}
	if k := len(c.in.Changes.Project); k > 0 {
		parts = append(parts, count(k, "change", "changes")+" to the project")
	}
	return note + joined(parts) + "; see " + numberChanges
}
