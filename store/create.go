package store

import (
	"context"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// CreateProject stores a new project without rooms.
func (s *Store) CreateProject(ctx context.Context, who string, p domain.Project) error {
	scope := &domain.Scope{Project: p}
	return s.bring(ctx, who, fmt.Sprintf("created project %s", p.Name), scope, false, nil)
}

// ImportScope stores a whole project in one transaction. Where a project of
// its ID is there already, it is replaced only if told so; what could be undone
// before then no longer can. progress may be nil.
func (s *Store) ImportScope(ctx context.Context, who string, scope *domain.Scope, replace bool, progress func(done, total int)) error {
	return s.bring(ctx, who, fmt.Sprintf("imported project %s", scope.Project.Name), scope, replace, progress)
}

func (s *Store) bring(ctx context.Context, who, said string, scope *domain.Scope, replace bool, progress func(done, total int)) error {
	copied, err := scope.Copy() // what is stored must not be changed by the caller later
	if err != nil {
		return fmt.Errorf("store: importing: %w", err)
	}
	reviews, signOffs := slices.Clone(copied.Reviews), slices.Clone(copied.SignOffs)
	delta.Sort(copied)
	copied.Reviews, copied.SignOffs = reviews, signOffs // in the order in which they were made
	if err := checkScopeWhole(copied); err != nil {
		return err
	}
	return s.submit(ctx, "importing a project", func(w *work) (effects, error) {
		i := importer{w: w, scope: copied, who: who, said: said, progress: progress}
		return i.run(replace)
	})
}

// checkScopeWhole refuses a scope whose parts do not belong together.
func checkScopeWhole(s *domain.Scope) error {
	if !s.Project.ID.Valid() {
		return refuse("the project has no usable ID (%q): use small letters, digits, hyphens and dots", s.Project.ID)
	}
	seen := map[domain.ID]bool{}
	for i := range s.Typicals {
		if id := s.Typicals[i].ID; !id.Valid() || seen[id] {
			return refuse("typical %s has no ID of its own (%q)", s.Typicals[i].Name, id)
		}
		seen[s.Typicals[i].ID] = true
	}
	storeys := map[domain.ID]bool{}
	for _, b := range s.Project.Buildings {
		for _, storey := range b.Storeys {
			storeys[storey.ID] = true
		}
	}
	drawn := map[domain.ID]bool{}
	for i := range s.Plans {
		if id := s.Plans[i].ID; !storeys[id] || drawn[id] {
			return refuse("there is a plan of storey %q, which the project does not have or which has two", id)
		}
		drawn[s.Plans[i].ID] = true
	}
	rooms := map[domain.ID]bool{}
	for i := range s.Rooms {
		r := &s.Rooms[i]
		switch {
		case !r.ID.Valid() || rooms[r.ID]:
			return refuse("room %s has no ID of its own (%q)", r.Number, r.ID)
		case !storeys[r.StoreyID]:
			return refuse("room %s lies on storey %q, which the project does not have", r.Number, r.StoreyID)
		case r.TypicalID != "" && !seen[r.TypicalID]:
			return refuse("room %s follows typical %q, which the project does not have", r.Number, r.TypicalID)
		}
		rooms[r.ID] = true
	}
	return checkReviewsWhole(s, rooms)
}

func checkReviewsWhole(s *domain.Scope, rooms map[domain.ID]bool) error {
	seen := map[domain.ID]bool{}
	for _, r := range s.Reviews {
		if !r.ID.Valid() || seen[r.ID] || r.RoomID != "" && !rooms[r.RoomID] {
			return refuse("review step %q has no ID of its own, or is of a room that is not there (%q)", r.ID, r.RoomID)
		}
		seen[r.ID] = true
	}
	signed := map[domain.ID]bool{}
	for _, o := range s.SignOffs {
		if !o.ID.Valid() || signed[o.ID] || !rooms[o.RoomID] {
			return refuse("sign-off %q has no ID of its own, or is of a room that is not there (%q)", o.ID, o.RoomID)
		}
		signed[o.ID] = true
	}
	return nil
}

// RemoveProject removes a project with its rooms, journal, reviews and
// sign-offs. Revisions that were issued stay.
func (s *Store) RemoveProject(ctx context.Context, who string, id domain.ID) error {
	return s.submit(ctx, "removing a project", func(w *work) (effects, error) {
		gone, err := w.clear(id, true)
		if err != nil {
			return effects{}, err
		}
		subjects := map[string]int64{}
		for _, k := range gone {
			subjects[k.subject()] = 0
		}
		return effects{gone: gone, events: []Event{{ProjectID: id, Subjects: subjects, Who: who}}}, nil
	})
}

// clear takes a project's rooms, typicals, plans, reviews and sign-offs away, and
// remembers their revisions; with all also the journal and the project.
func (w *work) clear(id domain.ID, all bool) ([]key, error) {
	project, err := w.source().projectNow(id)
	if err != nil {
		return nil, err
	}
	gone := []key{project.key}
	for kind, table := range map[kind]string{aRoom: "rooms", aTypical: "typicals", aPlan: "plans"} {
		keys, err := w.buryAll(kind, table, id)
		if err != nil {
			return nil, err
		}
		gone = append(gone, keys...)
	}
	statements := []string{
		"DELETE FROM reviews WHERE project_id = ?", "DELETE FROM sign_offs WHERE project_id = ?",
		"DELETE FROM room_docs WHERE room_id IN (SELECT id FROM rooms WHERE project_id = ?)",
		"DELETE FROM room_circuits WHERE project_id = ?",
		"DELETE FROM plans WHERE project_id = ?", "DELETE FROM rooms WHERE project_id = ?", "DELETE FROM typicals WHERE project_id = ?",
	}
	if all {
		statements = append(statements, "DELETE FROM pictures WHERE project_id = ? AND NOT EXISTS (SELECT 1 FROM revisions r WHERE r.project_id = pictures.project_id)",
			"DELETE FROM journal_touches WHERE journal_id IN (SELECT id FROM journal WHERE project_id = ?)",
			"DELETE FROM journal WHERE project_id = ?", "DELETE FROM projects WHERE id = ?")
		if err := w.bury(project.subject(), project.revision); err != nil {
			return nil, err
		}
	}
	for _, statement := range statements {
		if _, err := w.exec(statement, id); err != nil {
			return nil, err
		}
	}
	return gone, nil
}

func (w *work) buryAll(kind kind, table string, projectID domain.ID) ([]key, error) {
	rows, err := w.query("SELECT id, revision FROM "+table+" WHERE project_id = ?", projectID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	last := map[key]int64{}
	var out []key
	for rows.Next() {
		k := key{kind: kind}
		var revision int64
		if err := rows.Scan(&k.id, &revision); err != nil {
			return nil, err
		}
		out, last[k] = append(out, k), revision
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	_ = rows.Close()
	for _, k := range out {
		if err := w.bury(k.subject(), last[k]); err != nil {
			return nil, err
		}
	}
	return out, nil
}
