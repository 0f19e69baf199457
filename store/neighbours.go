package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"

	"scopewright/domain"
)

// Neighbours gives the rooms before and after one in the order of the
// building, empty at its ends.
func (s *Store) Neighbours(ctx context.Context, roomID domain.ID) (previous, next domain.ID, err error) {
	err = s.view(ctx, "finding the rooms beside one", func(v source) error {
		var projectID, storeyID domain.ID
		var sortKey string
		err := v.scan("SELECT project_id, storey_id, sort_key FROM rooms WHERE id = ?", []any{roomID}, &projectID, &storeyID, &sortKey)
		if err != nil {
			return orNotFound(err, "there is no room %s: it may have been removed", roomID)
		}
		project, err := v.projectNow(projectID)
		if err != nil {
			return err
		}
		var storeys []domain.ID
		for _, b := range project.project.Buildings {
			for _, storey := range b.Storeys {
				storeys = append(storeys, storey.ID)
			}
		}
		at := slices.Index(storeys, storeyID)
		if at < 0 {
			return nil
		}
		before := slices.Clone(storeys[:at])
		slices.Reverse(before)
		if previous, err = v.beside(roomBefore, lastRoom, projectID, storeyID, sortKey, roomID, before); err != nil {
			return err
		}
		next, err = v.beside(roomAfter, firstRoom, projectID, storeyID, sortKey, roomID, storeys[at+1:])
		return err
	})
	return previous, next, err
}

const (
	roomBefore = "SELECT id FROM rooms WHERE project_id = ? AND storey_id = ? AND (sort_key, id) < (?, ?) ORDER BY sort_key DESC, id DESC LIMIT 1"
	roomAfter  = "SELECT id FROM rooms WHERE project_id = ? AND storey_id = ? AND (sort_key, id) > (?, ?) ORDER BY sort_key, id LIMIT 1"
	lastRoom   = "SELECT id FROM rooms WHERE project_id = ? AND storey_id = ? ORDER BY sort_key DESC, id DESC LIMIT 1"
	firstRoom  = "SELECT id FROM rooms WHERE project_id = ? AND storey_id = ? ORDER BY sort_key, id LIMIT 1"
)

// beside looks on the room's own storey, then on the others one by one: most
// often the first has what is wanted.
func (s source) beside(own, other string, projectID, storeyID domain.ID, sortKey string, roomID domain.ID, others []domain.ID) (found domain.ID, err error) {
	err = s.scan(own, []any{projectID, storeyID, sortKey, roomID}, &found)
	for i := 0; errors.Is(err, sql.ErrNoRows) && i < len(others); i++ {
		err = s.scan(other, []any{projectID, others[i]}, &found)
	}
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return found, err
}

func orNotFound(err error, sentence string, args ...any) error {
	if errors.Is(err, sql.ErrNoRows) {
		return notFound(sentence, args...)
	}
	return err
}
