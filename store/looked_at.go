package store

import (
	"context"

	"scopewright/domain"
)

// LookedAt counts, for each room of a project that was reviewed at all, the
// items of the checklist that have a verdict.
func (s *Store) LookedAt(ctx context.Context, projectID domain.ID) (map[domain.ID]int, error) {
	out := map[domain.ID]int{}
	err := s.view(ctx, "counting reviews", func(v source) error {
		rows, err := v.query("SELECT room_id, count(DISTINCT item_id) FROM reviews WHERE project_id = ? AND room_id <> '' AND verdict <> '' GROUP BY room_id", projectID)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var room domain.ID
			var n int
			if err := rows.Scan(&room, &n); err != nil {
				return err
			}
			out[room] = n
		}
		return rows.Err()
	})
	return out, err
}
