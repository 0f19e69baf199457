package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// Request says who edits what.
type Request struct {
	ProjectID domain.ID
	Who       string
	// Base holds the revision of each subject that the edit was based on; where
	// one is no longer the newest, the edit is refused with a *StaleError. It
	// may be empty.
	Base map[string]int64
	// Scope is the subject whose page the edit was made on. The edit can be
	// undone there, beside everywhere that it changed something.
	Scope string
}

// Outcome is what an edit did.
type Outcome struct {
	JournalID int64
	Said      string
	Changed   bool
	Changes   delta.Changes    // paths as in domain.Scope: "rooms/<id>/name"
	Revisions map[string]int64 // of what changed; 0 for what was removed
	Touched   []string         // the subjects that can undo it
	// Undo and Redo are what can be undone and redone next on the page of
	// Request.Scope, empty for nothing.
	Undo, Redo string
	// Room is the room of Request.Scope as it was committed, where the edit
	// changed it; nil otherwise.
	Room *RoomState
}

// Edit carries out one edit in one transaction. The function changes what it
// reads from the Tx and puts it back; it may refuse with any error, and then
// nothing is stored. It says in a few words what was done, for the journal. It
// must not call the store otherwise. When Edit returns, the edit is on the disk.
func (s *Store) Edit(ctx context.Context, req Request, change func(*Tx) (said string, err error)) (Outcome, error) {
	var out Outcome
	err := s.submit(ctx, "saving an edit", func(w *work) (effects, error) {
		out = Outcome{}
		tx := newTx(w, req.ProjectID)
		if err := tx.checkBase(req.Base); err != nil {
			return effects{}, err
		}
		said, err := change(tx)
		if err != nil {
			return effects{}, err
		}
		if err := tx.removePlansWithStoreys(); err != nil {
			return effects{}, err
		}
		if out, err = tx.store(req); err != nil {
			return effects{}, err
		}
		out.Said = said
		if !out.Changed {
			out.Undo, out.Redo, err = tx.from.undoState(req.Scope)
			return effects{}, err
		}
		if err := tx.record(req, &out); err != nil {
			return effects{}, err
		}
		if err := tx.writeDocs(); err != nil {
			return effects{}, err
		}
		out.Undo = said
		out.Room, err = tx.roomOf(req.Scope)
		return tx.effects(req, out), err
	})
	if err != nil {
		return Outcome{}, err
	}
	return out, nil
}

// checkBase looks at rooms first, because a room's row also tells the revisions
// of its project and its typical.
func (tx *Tx) checkBase(base map[string]int64) error {
	subjects := make([]string, 0, len(base))
	for subject := range base {
		subjects = append(subjects, subject)
	}
	slices.SortFunc(subjects, func(a, b string) int { return strings.Compare(b, a) }) // typical, room, project
	slices.SortStableFunc(subjects, func(a, b string) int { return rank(a) - rank(b) })
	for _, subject := range subjects {
		now, err := tx.revisionNow(subject)
		if err != nil {
			return err
		}
		if now != base[subject] {
			return &StaleError{Subject: subject, Base: base[subject], Now: now}
		}
	}
	return nil
}

func rank(subject string) int {
	if strings.HasPrefix(subject, "room:") {
		return 0
	}
	return 1
}

// revisionNow gives a subject's revision, 0 where it is not there.
func (tx *Tx) revisionNow(subject string) (int64, error) {
	k, err := keyOf(subject)
	if err != nil {
		return 0, err
	}
	var now int64
	switch k.kind {
	case aProject:
		var p *projectEdit
		if p, err = tx.projectNow(); err == nil && k.id == tx.id {
			now = p.before.revision
		}
	case aTypical:
		var t *typicalEdit
		if t = tx.typicals[k.id]; t == nil {
			t, err = tx.typicalNow(k.id)
		}
		if err == nil {
			now = t.revision
		}
	case aPlan:
		var p *planEdit
		if p, err = tx.planNow(k.id); err == nil {
			now = p.revision()
		}
	case aRoom:
		var r *roomEdit
		if r, err = tx.roomHead(k.id); err == nil {
			now = r.revision
		}
	}
	if errors.Is(err, ErrNotFound) {
		return 0, nil
	}
	return now, err
}

