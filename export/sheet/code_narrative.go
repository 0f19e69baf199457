package sheet

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energycode"
)

// narrative is the written account of the controls: what holds for all rooms, then the
// settings of each, rooms with the same settings together.
func (k *codeCheck) narrative() Block {
	t := Table{Caption: "Controls narrative", Columns: []Column{{Title: "Subject", Width: 1.5}, {Title: "Setting", Width: 6}, {Title: "The code's figure", Width: 1.6}, {Title: "Clause", Width: 1.4}, {Title: "How sure", Width: 1.3}}}
	t.Rows = append(t.Rows, groupRow("All rooms"))
	byRoom := map[domain.ID][]energycode.Line{}
	for _, l := range k.d.Narrative {
		if l.ID == "" {
			t.Rows = append(t.Rows, k.narrativeRow(&l))
			continue
		}
		id := l.ID
		l.ID, l.Room = "", "" // so that lines of two rooms compare
		byRoom[id] = append(byRoom[id], l)
	}
	for _, alike := range k.together(func(r *codeRoom) string { return fmt.Sprintf("%q", byRoom[r.ID]) }) {
		lines := byRoom[alike[0].ID]
		if len(lines) == 0 {
			continue
		}
		t.Rows = append(t.Rows, groupRow(labelsOf(alike)))
		for i := range lines {
			t.Rows = append(t.Rows, k.narrativeRow(&lines[i]))
		}
	}
	return t
}

func (k *codeCheck) narrativeRow(l *energycode.Line) Row {
	sure := none
	if l.Mark != "" {
		sure = k.marks.short(l.Mark)
	}
	return Row{Cells: []Cell{TextCell(l.Subject), TextCell(l.Text), TextCell(orDash(l.Limit)), TextCell(orDash(l.Clause)), TextCell(sure)}}
}

// codeMarks shortens how sure figures are and keeps the long words, which name where
// they were seen, for notes under the tables.
type codeMarks struct{ notes []string }

func (m *codeMarks) short(words string) string {
	switch words {
	case "":
		return none
	case energycode.Basis{Mark: energycode.Memory}.Words():
		return "from memory, confirm"
	}
	at := slices.Index(m.notes, words)
	if at < 0 {
		m.notes, at = append(m.notes, words), len(m.notes)
	}
	first, _, _ := strings.Cut(words, " ")
	text := fmt.Sprintf("%s, note %d", first, at+1)
	if strings.Contains(words, "confirm") {
		text += ", confirm"
	}
	return text
}

// notes says how the tables are read; it comes after all of them, when the marks are known.
func (k *codeCheck) notes() Block {
	out := Statements{Items: []Statement{
		{Text: "There are three answers to what the code asks: meets this check; does not meet this check, with the sign x; cannot tell, with the sign (?). Left open: the code's figures, not the room, leave it open. None of them says that the building as a whole keeps the code."},
		{Text: "Kind of space: the code's own list. Where the designer has not confirmed one, it is proposed from the use and the area of the room: confirm it under \"Kind of space\" among the facts of the room."},
		{Text: "From memory, confirm: the figure was recalled and nobody has read the adopted text beside it."},
		{Text: "Daylight areas are drawn on the storey's plan by the rules of the code where the room has an outline and walls; elsewhere the window zones that the loads state are taken. Windows that give on another room do not count. Where the plan shows no rooflight over a room, its toplit area is that of the loads that state one."},
	}}
	for i, words := range k.marks.notes {
		out.Items = append(out.Items, Statement{Text: fmt.Sprintf("Note %d: %s.", i+1, words)})
	}
	return out
}
