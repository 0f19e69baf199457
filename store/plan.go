package store

import (
	"context"
	"database/sql"
	"errors"

	"scopewright/domain"
)

// Plan gives the drawing of a storey and its revision: an empty one with its ID
// and revision 0 where nothing has been drawn. The value is shared: read it
// only.
func (s *Store) Plan(ctx context.Context, projectID, storeyID domain.ID) (*domain.Plan, int64, error) {
	var plan *domain.Plan
	var revision int64
	err := s.view(ctx, "reading a plan", func(v source) error {
		project, err := v.projectNow(projectID)
		if err != nil {
			return err
		}
		if _, storey := project.project.FindStorey(storeyID); storey == nil {
			return noStorey(storeyID)
		}
		e, err := v.planNow(projectID, storeyID)
		if err != nil {
			return err
		}
		if e == nil {
			plan = &domain.Plan{ID: storeyID}
			return nil
		}
		plan, revision = e.plan, e.revision
		return nil
	})
	return plan, revision, err
}

func noStorey(id domain.ID) error {
	return notFound("the project has no storey %s: it may have been removed", id)
}

// planNow gives the plan of a storey, nil where nothing has been drawn.
func (s source) planNow(projectID, storeyID domain.ID) (*entry, error) {
	var revision int64
	err := s.scan("SELECT revision FROM plans WHERE id = ? AND project_id = ?", []any{storeyID, projectID}, &revision)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return s.plan(storeyID, revision)
}

func (s source) plan(id domain.ID, revision int64) (*entry, error) {
	if e := s.held(key{aPlan, id}, revision); e != nil {
		return e, nil
	}
	var doc string
	if err := s.scan("SELECT doc FROM plans WHERE id = ?", []any{id}, &doc); err != nil {
		return nil, err
	}
	e := &entry{key: key{aPlan, id}, revision: revision, size: len(doc), plan: new(domain.Plan)}
	return e, s.decoded(&e, doc, e.plan)
}

// plansOf gives the plans of a project in the order of its storeys.
func (s source) plansOf(p *domain.Project) ([]domain.Plan, error) {
	found, err := s.fetchPlans(p.ID)
	if err != nil || len(found) == 0 {
		return nil, err
	}
	var out []domain.Plan
	for _, b := range p.Buildings {
		for _, storey := range b.Storeys {
			if e := found[storey.ID]; e != nil {
				out = append(out, *e.plan)
			}
		}
	}
	return out, nil
}

func (s source) fetchPlans(projectID domain.ID) (map[domain.ID]*entry, error) {
	rows, err := s.query("SELECT id, revision, doc FROM plans WHERE project_id = ?", projectID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[domain.ID]*entry{}
	for rows.Next() {
		var doc sql.RawBytes // most plans are held already
		e := &entry{key: key{kind: aPlan}, plan: new(domain.Plan)}
		if err := rows.Scan(&e.id, &e.revision, &doc); err != nil {
			return nil, err
		}
		if held := s.held(e.key, e.revision); held != nil {
			out[e.id] = held
			continue
		}
		e.size = len(doc)
		if err := s.decoded(&e, string(doc), e.plan); err != nil {
			return nil, err
		}
		out[e.id] = e
	}
	return out, rows.Err()
}

// StoreyRooms gives all rooms of a storey by number, each as Room gives it, at
// one moment.
func (s *Store) StoreyRooms(ctx context.Context, projectID, storeyID domain.ID) ([]*RoomState, error) {
	var out []*RoomState
	err := s.view(ctx, "reading the rooms of a storey", func(v source) error {
		project, err := v.projectNow(projectID)
		if err != nil {
			return err
		}
		if _, storey := project.project.FindStorey(storeyID); storey == nil {
			return noStorey(storeyID)
		}
		out, err = v.storeyRooms(project, storeyID)
		return err
	})
	return out, err
}

func (s source) storeyRooms(project *entry, storeyID domain.ID) ([]*RoomState, error) {
	heads, err := s.headsWhere(nil, "project_id = ? AND storey_id = ? ORDER BY sort_key, id", []any{project.id, storeyID})
	if err != nil {
		return nil, err
	}
	rooms, err := s.rooms(heads)
	if err != nil {
		return nil, err
	}
	typicals, err := s.typicalsOf(project.id)
	if err != nil {
		return nil, err
	}
	byID := make(map[domain.ID]*entry, len(typicals))
	for _, t := range typicals {
		byID[t.id] = t
	}
	plan, err := s.planNow(project.id, storeyID)
	if err != nil {
		return nil, err
	}
	out := make([]*RoomState, len(rooms))
	for i, room := range rooms {
		if out[i], err = state(project, room, byID[room.room.TypicalID], plan); err != nil {
			return nil, err
		}
	}
	return out, nil
}