// differences compares what was put with what was there, and forgets what was
// put without a change.
func (tx *Tx) differences() (delta.Changes, error) {
	var out delta.Changes
	if p := tx.project; p != nil && p.after != nil {
		delta.Sort(p.after)
		found, err := delta.Diff(p.before.project, p.after)
		if err != nil {
			return nil, err
		}
		if len(found) == 0 {
			p.after = nil
		}
		out = appendBelow(out, "project", found)
	}
	for _, t := range tx.putTypicals() {
		if t.after != nil {
			delta.Sort(t.after)
		}
		found, err := difference("typicals", t.id, t.before == nil, t.removed, t.was(), t.after)
		if err != nil {
			return nil, err
		}
		if len(found) == 0 {
			t.after, t.removed = nil, false
		}
		out = append(out, found...)
	}
	for _, p := range tx.putPlans() {
		if p.after != nil {
			delta.Sort(p.after)
		}
		found, err := difference("plans", p.id, p.before == nil, p.removed, p.was(), p.after)
		if err != nil {
			return nil, err
		}
		if len(found) == 0 {
			p.after, p.removed = nil, false
		}
		out = append(out, found...)
	}
	for _, r := range tx.putRooms() {
		if r.after != nil {
			delta.Sort(r.after)
		}
		found, err := difference("rooms", r.id, r.before == nil, r.removed, r.was(), r.after)
		if err != nil {
			return nil, err
		}
		if len(found) == 0 {
			r.after, r.removed = nil, false
		}
		out = append(out, found...)
	}
	return out, nil
}

func (e *typicalEdit) was() *domain.Typical {
	if e.before == nil {
		return nil
	}
	return e.before.typical
}

func (e *roomEdit) was() *domain.Room {
	if e.before == nil {
		return nil
	}
	return e.before.room
}

// difference gives the changes of one document among those of its kind.
func difference[T any](list string, id domain.ID, added, removed bool, before, after *T) (delta.Changes, error) {
	path := list + "/" + string(id)
	if removed && added {
		return nil, nil // came and went within the edit
	}
	if removed {
		doc, err := encode(before)
		return delta.Changes{{Path: path, Before: doc}}, err
	}
	if added {
		doc, err := encode(after)
		return delta.Changes{{Path: path, After: doc}}, err
	}
	found, err := delta.Diff(before, after)
	return appendBelow(nil, path, found), err
}

func appendBelow(out delta.Changes, path string, found delta.Changes) delta.Changes {
	for _, c := range found {
		c.Path = path + "/" + c.Path
		out = append(out, c)
	}
	return out
}

// putTypicals gives what was put, added or removed, in order of ID.
func (tx *Tx) putTypicals() []*typicalEdit {
	var out []*typicalEdit
	for _, t := range tx.typicals {
		if t.after != nil || t.removed {
			out = append(out, t)
		}
	}
	slices.SortFunc(out, func(a, b *typicalEdit) int { return strings.Compare(string(a.id), string(b.id)) })
	return out
}

// putRooms gives what was put, added or removed, in order of ID.
func (tx *Tx) putRooms() []*roomEdit {
	var out []*roomEdit
	for _, r := range tx.rooms {
		if r.after != nil || r.removed {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b *roomEdit) int { return strings.Compare(string(a.id), string(b.id)) })
	return out
}

// touched gives the subjects that an edit changed, and its scope.
func touched(req Request, revisions map[string]int64) []string {
	out := make([]string, 0, len(revisions)+1)
	for subject := range revisions {
		out = append(out, subject)
	}
	if _, in := revisions[req.Scope]; req.Scope != "" && !in {
		out = append(out, req.Scope)
	}
	slices.Sort(out)
	return out
}

func checkScope(subject string) error {
	if subject == "" {
		return nil
	}
	if _, err := keyOf(subject); err != nil {
		return fmt.Errorf("%w (as the scope of an edit)", err)
	}
	return nil
}
