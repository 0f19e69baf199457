package store

import (
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"scopewright/domain"
)

// Room gives a copy of a room, resolved, to change and put back.
func (tx *Tx) Room(id domain.ID) (*domain.Resolved, error) {
	edit, err := tx.roomNow(id)
	if err != nil {
		return nil, err
	}
	return tx.copyRoom(edit)
}

func (tx *Tx) copyRoom(edit *roomEdit) (*domain.Resolved, error) {
	room := edit.now().Clone()
	t, err := tx.typicalOf(room)
	if err != nil {
		return nil, err
	}
	out, err := domain.Resolve(room, t)
	if err == nil && t != nil && len(room.Exceptions) == 0 {
		out.Design = out.Design.Clone() // it is the typical's own otherwise
	}
	return out, err
}

// typicalOf gives the typical that a room follows, shared.
func (tx *Tx) typicalOf(room *domain.Room) (*domain.Typical, error) {
	if room.TypicalID == "" {
		return nil, nil
	}
	t, err := tx.typicalNow(room.TypicalID)
	if err != nil {
		return nil, fmt.Errorf("room %s: %w", room.Number, err)
	}
	return t.now(), nil
}

// Pick says which rooms of the project; an empty one picks all.
type Pick struct {
	Storey  domain.ID
	Typical domain.ID
	IDs     []domain.ID
}

