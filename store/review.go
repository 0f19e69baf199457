package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"scopewright/domain"
)

// AddReview adds a step to the talk about an item, and gives it an ID and a
// time where it has none. Steps are never changed or removed.
func (s *Store) AddReview(ctx context.Context, projectID domain.ID, r domain.Review) (domain.Review, error) {
	if r.Verdict != "" && !r.Verdict.Known() {
		return r, refuse("%q is no verdict: agree, object, or say that it is not applicable", r.Verdict)
	}
	if r.ItemID == "" {
		return r, refuse("a review step needs the item of the checklist that it is about")
	}
	if r.ID == "" {
		r.ID = domain.NewID()
	}
	if r.At == "" {
		r.At = s.now().Format(time.RFC3339)
	}
	err := s.submit(ctx, "saving a review", func(w *work) (effects, error) {
		if err := w.insertReviewOf(projectID, r.RoomID, func() error { return w.insertReview(projectID, r) }); err != nil {
			return effects{}, err
		}
		return w.reviewed(projectID, r.RoomID, r.Name)
	})
	return r, err
}

// Reviews gives the steps for a room, or for the project where the room is
// empty, in the order in which they were made.
func (s *Store) Reviews(ctx context.Context, projectID, roomID domain.ID) ([]domain.Review, error) {
	var out []domain.Review
	err := s.view(ctx, "reading reviews", func(v source) (err error) {
		out, err = v.reviews("r.project_id = ? AND r.room_id = ?", projectID, roomID)
		return err
	})
	return out, err
}

// SignOff puts a name under a room as it is now. The hash is of what the
// person saw; where the room has changed since, the sign-off is stale at once.
func (s *Store) SignOff(ctx context.Context, projectID domain.ID, o domain.SignOff) (domain.SignOff, error) {
	if o.Name == "" || o.Hash == "" || o.RoomID == "" {
		return o, refuse("a sign-off needs a room, a name and what was signed")
	}
	if o.ID == "" {
		o.ID = domain.NewID()
	}
	if o.At == "" {
		o.At = s.now().Format(time.RFC3339)
	}
	err := s.submit(ctx, "saving a sign-off", func(w *work) (effects, error) {
		if err := w.insertReviewOf(projectID, o.RoomID, func() error { return w.insertSignOff(projectID, o) }); err != nil {
			return effects{}, err
		}
		return w.reviewed(projectID, o.RoomID, o.Name)
	})
	return o, err
}

// WithdrawSignOff takes a sign-off back; it stays on record.
func (s *Store) WithdrawSignOff(ctx context.Context, projectID, id domain.ID, who string) error {
	return s.submit(ctx, "taking back a sign-off", func(w *work) (effects, error) {
		var roomID domain.ID
		var withdrawn string
		err := w.scan("SELECT room_id, withdrawn FROM sign_offs WHERE project_id = ? AND id = ?", []any{projectID, id}, &roomID, &withdrawn)
		if err != nil {
			return effects{}, orNotFound(err, "there is no sign-off %s in this project", id)
		}
		if withdrawn != "" {
			return effects{}, refuse("this sign-off was taken back already, on %s", withdrawn)
		}
		if _, err := w.exec("UPDATE sign_offs SET withdrawn = ? WHERE id = ?", w.s.now().Format(time.RFC3339), id); err != nil {
			return effects{}, err
		}
		return w.reviewed(projectID, roomID, who)
	})
}

// SignOffs gives the sign-offs of a room, or of all rooms where it is empty, in
// the order in which they were made.
func (s *Store) SignOffs(ctx context.Context, projectID, roomID domain.ID) ([]domain.SignOff, error) {
	var out []domain.SignOff
	err := s.view(ctx, "reading sign-offs", func(v source) (err error) {
		if roomID == "" {
			out, err = v.signOffs("o.project_id = ?", projectID)
		} else {
			out, err = v.signOffs("o.project_id = ? AND o.room_id = ?", projectID, roomID)
		}
		return err
	})
	return out, err
}

