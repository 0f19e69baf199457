package sheet

import (
	"scopewright/domain"
)

// FindingsAndWaivers lists what the rules found in the project and in each room, and all
// waivers with their reasons.
func FindingsAndWaivers(c *Content) []Sheet {
	s := Sheet{ID: "findings", Number: numberFindings, Title: "Findings and waivers", Head: c.head()}
	s.Blocks = withoutNil([]Block{c.partialNote(), c.findingCounts(), Heading{1, "Project"}, findingLines(c.in.ProjectFindings)})
	if c.in.Findings == nil {
		s.Blocks = append(s.Blocks, Paragraph{Text: "The rules were not run for this print.", Strong: true})
	}
	for _, st := range c.storeys {
		headed := false
		for _, r := range st.rooms {
			if len(r.findings()) == 0 {
				continue
			}
			if !headed {
				s.Blocks = append(s.Blocks, Heading{1, st.name(c)})
				headed = true
			}
			s.Blocks = append(s.Blocks, Heading{2, r.Label()}, findingLines(r.findings()))
		}
	}
	s.Blocks = append(s.Blocks, c.waiverTable())
	return []Sheet{s}
}

func (c *Content) findingCounts() Table {
	t := Table{Caption: "Findings by storey", Empty: "No rooms.", Columns: []Column{{Title: "Storey", Width: 3}, {Title: "Rooms", Kind: Number, Width: 1}, {Title: "Clean rooms", Kind: Number, Width: 1},
		{Title: "Errors", Kind: Number, Width: 1}, {Title: "Warnings", Kind: Number, Width: 1}, {Title: "Notes", Kind: Number, Width: 1}, {Title: "Waived", Kind: Number, Width: 1}}}
	row := func(name string, rooms, clean Cell, n tally, total bool) {
		t.Rows = append(t.Rows, Row{Total: total, Cells: []Cell{TextCell(name), rooms, clean,
			NumberCell(float64(n.errors), 0), NumberCell(float64(n.warnings), 0), NumberCell(float64(n.notes), 0), NumberCell(float64(n.waived), 0)}})
	}
	project := tallyOf(c.in.ProjectFindings)
	all, allClean := project, 0
	for _, s := range c.occupied() {
		var sum tally
		clean := 0
		for _, r := range s.rooms {
			n := tallyOf(r.findings())
			if n == (tally{}) {
				clean++
			}
			sum.add(n)
		}
		allClean += clean
		all.add(sum)
		row(s.name(c), NumberCell(float64(len(s.rooms)), 0), NumberCell(float64(clean), 0), sum, false)
	}
	row("Project", TextCell(none), TextCell(none), project, false)
	row("All", NumberCell(float64(c.Rooms()), 0), NumberCell(float64(allClean), 0), all, true)
	return t
}

func (t *tally) add(o tally) {
	t.errors, t.warnings, t.notes, t.waived = t.errors+o.errors, t.warnings+o.warnings, t.notes+o.notes, t.waived+o.waived
}

func (c *Content) waiverTable() Table {
	t := Table{Caption: "Waivers", Empty: "No waivers.", Columns: []Column{{Title: "Room", Width: 2}, {Title: "Rule", Width: 2.4}, {Title: "Reason", Width: 4}, {Title: "Name", Width: 1.6}, {Title: "Date", Width: 1.3}, {Title: "State", Width: 1.6}}}
	for _, r := range c.rooms() {
		for i := range r.Waivers {
			w := &r.Waivers[i]
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(r.Label()), TextCell(w.Rule), TextCell(w.Reason), TextCell(w.Name), TextCell(w.Date), TextCell(r.waiverState(w))}})
		}
	}
	return t
}

// waiverState tells whether a waiver covers something now.
func (r *room) waiverState(w *domain.Waiver) string {
	if r.c.in.Findings == nil {
		return "not checked"
	}
	for _, f := range r.findings() {
		switch {
		case f.Waiver != nil && f.Waiver.ID == w.ID:
			return "holds"
		case f.Lapsed != nil && f.Lapsed.ID == w.ID:
			return "lapsed: the numbers got worse"
		}
	}
	return "no longer needed"
}
