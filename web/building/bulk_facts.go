package building

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// bulkFields are the facts that may be the same in many rooms.
var bulkFields = []string{"name", "use", "area_m2", "ceiling_m", "windows", "seats", "receptacles", "notes"}

// planField sets one fact in all selected rooms.
func planField(b *bulk) plan {
	name, text := b.value("field"), b.value("text")
	if name == "use" {
		text = b.value("use")
	}
	if name == "windows" {
		text = b.value("windows")
	}
	f, ok := domain.FieldNamed(domain.RoomFields, name)
	if !ok || name == "number" {
		return wrong("Choose the field to set.")
	}
	env := domain.Env{Project: b.Project}
	var probe domain.Room
	if err := f.Set(env, &probe, text); err != nil {
		return wrong("%s", edits.SentenceOf(err))
	}
	shown := f.Show(env, &probe)
	if shown == "" {
		shown = "empty"
	}
	var p plan
	for i := range b.Lines {
		l := &b.Lines[i]
		was, known := lineField(env, name, l)
		if known && was == f.Show(env, &probe) {
			continue
		}
		c := change{Number: l.Number, Was: was, Will: shown}
		if !known {
			c.unknown = l.ID
		}
		p.Changes = append(p.Changes, c)
	}
	if n := len(b.Lines) - len(p.Changes); n > 0 {
		p.Notes = append(p.Notes, subject(n, "is", "are")+" so already.")
	}
	what := strings.ToLower(f.Title) + " " + shorten(shown)
	p.Button, p.Said = "Set in "+edits.Count(len(p.Changes), "room"), told("set "+what+" in", p.Changes)
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error {
		project, err := tx.ReadProject()
		if err != nil {
			return err
		}
		if _, err := edit.All(edit.OfRoom(project, room), []edit.Edit{edit.SetField{Path: "facts/" + name, Text: text}}); err != nil {
			return err
		}
		return tx.PutBareRoom(room.Room)
	})
	return p
}

// lineField gives what a list knows of a fact; of some it knows nothing.
func lineField(env domain.Env, name string, l *store.RoomLine) (text string, known bool) {
	switch name {
	case "name", "use", "area_m2":
		f, _ := domain.FieldNamed(domain.RoomFields, name)
		return f.Show(env, &domain.Room{Name: l.Name, Use: l.Use, Area: l.Area}), true
	}
	return "", false
}

// planMove lays rooms on another storey.
func planMove(b *bulk) plan {
	to := domain.ID(b.value("storey"))
	building, storey := b.Project.FindStorey(to)
	if storey == nil {
		return wrong("Choose the storey that they move to.")
	}
	title := ui.StoreyTitle(b.Project, building.Name, storey.Name)
	var p plan
	for i := range b.Lines {
		if l := &b.Lines[i]; l.StoreyID != to {
			p.Changes = append(p.Changes, change{Number: l.Number, Was: ui.StoreyTitle(b.Project, l.BuildingName, l.StoreyName), Will: title})
		}
	}
	if n := len(b.Lines) - len(p.Changes); n > 0 {
		p.Notes = append(p.Notes, subject(n, "lies", "lie")+" there already.")
	}
	p.Button, p.Said = "Move "+edits.Count(len(p.Changes), "room"), told("moved to "+title+":", p.Changes)
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error {
		room.Room.StoreyID = to
		return tx.PutBareRoom(room.Room)
	})
	return p
}

// planDelete removes rooms with their designs.
func planDelete(b *bulk) plan {
	var p plan
	signed := 0
	for i := range b.Lines {
		l := &b.Lines[i]
		p.Changes = append(p.Changes, change{Number: l.Number, Was: strings.TrimSpace(l.Name + " (" + designOf(l) + ")"), Will: "deleted"})
		if l.SignedHash != "" {
			signed++
		}
	}
	if signed > 0 {
		p.Notes = append(p.Notes, subject(signed, "is", "are")+" signed off.")
	}
	p.Notes = append(p.Notes, "Undo brings them back with their designs, reviews and sign-offs.")
	p.Button, p.Said = "Delete "+edits.Count(len(p.Changes), "room"), told("deleted", p.Changes)
	p.apply = func(tx *store.Tx) error {
		for _, id := range b.ids() {
			if err := tx.RemoveRoom(id); err != nil {
				return err
			}
		}
		return nil
	}
	return p
}

// planRenumber gives rooms new numbers in the order of the list.
func planRenumber(b *bulk) plan {
	prefix, err := domain.CleanLine(b.value("prefix"), 20)
	if err != nil {
		return wrong("%s", edits.SentenceOf(err))
	}
	start, err := readStart(b.value("start"))
	if err != nil {
		return wrong("%s", edits.SentenceOf(err))
	}
	step, err := readCount(b.value("step"), 1000)
	if err != nil {
		return wrong("%s", edits.SentenceOf(err))
	}
	var p plan
	numbers := map[domain.ID]string{}
	now := taken{}
	var double []string
	left := b.without()
	for i := range b.Lines {
		l := &b.Lines[i]
		number := prefix + countUp(start, i*step)
		numbers[l.ID] = number
		if left.has(b.Project, l.StoreyID, number) || now.has(b.Project, l.StoreyID, number) {
			double = append(double, number)
		}
		now.add(b.Project, l.StoreyID, number)
		if number != l.Number {
			p.Changes = append(p.Changes, change{Number: l.Number, Was: l.Number, Will: number})
		}
	}
	if len(double) > 0 {
		return wrong("The building has room %s already: start with another number.", firstFew(double))
	}
	p.Button, p.Said = "Renumber "+edits.Count(len(p.Changes), "room"), told("renumbered", p.Changes)
	if len(p.Changes) > 0 {
		last := p.Changes[len(p.Changes)-1]
		p.Said += fmt.Sprintf(", now %s to %s", p.Changes[0].Will, last.Will)
	}
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error {
		room.Room.Number = numbers[room.ID]
		return tx.PutBareRoom(room.Room)
	})
	return p
}

// readStart reads the first number: digits, with leading zeros where all are
// to have as many.
func readStart(text string) (string, error) {
	text = strings.TrimSpace(text)
	if text == "" || len(text) > 12 || strings.Trim(text, "0123456789") != "" {
		return "", fmt.Errorf("the first number is 1 to 12 digits, such as 201 or 001; letters before it go into the prefix")
	}
	return text, nil
}

// without gives the numbers that are taken by rooms outside of the selection.
func (b *bulk) without() taken {
	chosen := taken{}
	for i := range b.Lines {
		chosen.add(b.Project, b.Lines[i].StoreyID, b.Lines[i].Number)
	}
	out := taken{}
	for building, numbers := range b.Taken {
		out[building] = map[string]bool{}
		for number := range numbers {
			if !chosen[building][number] {
				out[building][number] = true
			}
		}
	}
	return out
}
