package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"scopewright/domain"
)

// ProjectLine is a project as the list of projects shows it.
type ProjectLine struct {
	ID       domain.ID
	Name     string
	Number   string
	Revision int64
	Rooms    int
	Errors   int
	Updated  time.Time // of the last edit
}

// Projects lists all projects, that with the newest edit first.
func (s *Store) Projects(ctx context.Context) ([]ProjectLine, error) {
	var out []ProjectLine
	err := s.view(ctx, "listing projects", func(v source) (err error) {
		out, err = v.projects()
		return err
	})
	return out, err
}

func (s source) projects() ([]ProjectLine, error) {
	rows, err := s.query(`
		SELECT p.id, p.name, p.number, p.revision,
			(SELECT count(*) FROM rooms r WHERE r.project_id = p.id),
			(SELECT coalesce(sum(r.errors), 0) FROM rooms r WHERE r.project_id = p.id),
			coalesce((SELECT j.at FROM journal j WHERE j.project_id = p.id ORDER BY j.id DESC LIMIT 1), p.updated_at) AS at
		FROM projects p ORDER BY at DESC, p.id`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []ProjectLine
	for rows.Next() {
		var p ProjectLine
		var at string
		if err := rows.Scan(&p.ID, &p.Name, &p.Number, &p.Revision, &p.Rooms, &p.Errors, &at); err != nil {
			return nil, err
		}
		p.Updated = unstamp(at)
		out = append(out, p)
	}
	return out, rows.Err()
}

// Project gives a project and its revision. The value is shared: read it only.
func (s *Store) Project(ctx context.Context, id domain.ID) (*domain.Project, int64, error) {
	var revision int64
	err := s.one(ctx, "SELECT revision FROM projects WHERE id = ?", []any{id}, &revision)
	if err != nil {
		return nil, 0, s.missing(err, "reading a project", "there is no project %s: it may have been removed", id)
	}
	if e := s.cache.get(key{aProject, id}, revision); e != nil {
		return e.project, revision, nil
	}
	var e *entry
	err = s.view(ctx, "reading a project", func(v source) (err error) {
		e, err = v.projectNow(id)
		return err
	})
	if err != nil {
		return nil, 0, err
	}
	return e.project, e.revision, nil
}

func (s source) projectNow(id domain.ID) (*entry, error) {
	var revision int64
	err := s.scan("SELECT revision FROM projects WHERE id = ?", []any{id}, &revision)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, notFound("there is no project %s: it may have been removed", id)
	}
	if err != nil {
		return nil, err
	}
	return s.project(id, revision)
}

// missing turns "no row" into a sentence, and other errors into ours.
func (s *Store) missing(err error, doing, sentence string, args ...any) error {
	if errors.Is(err, sql.ErrNoRows) {
		return notFound(sentence, args...)
	}
	return s.translate(err, doing)
}
