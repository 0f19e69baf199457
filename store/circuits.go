package store

import (
	"bytes"
	"context"
	"slices"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// CircuitShares gives what each room of a project puts on each circuit, by the
// rooms' numbers. Every edit keeps it up to date, so that no room is opened.
func (s *Store) CircuitShares(ctx context.Context, projectID domain.ID) ([]domain.CircuitShare, error) {
	var out []domain.CircuitShare
	err := s.view(ctx, "summing up circuits", func(v source) error {
		rows, err := v.query("SELECT r.id, r.storey_id, r.number, "+shareColumns+" FROM room_circuits c JOIN rooms r ON r.id = c.room_id WHERE c.project_id = ? ORDER BY r.sort_key, r.id, c.n", projectID)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var c domain.CircuitShare
			if err := rows.Scan(append([]any{&c.Room, &c.Storey, &c.Number}, intoShare(&c)...)...); err != nil {
				return err
			}
			out = append(out, c)
		}
		return rows.Err()
	})
	return out, err
}

const shareColumns = "c.circuit, c.volts, c.loads, c.receptacles, c.unknown, c.watts, c.amps, c.rest, c.drivers, c.inrush, c.unstated"

func intoShare(c *domain.CircuitShare) []any {
	return []any{&c.Circuit, &c.Volts, &c.Loads, &c.Receptacles, &c.Unknown, &c.Watts, &c.Amps, &c.Rest, &c.Drivers, &c.Inrush, &c.Unstated}
}

// writeCircuits puts a room's shares in place of those that are there; fresh
// says that there are none.
func (w *work) writeCircuits(projectID, roomID domain.ID, shares []domain.CircuitShare, fresh bool) error {
	if !fresh {
		if err := w.dropCircuits(roomID); err != nil {
			return err
		}
	}
	for n := range shares {
		c := &shares[n]
		_, err := w.exec("INSERT INTO room_circuits (project_id, room_id, n, circuit, volts, loads, receptacles, unknown, watts, amps, rest, drivers, inrush, unstated) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
			projectID, roomID, n, c.Circuit, float64(c.Volts), c.Loads, c.Receptacles, c.Unknown, float64(c.Watts), float64(c.Amps), float64(c.Rest), c.Drivers, float64(c.Inrush), c.Unstated)
		if err != nil {
			return err
		}
	}
	return nil
}

func (w *work) dropCircuits(roomID domain.ID) error {
	_, err := w.exec("DELETE FROM room_circuits WHERE room_id = ?", roomID)
	return err
}

// circuitsOfRoom writes what a room that was put gives to circuits, where the
// edit changed it: most edits do not.
func (tx *Tx) circuitsOfRoom(r *roomEdit) error {
	now, err := tx.resolved(r.written)
	if err != nil {
		return err
	}
	shares := domain.CircuitShares(tx.project.now(), &now.Design)
	if r.revision > 0 {
		if was, known := tx.circuitsBefore(r); known && slices.Equal(shares, was) {
			return nil
		}
	}
	return tx.w.writeCircuits(tx.id, r.id, shares, r.revision == 0)
}

// circuitsBefore gives what a room gave to circuits before the edit, where that is
// at hand.
func (tx *Tx) circuitsBefore(r *roomEdit) (shares []domain.CircuitShare, known bool) {
	var typical *entry
	if id := r.before.room.TypicalID; id != "" {
		t := tx.typicals[id]
		if t == nil || t.before == nil {
			return nil, false
		}
		typical = t.before
	}
	plan, err := tx.planNow(r.before.room.StoreyID)
	if err != nil {
		return nil, false
	}
	was, err := r.before.resolve(typical, plan.before)
	if err != nil {
		return nil, false
	}
	return domain.CircuitShares(tx.project.before.project, &was.Design), true
}

// refreshCircuits writes what rooms give to circuits where it is not what is
// written: their typical or the luminaire schedule changed, or the file comes
// from before circuits were kept.
func (tx *Tx) refreshCircuits(from source, heads []head, resolved []*domain.Resolved) error {
	written, err := from.sharesOf(heads)
	if err != nil {
		return err
	}
	for i, h := range heads {
		shares := domain.CircuitShares(tx.project.now(), &resolved[i].Design)
		if slices.Equal(shares, written[h.id]) {
			continue
		}
		if err := tx.w.writeCircuits(tx.id, h.id, shares, false); err != nil {
			return err
		}
	}
	return nil
}

// sharesOf reads what rooms give to circuits, without the rooms' own facts.
func (s source) sharesOf(heads []head) (map[domain.ID][]domain.CircuitShare, error) {
	ids := make([]domain.ID, len(heads))
	for i, h := range heads {
		ids[i] = h.id
	}
	args := padded(ids)
	rows, err := s.query("SELECT c.room_id, "+shareColumns+" FROM room_circuits c WHERE c.room_id IN ("+marks(len(args))+") ORDER BY c.room_id, c.n", args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := make(map[domain.ID][]domain.CircuitShare, len(heads))
	for rows.Next() {
		var id domain.ID
		var c domain.CircuitShare
		if err := rows.Scan(append([]any{&id}, intoShare(&c)...)...); err != nil {
			return nil, err
		}
		out[id] = append(out[id], c)
	}
	return out, rows.Err()
}

// feedsRooms tells that a change of a circuit's facts is judged in rooms too: by
// which source it is fed. Breakers are judged over all rooms together.
func feedsRooms(c delta.Change) bool {
	if field := c.Field(); field == "emergency" || field == "name" {
		return true
	}
	const fed = `"emergency":true`
	return bytes.Contains(c.Before, []byte(fed)) || bytes.Contains(c.After, []byte(fed))
}
