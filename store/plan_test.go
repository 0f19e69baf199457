package store

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What every page asks for must not read all rooms: the planner's own words
// say which index serves.
func TestHotQueriesUseTheirIndexes(t *testing.T) {
	s := open(t, invented(300, 2))
	where, args := Filter{}.where(projectID)
	for _, c := range []struct {
		query string
		args  []any
		uses  []string
	}{
		{"SELECT r.storey_id, count(*) FROM rooms r WHERE " + where + " GROUP BY r.storey_id", args, []string{"COVERING INDEX rooms_in_order (project_id=?)"}},
		{"SELECT " + lineColumns + " WHERE " + where + " AND r.storey_id = ? ORDER BY r.sort_key, r.id LIMIT 50", append(args, "s1"), []string{"INDEX rooms_in_order (project_id=? AND storey_id=?)"}},
		{roomBefore, []any{projectID, "s1", "k", "r"}, []string{"COVERING INDEX rooms_in_order (project_id=? AND storey_id=? AND (sort_key,id)<(?,?))"}},
		{roomHead, []any{"r"}, []string{"INDEX sqlite_autoindex_rooms_1 (id=?)", "INDEX journal_undone (project_id=?)"}},
		{"SELECT id FROM rooms WHERE typical_id = ?", []any{typicalID}, []string{"INDEX rooms_of_typical (typical_id=?)"}},
		{undoQuery, []any{"room:r"}, []string{"SEARCH t USING PRIMARY KEY (subject=?)", "SEARCH j USING INTEGER PRIMARY KEY"}},
		{redoQuery, []any{"room:r"}, []string{"INDEX journal_undone", "PRIMARY KEY (subject=? AND journal_id=?)"}},
	} {
		plan := planOf(t, s, c.query, c.args)
		for _, use := range c.uses {
			assert.Contains(t, plan, use, c.query)
		}
	}
}

func planOf(t *testing.T, s *Store, query string, args []any) string {
	var plan []string
	err := s.readers.use(ctx, func(c *session) error {
		rows, err := c.query("EXPLAIN QUERY PLAN "+query, args...)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var id, parent, unused int
			var text string
			if err := rows.Scan(&id, &parent, &unused, &text); err != nil {
				return err
			}
			plan = append(plan, text)
		}
		return rows.Err()
	})
	require.NoError(t, err)
	return strings.Join(plan, "\n")
}
