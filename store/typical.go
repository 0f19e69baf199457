package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"

	"scopewright/domain"
)

// TypicalLine is a typical with how many rooms follow it. The typical is
// shared: read it only.
type TypicalLine struct {
	Typical   *domain.Typical
	Revision  int64
	Followers int
}

// Typicals lists a project's typicals in their order.
func (s *Store) Typicals(ctx context.Context, projectID domain.ID) ([]TypicalLine, error) {
	var out []TypicalLine
	err := s.view(ctx, "listing typicals", func(v source) error {
		if _, err := v.projectNow(projectID); err != nil {
			return err
		}
		entries, err := v.typicalsOf(projectID)
		if err != nil {
			return err
		}
		followers, err := v.followerCounts(projectID)
		for _, e := range entries {
			out = append(out, TypicalLine{e.typical, e.revision, followers[e.id]})
		}
		return err
	})
	return out, err
}

// Typical gives a typical, its revision and its project. The value is shared:
// read it only.
func (s *Store) Typical(ctx context.Context, id domain.ID) (line TypicalLine, projectID domain.ID, err error) {
	err = s.view(ctx, "reading a typical", func(v source) error {
		var revision int64
		err := v.scan(`SELECT project_id, revision, (SELECT count(*) FROM rooms r WHERE r.typical_id = typicals.id) FROM typicals WHERE id = ?`,
			[]any{id}, &projectID, &revision, &line.Followers)
		if errors.Is(err, sql.ErrNoRows) {
			return notFound("there is no typical %s: it may have been removed", id)
		}
		if err != nil {
			return err
		}
		e, err := v.typical(id, revision)
		if err != nil {
			return err
		}
		line.Typical, line.Revision = e.typical, revision
		return nil
	})
	return line, projectID, err
}

// typicalsOf gives all typicals of a project in their order, with one more
// query where some are not held.
func (s source) typicalsOf(projectID domain.ID) ([]*entry, error) {
	out, err := s.heldTypicals(projectID)
	if err != nil || !slices.Contains(out, nil) {
		return out, err
	}
	return s.fetchTypicals(projectID)
}

func (s source) heldTypicals(projectID domain.ID) ([]*entry, error) {
	rows, err := s.query("SELECT id, revision FROM typicals WHERE project_id = ? ORDER BY seq, id", projectID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []*entry
	for rows.Next() {
		var id domain.ID
		var revision int64
		if err := rows.Scan(&id, &revision); err != nil {
			return nil, err
		}
		out = append(out, s.held(key{aTypical, id}, revision))
	}
	return out, rows.Err()
}

func (s source) fetchTypicals(projectID domain.ID) ([]*entry, error) {
	rows, err := s.query("SELECT id, revision, doc FROM typicals WHERE project_id = ? ORDER BY seq, id", projectID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []*entry
	for rows.Next() {
		var doc string
		e := &entry{key: key{kind: aTypical}, typical: new(domain.Typical)}
		if err := rows.Scan(&e.id, &e.revision, &doc); err != nil {
			return nil, err
		}
		e.size = len(doc)
		if err := s.decoded(&e, doc, e.typical); err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	return out, rows.Err()
}

func (s source) followerCounts(projectID domain.ID) (map[domain.ID]int, error) {
	rows, err := s.query("SELECT typical_id, count(*) FROM rooms WHERE project_id = ? AND typical_id <> '' GROUP BY typical_id", projectID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[domain.ID]int{}
	for rows.Next() {
		var id domain.ID
		var n int
		if err := rows.Scan(&id, &n); err != nil {
			return nil, err
		}
		out[id] = n
	}
	return out, rows.Err()
}