// Rooms gives copies of the rooms that are picked, resolved, in the order of
// their numbers.
func (tx *Tx) Rooms(pick Pick) ([]*domain.Resolved, error) {
	edits, err := tx.pickRooms(pick)
	if err != nil {
		return nil, err
	}
	out := make([]*domain.Resolved, len(edits))
	for i, edit := range edits {
		if out[i], err = tx.copyRoom(edit); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// PutRoom stores a room that is there. A changed design becomes the room's own,
// or its exceptions to the typical that it was resolved with.
func (tx *Tx) PutRoom(r *domain.Resolved) error {
	if id := r.Room.TypicalID; id != "" && (r.Typical == nil || r.Typical.ID != id) || id == "" && r.Typical != nil {
		return fmt.Errorf("store: room %s was resolved with another typical: change which typical it follows with PutBareRoom", r.Number)
	}
	if err := r.Settle(); err != nil {
		return err
	}
	return tx.PutBareRoom(r.Room)
}

// PutBareRoom stores a room that is there just as it is, its exceptions
// included.
func (tx *Tx) PutBareRoom(r *domain.Room) error {
	edit, err := tx.roomNow(r.ID)
	if err != nil {
		return err
	}
	edit.after = r
	return nil
}

// AddRoom stores a new room.
func (tx *Tx) AddRoom(r *domain.Room) error {
	if !r.ID.Valid() {
		return fmt.Errorf("store: %q is no ID for a room", r.ID)
	}
	if edit := tx.rooms[r.ID]; edit != nil && edit.removed {
		edit.removed, edit.after = false, r
		return nil
	}
	if _, err := tx.roomNow(r.ID); err == nil {
		return refuse("room %s is there already", r.Number)
	} else if !errors.Is(err, ErrNotFound) {
		return err
	}
	tx.rooms[r.ID] = &roomEdit{head: head{id: r.ID}, after: r}
	return nil
}

// RemoveRoom removes a room with its design. What was reviewed and signed of
// it stays, should the room come back.
func (tx *Tx) RemoveRoom(id domain.ID) error {
	edit, err := tx.roomNow(id)
	if err != nil {
		return err
	}
	edit.removed, edit.after = true, nil
	return nil
}

func (e *roomEdit) now() *domain.Room {
	switch {
	case e.removed:
		return nil
	case e.after != nil:
		return e.after
	case e.before != nil:
		return e.before.room
	}
	return nil
}

// roomHead gives what is known of a room without its document, in one query
// that also tells the revisions of what it depends on.
func (tx *Tx) roomHead(id domain.ID) (*roomEdit, error) {
	if edit := tx.rooms[id]; edit != nil {
		return edit, nil
	}
	now := revisions{head: head{id: id}}
	err := tx.from.scan(roomHead, []any{id}, now.into()...)
	if errors.Is(err, sql.ErrNoRows) || err == nil && now.projectID != tx.id {
		return nil, notFound("the project has no room %s: it may have been removed", id)
	}
	if err != nil {
		return nil, err
	}
	edit := &roomEdit{head: now.head}
	tx.rooms[id], tx.noneUndone = edit, !now.undone
	if tx.project == nil {
		e, err := tx.from.project(tx.id, now.project)
		if err != nil {
			return nil, err
		}
		tx.project = &projectEdit{before: e}
	}
	if now.plan == 0 && tx.plans[now.storey] == nil {
		tx.plans[now.storey] = &planEdit{id: now.storey} // spares the question
	} else if tx.plans[now.storey] == nil {
		plan, err := tx.from.plan(now.storey, now.plan)
		if err != nil {
			return nil, err
		}
		tx.plans[now.storey] = &planEdit{id: now.storey, before: plan}
	}
	if t := now.typicalID; t != "" && tx.typicals[t] == nil {
		tx.typicals[t] = &typicalEdit{id: t, revision: now.typical}
	}
	return edit, nil
}

// roomNow gives a room that is there, with its document.
func (tx *Tx) roomNow(id domain.ID) (*roomEdit, error) {
	edit, err := tx.roomHead(id)
	if err != nil {
		return nil, err
	}
	if edit.revision > 0 && edit.before == nil {
		if edit.before, err = tx.from.room(id, edit.revision); err != nil {
			return nil, err
		}
	}
	if edit.now() == nil {
		return nil, notFound("the project has no room %s: it may have been removed", id)
	}
	return edit, nil
}

// pickRooms reads the picked rooms with as few queries as there can be, and
// regards what the edit itself has changed so far.
func (tx *Tx) pickRooms(pick Pick) ([]*roomEdit, error) {
	heads, err := tx.from.heads(tx.id, pick)
	if err != nil {
		return nil, err
	}
	entries, err := tx.from.rooms(heads)
	if err != nil {
		return nil, err
	}
	for i, h := range heads {
		if tx.rooms[h.id] == nil {
			tx.rooms[h.id] = &roomEdit{head: h}
		}
		if edit := tx.rooms[h.id]; edit.before == nil {
			edit.before = entries[i]
		}
	}
	named := make(map[domain.ID]bool, len(pick.IDs))
	for _, id := range pick.IDs {
		named[id] = true
	}
	var out []*roomEdit
	for _, edit := range tx.rooms {
		if room := edit.now(); room != nil && pick.takes(room, named) {
			out = append(out, edit)
		}
	}
	sortRooms(out)
	return out, nil
}

func (p Pick) takes(r *domain.Room, named map[domain.ID]bool) bool {
	return (p.Storey == "" || r.StoreyID == p.Storey) && (p.Typical == "" || r.TypicalID == p.Typical) && (len(p.IDs) == 0 || named[r.ID])
}

// heads lists the rooms that are picked.
func (s source) heads(projectID domain.ID, pick Pick) ([]head, error) {
	var out []head
	for from := 0; from == 0 || from < len(pick.IDs); from += atOnce {
		where, args := []string{"project_id = ?"}, []any{projectID}
		if pick.Storey != "" {
			where, args = append(where, "storey_id = ?"), append(args, pick.Storey)
		}
		if pick.Typical != "" {
			where, args = append(where, "typical_id = ?"), append(args, pick.Typical)
		}
		if some := pick.IDs[from:min(from+atOnce, len(pick.IDs))]; len(some) > 0 {
			listed := padded(some)
			where, args = append(where, "id IN ("+marks(len(listed))+")"), append(args, listed...)
		}
		var err error
		if out, err = s.headsWhere(out, strings.Join(where, " AND "), args); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (s source) headsWhere(out []head, where string, args []any) ([]head, error) {
	rows, err := s.query("SELECT id, revision, typical_id, signed_hash FROM rooms WHERE "+where, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var h head
		if err := rows.Scan(&h.id, &h.revision, &h.typicalID, &h.signedHash); err != nil {
			return nil, err
		}
		out = append(out, h)
	}
	return out, rows.Err()
}
