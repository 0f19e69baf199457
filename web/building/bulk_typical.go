package building

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/edits"
)

// planTypical lets rooms follow a typical, or stand alone.
func planTypical(b *bulk) plan {
	id := b.value("typical")
	if id == noTypical {
		return planAlone(b)
	}
	t := b.typical(id)
	if t == nil {
		if len(b.Typicals) == 0 {
			return wrong("There is no typical yet: add one on the Rooms page, or make one of a room.")
		}
		return wrong("Choose the typical that they follow.")
	}
	var p plan
	own, exceptions := 0, 0
	following := map[domain.ID]bool{}
	for i := range b.Lines {
		l := &b.Lines[i]
		switch {
		case l.TypicalID == t.ID:
			following[l.ID] = true
			continue
		case l.TypicalID == "" && l.Devices+l.Loads > 0:
			own++
		case l.TypicalID != "" && l.Exceptions > 0:
			exceptions++
		}
		p.Changes = append(p.Changes, change{Number: l.Number, Was: designOf(l), Will: "follows " + t.Name})
	}
	if n := len(b.Lines) - len(p.Changes); n > 0 {
		p.Notes = append(p.Notes, subject(n, "follows", "follow")+" "+t.Name+" already: nothing changes there, exceptions stay.")
	}
	if own > 0 {
		p.Notes = append(p.Notes, subject(own, "has a design of its own, which gives", "have designs of their own, which give")+" way to the typical's. Undo brings it back.")
	}
	if exceptions > 0 {
		p.Notes = append(p.Notes, subject(exceptions, "has", "have")+" exceptions to another typical, which are dropped. Undo brings them back.")
	}
	p.Button, p.Said = "Assign to "+edits.Count(len(p.Changes), "room"), told("assigned typical "+t.Name+" to", p.Changes)
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error {
		if following[room.ID] {
			return nil
		}
		project, err := tx.ReadProject()
		if err != nil {
			return err
		}
		fresh, err := tx.Typical(t.ID)
		if err != nil {
			return err
		}
		if _, err := edit.All(edit.OfRoom(project, room), []edit.Edit{edit.Follow{Typical: fresh}}); err != nil {
			return err
		}
		return tx.PutRoom(room)
	})
	return p
}

// planAlone makes the designs that rooms have from their typicals their own.
func planAlone(b *bulk) plan {
	var p plan
	for i := range b.Lines {
		if l := &b.Lines[i]; l.TypicalID != "" {
			p.Changes = append(p.Changes, change{Number: l.Number, Was: designOf(l), Will: "the same design, its own"})
		}
	}
	if n := len(b.Lines) - len(p.Changes); n > 0 {
		p.Notes = append(p.Notes, subject(n, "stands", "stand")+" alone already.")
	}
	p.Button, p.Said = "Let "+edits.Count(len(p.Changes), "room")+" stand alone", told("no longer following a typical:", p.Changes)
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error {
		if room.Typical == nil {
			return nil
		}
		project, err := tx.ReadProject()
		if err != nil {
			return err
		}
		if _, err := edit.All(edit.OfRoom(project, room), []edit.Edit{edit.StandAlone{}}); err != nil {
			return err
		}
		return tx.PutRoom(room)
	})
	return p
}

// designOf says in a few words what a room's design is.
func designOf(l *store.RoomLine) string {
	if l.TypicalID == "" {
		if l.Devices+l.Loads == 0 {
			return "no design yet"
		}
		return "own design, " + edits.Count(l.Devices, "device")
	}
	if l.Exceptions > 0 {
		return "follows " + l.TypicalName + ", " + edits.Count(l.Exceptions, "exception")
	}
	return "follows " + l.TypicalName
}

// subject gives "1 room has" or "12 rooms have".
func subject(n int, one, many string) string {
	verb := many
	if n == 1 {
		verb = one
	}
	return strings.Join([]string{edits.Count(n, "room"), verb}, " ")
}
