package store

import (
	"context"
	"database/sql"
	"errors"

	"scopewright/domain"
)

// RoomState is a room with everything that its page, its rules and its sheet
// need, at one moment. All of it is shared: read it only.
type RoomState struct {
	ProjectID       domain.ID
	Project         *domain.Project
	ProjectRevision int64
	Resolved        *domain.Resolved
	Revision        int64 // of the room
	TypicalRevision int64 // 0 for a room with a design of its own
}

const roomHead = `SELECT r.project_id, r.revision, r.typical_id, r.signed_hash, p.revision, coalesce(t.revision, 0),
		r.storey_id, coalesce(d.revision, 0),
		EXISTS (SELECT 1 FROM journal j WHERE j.project_id = r.project_id AND j.state = 'undone')
	FROM rooms r JOIN projects p ON p.id = r.project_id LEFT JOIN typicals t ON t.id = r.typical_id
		LEFT JOIN plans d ON d.id = r.storey_id WHERE r.id = ?`

// revisions are those of a room and of what it depends on.
type revisions struct {
	head
	projectID, storey      domain.ID
	project, typical, plan int64
	undone                 bool // something in the project could be redone
}

func (r *revisions) into() []any {
	return []any{&r.projectID, &r.revision, &r.typicalID, &r.signedHash, &r.project, &r.typical, &r.storey, &r.plan, &r.undone}
}

// Room gives a room as it is now. While nothing changed it costs one query.
func (s *Store) Room(ctx context.Context, id domain.ID) (*RoomState, error) {
	now := revisions{head: head{id: id}}
	if err := s.one(ctx, roomHead, []any{id}, now.into()...); err != nil {
		return nil, s.missing(err, "reading a room", "there is no room %s: it may have been removed", id)
	}
	if state, err := s.heldRoom(now); state != nil || err != nil {
		return state, err
	}
	var state *RoomState
	err := s.view(ctx, "reading a room", func(v source) (err error) {
		state, err = v.roomNow(id)
		return err
	})
	return state, err
}

func (s *Store) heldRoom(now revisions) (*RoomState, error) {
	project, room := s.cache.get(key{aProject, now.projectID}, now.project), s.cache.get(key{aRoom, now.id}, now.revision)
	if project == nil || room == nil {
		return nil, nil
	}
	var typical, plan *entry
	if now.typicalID != "" {
		if typical = s.cache.get(key{aTypical, now.typicalID}, now.typical); typical == nil {
			return nil, nil
		}
	}
	if now.plan > 0 {
		if plan = s.cache.get(key{aPlan, now.storey}, now.plan); plan == nil {
			return nil, nil
		}
	}
	return state(project, room, typical, plan)
}

func (s source) roomNow(id domain.ID) (*RoomState, error) {
	now := revisions{head: head{id: id}}
	err := s.scan(roomHead, []any{id}, now.into()...)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, notFound("there is no room %s: it may have been removed", id)
	}
	if err != nil {
		return nil, err
	}
	project, err := s.project(now.projectID, now.project)
	if err != nil {
		return nil, err
	}
	room, err := s.room(id, now.revision)
	if err != nil {
		return nil, err
	}
	var typical, plan *entry
	if now.typicalID != "" {
		if typical, err = s.typical(now.typicalID, now.typical); err != nil {
			return nil, err
		}
	}
	if now.plan > 0 {
		if plan, err = s.plan(now.storey, now.plan); err != nil {
			return nil, err
		}
	}
	return state(project, room, typical, plan)
}

// state joins committed documents of one moment.
func state(project, room, typical, plan *entry) (*RoomState, error) {
	out := &RoomState{ProjectID: project.id, Project: project.project, ProjectRevision: project.revision, Revision: room.revision}
	_, out.TypicalRevision = typical.typicalAt()
	var err error
	out.Resolved, err = room.resolve(typical, plan)
	return out, err
}
