package sheet

import (
	"strings"

	"scopewright/domain"
)

// ReviewSheets builds the project's review sheet and one for each room: the checklist with
// verdicts, comments and answers, and who signed.
func ReviewSheets(c *Content) []Sheet {
	out := []Sheet{c.projectReview()}
	for _, r := range c.rooms() {
		out = append(out, r.reviewSheet())
	}
	return out
}

// projectReview holds what is asked once of the project, and the state of each room.
func (c *Content) projectReview() Sheet {
	s := Sheet{ID: "review", Number: numberReview, Title: "Review sheet of the project", Head: c.head()}
	var talk []domain.Review
	for _, v := range c.in.Scope.Reviews {
		if v.RoomID == "" {
			talk = append(talk, v)
		}
	}
	lines, n := checkLines(c.asked(domain.AskProject), talk)
	s.Blocks = withoutNil([]Block{c.partialNote(), Facts{Columns: 2, Items: []Fact{{"Second opinion on the project", n.String()}, {"Rooms", c.signCounts()}}},
		Heading{1, "Checklist of the project"}, Checklist{Items: lines}, Heading{1, "Rooms"}, c.reviewTable(),
		Paragraph{Text: "A sign-off binds to the content of a room's scope sheet. When anything that prints there changes, it goes stale and the room has to be looked at again."}})
	return s
}

func (c *Content) signCounts() string {
	n := map[SignState]int{}
	for _, r := range c.rooms() {
		state, _ := SignOffState(r.contentHash(), r.signOffs)
		n[state]++
	}
	var parts []string
	for _, s := range []SignState{Signed, Stale, Unsigned} {
		if n[s] > 0 {
			parts = append(parts, count(n[s], string(s), string(s)))
		}
	}
	return or(strings.Join(parts, ", "), "none")
}

func (c *Content) reviewTable() Table {
	t := Table{Caption: "Second opinion and sign-off by room", Empty: "No rooms.", Columns: []Column{{Title: "Room", Width: 2.4}, {Title: "Second opinion", Width: 3}, {Title: "Sign-off", Width: 4}, {Title: "Content", Width: 1.1}}}
	for _, s := range c.occupied() {
		t.Rows = append(t.Rows, groupRow(s.name(c)))
		for _, r := range s.rooms {
			_, n := checkLines(c.asked(domain.AskRoom), r.reviews)
			sign := TextCell(r.signText())
			if state, _ := SignOffState(r.contentHash(), r.signOffs); state == Stale {
				sign = sign.Marked(Warning)
			}
			second := TextCell(n.String())
			if n.objected > 0 {
				second = second.Marked(Error)
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(r.Label()), second, sign, TextCell(shortHash(r.contentHash()))}})
		}
	}
	return t
}

func (r *room) reviewSheet() Sheet {
	s := Sheet{ID: "review-" + r.slug, Number: r.reviewNumber(), Title: "Review of room " + r.Label(), Head: r.head()}
	lines, n := checkLines(r.c.asked(domain.AskRoom), r.reviews)
	findings := tallyOf(r.findings()).String()
	if r.c.in.Findings == nil {
		findings = "rules not run"
	}
	s.Blocks = []Block{Facts{Columns: 2, Items: []Fact{{"Looked at", "scope sheet " + r.scopeNumber() + ", content " + shortHash(r.contentHash())},
		{"Follows", r.follows()}, {"Second opinion", n.String()}, {"Findings", findings}}},
		Heading{1, "Checklist"}, Checklist{Items: lines}, Heading{1, "Sign-off"}, r.signatures()}
	return s
}