func (w *work) insertReviewOf(projectID, roomID domain.ID, insert func() error) error {
	if _, err := w.source().projectNow(projectID); err != nil {
		return err
	}
	if roomID != "" {
		var n int
		if err := w.scan("SELECT count(*) FROM rooms WHERE project_id = ? AND id = ?", []any{projectID, roomID}, &n); err != nil {
			return err
		}
		if n == 0 {
			return notFound("the project has no room %s: it may have been removed", roomID)
		}
	}
	return insert()
}

// reviewed brings the marks of a room's row up to date and tells of it. The
// room's revision stays: its contents did not change.
func (w *work) reviewed(projectID, roomID domain.ID, who string) (effects, error) {
	if roomID == "" {
		var revision int64
		err := w.scan("SELECT revision FROM projects WHERE id = ?", []any{projectID}, &revision)
		return effects{events: []Event{{projectID, map[string]int64{key{aProject, projectID}.subject(): revision}, who}}}, err
	}
	from := w.source()
	mark, err := from.reviewMark(projectID, roomID)
	if err != nil {
		return effects{}, err
	}
	state, err := w.roomState(roomID)
	if err != nil {
		return effects{}, err
	}
	stale := w.s.stale(state.Project, state.Resolved, mark.signedHash)
	_, err = w.exec("UPDATE rooms SET objections = ?, signed_hash = ?, signed_at = ?, stale = ? WHERE id = ?",
		mark.objections, mark.signedHash, mark.signedAt, asInt(stale), roomID)
	return effects{events: []Event{{projectID, map[string]int64{key{aRoom, roomID}.subject(): state.Revision}, who}}}, err
}

// roomState gives a room inside the transaction.
func (w *work) roomState(id domain.ID) (*RoomState, error) {
	var projectID domain.ID
	if err := w.scan("SELECT project_id FROM rooms WHERE id = ?", []any{id}, &projectID); err != nil {
		return nil, err
	}
	tx := newTx(w, projectID)
	r, err := tx.roomNow(id)
	if err != nil {
		return nil, err
	}
	resolved, err := tx.resolved(r.before)
	return &RoomState{ProjectID: projectID, Project: tx.project.now(), Resolved: resolved, Revision: r.revision}, err
}

// reviewMark is what lists show of a room's review.
type reviewMark struct {
	objections           int
	signedHash, signedAt string
}

// openObjections counts items whose newest verdict objects.
const openObjections = `SELECT count(*) FROM reviews r WHERE r.project_id = ? AND r.room_id = ? AND r.verdict = 'object'
	AND NOT EXISTS (SELECT 1 FROM reviews n WHERE n.project_id = r.project_id AND n.room_id = r.room_id AND n.item_id = r.item_id AND n.verdict <> '' AND n.seq > r.seq)`

func (s source) reviewMark(projectID, roomID domain.ID) (reviewMark, error) {
	var out reviewMark
	if err := s.scan(openObjections, []any{projectID, roomID}, &out.objections); err != nil {
		return out, err
	}
	err := s.scan("SELECT hash, at FROM sign_offs WHERE project_id = ? AND room_id = ? AND withdrawn = '' ORDER BY seq DESC LIMIT 1",
		[]any{projectID, roomID}, &out.signedHash, &out.signedAt)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return out, err
}

func (w *work) insertReview(projectID domain.ID, r domain.Review) error {
	_, err := w.exec("INSERT INTO reviews (id, project_id, room_id, item_id, at, name, verdict, comment, answer) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
		r.ID, projectID, r.RoomID, r.ItemID, r.At, r.Name, string(r.Verdict), r.Comment, r.Answer)
	return err
}

func (w *work) insertSignOff(projectID domain.ID, o domain.SignOff) error {
	_, err := w.exec("INSERT INTO sign_offs (id, project_id, room_id, name, role, at, hash, comment, withdrawn) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
		o.ID, projectID, o.RoomID, o.Name, o.Role, o.At, o.Hash, o.Comment, o.Withdrawn)
	return err
}
