package building

import (
	"fmt"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
)

// mostCopies bounds how many rooms one duplication may make.
const mostCopies = 2000

// planDuplicate adds copies of rooms, with their designs or typicals, under
// the next free numbers.
func planDuplicate(b *bulk) plan {
	n, err := readCount(b.value("count"), mostAtOnce)
	if err != nil {
		return wrong("%s", edits.SentenceOf(err))
	}
	if total := n * len(b.Lines); total > mostCopies {
		return wrong("%d copies are too many at once: at most %d.", total, mostCopies)
	} else if b.Rooms+total > domain.MaxRooms {
		return wrong("A project has at most %d rooms.", domain.MaxRooms)
	}
	numbers := make(map[domain.ID][]string, len(b.Lines))
	var p plan
	var first, last string
	for i := range b.Lines {
		l := &b.Lines[i]
		after := l.Number
		for range n {
			after = b.Taken.next(b.Project, l.StoreyID, after)
			numbers[l.ID] = append(numbers[l.ID], after)
			if first == "" {
				first = after
			}
			last = after
		}
		p.Changes = append(p.Changes, change{Number: l.Number, Was: l.Number + " " + l.Name, Will: firstFew(numbers[l.ID])})
	}
	p.Notes = append(p.Notes, "Copies have the same facts, design or typical, and exceptions. Waivers, reviews, sign-offs and what is drawn on the plan are not copied.")
	p.Button = "Add " + edits.Count(n*len(b.Lines), "room")
	p.Said = fmt.Sprintf("added %s like %s: %s to %s", edits.Count(n*len(b.Lines), "room"), b.Lines[0].Number, first, last)
	if n*len(b.Lines) == 1 {
		p.Said = fmt.Sprintf("added room %s like %s", first, b.Lines[0].Number)
	}
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error {
		for _, number := range numbers[room.ID] {
			copied := room.Room.Clone()
			copied.ID, copied.Number, copied.Waivers = domain.NewID(), number, nil
			twin := &domain.Resolved{Room: copied, Design: room.Design.Clone(), Typical: room.Typical, Orphans: room.Orphans}
			if err := twin.TakeOffPlan(); err != nil {
				return err
			}
			if err := tx.AddRoom(copied); err != nil {
				return err
			}
		}
		return nil
	})
	return p
}

// planModel makes a typical of one room's design, which the room then follows.
func planModel(b *bulk) plan {
	if len(b.Lines) != 1 {
		return wrong("Select one room only: its design becomes the typical.")
	}
	l := &b.Lines[0]
	t, err := newTypical(b.Typicals, b.value("name"), b.value("title"))
	if err != nil {
		return wrong("%s", edits.SentenceOf(err))
	}
	var p plan
	p.Changes = []change{{Number: l.Number, Was: designOf(l), Will: "follows " + t.Name}}
	p.Notes = []string{"The room's circuits stay its own, and each room that follows has its own."}
	if l.TypicalID != "" {
		p.Notes = append(p.Notes, "The room no longer follows "+l.TypicalName+".")
	}
	p.Button, p.Said = "Make typical "+t.Name, "made typical "+t.Name+" of room "+l.Number
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error { return makeModel(tx, room, *t) })
	return p
}

// makeModel stores the typical and lets the room follow it. What is each
// room's own by nature, its circuits, battery dates and places, stays with the room.
func makeModel(tx *store.Tx, room *domain.Resolved, t domain.Typical) error {
	t.Use, t.Space, t.Design = room.Use, room.KindOfSpace(), room.Design.Shared()
	if err := tx.AddTypical(&t); err != nil {
		return err
	}
	room.Room.TypicalID, room.Typical, room.Orphans = t.ID, &t, nil
	return tx.PutRoom(room)
}
