package store

import (
	"context"
	"database/sql"

	"scopewright/domain"
)

// Load gives a whole project as it is at one moment: typicals in their order,
// plans and rooms in the order of the building, reviews and sign-offs as they came. Its
// parts may be shared: read them only, or take Scope.Copy.
func (s *Store) Load(ctx context.Context, projectID domain.ID) (*domain.Scope, error) {
	var out *domain.Scope
	err := s.view(ctx, "loading a project", func(v source) (err error) {
		out, err = v.load(projectID)
		return err
	})
	return out, err
}

func (s source) load(projectID domain.ID) (*domain.Scope, error) {
	project, err := s.projectNow(projectID)
	if err != nil {
		return nil, err
	}
	out := &domain.Scope{Project: *project.project}
	typicals, err := s.typicalsOf(projectID)
	if err != nil {
		return nil, err
	}
	for _, e := range typicals {
		out.Typicals = append(out.Typicals, *e.typical)
	}
	if out.Plans, err = s.plansOf(&out.Project); err != nil {
		return nil, err
	}
	if err := s.loadRooms(out); err != nil {
		return nil, err
	}
	if out.Reviews, err = s.reviews("r.project_id = ? AND (r.room_id = '' OR EXISTS (SELECT 1 FROM rooms x WHERE x.id = r.room_id))", projectID); err != nil {
		return nil, err
	}
	out.SignOffs, err = s.signOffs("o.project_id = ? AND EXISTS (SELECT 1 FROM rooms x WHERE x.id = o.room_id)", projectID)
	return out, err
}

func (s source) loadRooms(out *domain.Scope) error {
	heads, storeys, err := s.headsByStorey(out.Project.ID)
	if err != nil {
		return err
	}
	entries, err := s.rooms(heads)
	if err != nil {
		return err
	}
	at := map[domain.ID][]int{}
	for i, storey := range storeys {
		at[storey] = append(at[storey], i)
	}
	out.Rooms = make([]domain.Room, 0, len(heads))
	for _, b := range out.Project.Buildings {
		for _, storey := range b.Storeys {
			for _, i := range at[storey.ID] {
				out.Rooms = append(out.Rooms, *entries[i].room)
			}
		}
	}
	return nil
}

// headsByStorey lists a project's rooms by number, with the storey of each.
func (s source) headsByStorey(projectID domain.ID) (heads []head, storeys []domain.ID, err error) {
	rows, err := s.query("SELECT id, revision, storey_id FROM rooms WHERE project_id = ? ORDER BY sort_key, id", projectID)
	if err != nil {
		return nil, nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var h head
		var storey domain.ID
		if err := rows.Scan(&h.id, &h.revision, &storey); err != nil {
			return nil, nil, err
		}
		heads, storeys = append(heads, h), append(storeys, storey)
	}
	return heads, storeys, rows.Err()
}

func (s source) reviews(where string, args ...any) ([]domain.Review, error) {
	rows, err := s.query("SELECT r.id, r.room_id, r.item_id, r.at, r.name, r.verdict, r.comment, r.answer FROM reviews r WHERE "+where+" ORDER BY r.seq", args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []domain.Review
	for rows.Next() {
		var r domain.Review
		if err := rows.Scan(&r.ID, &r.RoomID, &r.ItemID, &r.At, &r.Name, &r.Verdict, &r.Comment, &r.Answer); err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, rows.Err()
}

func (s source) signOffs(where string, args ...any) ([]domain.SignOff, error) {
	rows, err := s.query("SELECT o.id, o.room_id, o.name, o.role, o.at, o.hash, o.comment, o.withdrawn FROM sign_offs o WHERE "+where+" ORDER BY o.seq", args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	return scanSignOffs(rows)
}

func scanSignOffs(rows *sql.Rows) ([]domain.SignOff, error) {
	var out []domain.SignOff
	for rows.Next() {
		var o domain.SignOff
		if err := rows.Scan(&o.ID, &o.RoomID, &o.Name, &o.Role, &o.At, &o.Hash, &o.Comment, &o.Withdrawn); err != nil {
			return nil, err
		}
		out = append(out, o)
	}
	return out, rows.Err()
}
