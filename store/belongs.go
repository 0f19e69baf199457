package store

import (
	"errors"
	"strconv"
	"strings"
)

// checkRooms refuses rooms without their storey or their typical.
func (tx *Tx) checkRooms() error {
	p := tx.project.now()
	for _, r := range tx.putRooms() {
		if r.removed {
			continue
		}
		if _, storey := p.FindStorey(r.after.StoreyID); storey == nil {
			return refuse("room %s lies on a storey that the project does not have: choose another storey", r.after.Number)
		}
		if _, err := tx.typicalOf(r.after); errors.Is(err, ErrNotFound) {
			return refuse("room %s follows a typical that the project does not have: choose another typical or none", r.after.Number)
		} else if err != nil {
			return err
		}
	}
	return nil
}

// checkRemoved refuses what would take a storey or a typical from under rooms;
// it counts in the rows as they are written.
func (tx *Tx) checkRemoved() error {
	for _, t := range tx.putTypicals() {
		if !t.removed {
			continue
		}
		n, numbers, err := tx.from.roomsWhere("typical_id = ?", t.id)
		if err != nil {
			return err
		}
		if n > 0 {
			return refuse("typical %s cannot be removed while %s it (%s): give those rooms another typical or a design of their own first", t.before.typical.Name, plural(n, "room follows", "rooms follow"), numbers)
		}
	}
	return tx.checkStoreys()
}

func (tx *Tx) checkStoreys() error {
	if tx.project.after == nil {
		return nil
	}
	for _, b := range tx.project.before.project.Buildings {
		for _, storey := range b.Storeys {
			if _, kept := tx.project.after.FindStorey(storey.ID); kept != nil {
				continue
			}
			n, numbers, err := tx.from.roomsWhere("project_id = ? AND storey_id = ?", tx.id, storey.ID)
			if err != nil {
				return err
			}
			if n > 0 {
				return refuse("storey %s cannot be removed while %s on it (%s): move or remove them first", storey.Name, plural(n, "room lies", "rooms lie"), numbers)
			}
		}
	}
	return nil
}

// roomsWhere counts rooms and names the first few.
func (s source) roomsWhere(where string, args ...any) (n int, numbers string, err error) {
	if err := s.scan("SELECT count(*) FROM rooms WHERE "+where, args, &n); err != nil || n == 0 {
		return n, "", err
	}
	rows, err := s.query("SELECT number FROM rooms WHERE "+where+" ORDER BY sort_key, id LIMIT 5", args...)
	if err != nil {
		return 0, "", err
	}
	defer rows.Close()
	var names []string
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return 0, "", err
		}
		names = append(names, name)
	}
	if n > len(names) {
		names = append(names, "...")
	}
	return n, strings.Join(names, ", "), rows.Err()
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
