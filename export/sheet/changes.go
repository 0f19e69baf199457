package sheet

import (
	"fmt"

	"scopewright/domain"
)

// changesSheet lists what changed since the last issue, first for the project, then room
// by room.
func (c *Content) changesSheet() []Sheet {
	if c.in.Changes.Empty() {
		return nil
	}
	s := Sheet{ID: "changes", Number: numberChanges, Title: c.sinceLast(), Head: c.head()}
	if len(c.in.Changes.Project) > 0 {
		s.Blocks = append(s.Blocks, Heading{1, "Project"}, changeList("P", c.in.Changes.Project))
	}
	if len(c.in.Changes.Rooms) > 0 {
		s.Blocks = append(s.Blocks, Heading{1, "Rooms"}, c.roomChanges())
	}
	return []Sheet{s}
}

func changeList(prefix string, lines []string) Statements {
	var out Statements
	for i, text := range lines {
		out.Items = append(out.Items, Statement{ID: fmt.Sprintf("%s%d", prefix, i+1), Text: sentence(text)})
	}
	return out
}

func (c *Content) roomChanges() Table {
	t := Table{Caption: "Changes by room", Columns: []Column{{Title: "Room", Width: 2}, {Title: "What", Width: 1}, {Title: "How", Width: 6}}}
	for _, r := range c.in.Changes.Rooms {
		for i, line := range r.Lines {
			label, kind := r.Label, string(r.Kind)
			if i > 0 {
				label, kind = "", ""
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(label), TextCell(kind), TextCell(sentence(line))}})
		}
	}
	return t
}

// changeBlocks lists what changed in the room since the last issue.
func (r *room) changeBlocks() []Block {
	if r.change == nil || len(r.change.Lines) == 0 || r.change.Kind == domain.RoomAdded {
		return nil
	}
	return []Block{Heading{2, r.c.sinceLast()}, changeList("C", r.change.Lines)}
}

// sinceLast heads a list of changes.
func (c *Content) sinceLast() string {
	if n := len(c.in.Earlier); n > 0 {
		return "Changed since revision " + c.in.Earlier[n-1].Revision
	}
	return "Changed since the last issue"
}
