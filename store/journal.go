package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// State is where an entry of the journal stands.
type State string

// The states. A dropped entry was undone and can no longer be redone, because
// an edit came after. A note tells what cannot be undone, such as an import.
const (
	Done    State = "done"
	Undone  State = "undone"
	Dropped State = "dropped"
	Note    State = "note"
)

// Entry is one edit in the journal.
type Entry struct {
	ID        int64
	ProjectID domain.ID
	At        time.Time
	Who, Said string
	State     State
	Changes   delta.Changes
	UndoneAt  time.Time
	UndoneBy  string
}

// record writes the journal row of an edit, and drops what could have been
// redone on anything that it touches.
func (tx *Tx) record(req Request, out *Outcome) error {
	changes, err := encode(out.Changes)
	if err != nil {
		return err
	}
	result, err := tx.w.exec("INSERT INTO journal (project_id, at, who, said, state, changes) VALUES (?, ?, ?, ?, 'done', ?)",
		tx.id, stamp(tx.w.s.now()), req.Who, out.Said, string(changes))
	if err != nil {
		return err
	}
	if out.JournalID, err = result.LastInsertId(); err != nil {
		return err
	}
	for _, subject := range out.Touched {
		if _, err := tx.w.exec("INSERT INTO journal_touches (subject, journal_id) VALUES (?, ?)", subject, out.JournalID); err != nil {
			return err
		}
	}
	return tx.dropRedo(out.Touched)
}

// dropRedo drops the entries that are undone and touch any of the subjects. A
// room's head told in passing whether there are any, which is seldom.
func (tx *Tx) dropRedo(subjects []string) error {
	if tx.noneUndone {
		return nil
	}
	for some := range slices.Chunk(subjects, atOnce) {
		listed := padded(some)
		_, err := tx.w.exec(`UPDATE journal SET state = 'dropped' WHERE project_id = ? AND state = 'undone' AND EXISTS (
			SELECT 1 FROM journal_touches t WHERE t.journal_id = journal.id AND t.subject IN (`+marks(len(listed))+`))`, append([]any{tx.id}, listed...)...)
		if err != nil {
			return err
		}
	}
	return nil
}

// UndoState says what can be undone and redone next on a subject's page, empty
// for nothing.
func (s *Store) UndoState(ctx context.Context, subject string) (undo, redo string, err error) {
	if _, err := keyOf(subject); err != nil {
		return "", "", err
	}
	err = s.view(ctx, "reading the journal", func(v source) (err error) {
		undo, redo, err = v.undoState(subject)
		return err
	})
	return undo, redo, err
}

func (s source) undoState(subject string) (undo, redo string, err error) {
	if subject == "" {
		return "", "", nil
	}
	next, err := s.nextUndo(subject)
	if err != nil && !errors.Is(err, ErrNothingToUndo) {
		return "", "", err
	}
	again, err := s.nextRedo(subject)
	if err != nil && !errors.Is(err, ErrNothingToRedo) {
		return "", "", err
	}
	return next.said, again.said, nil
}

// step is an entry to undo or redo.
type step struct {
	id        int64
	projectID domain.ID
	said      string
}

// undoQuery finds the newest edit that touches a subject and is done.
const undoQuery = `SELECT j.id, j.project_id, j.said FROM journal_touches t JOIN journal j ON j.id = t.journal_id
	WHERE t.subject = ? AND j.state = 'done' ORDER BY t.journal_id DESC LIMIT 1`

// redoQuery finds the edit that was undone last, among those that touch a
// subject.
const redoQuery = `SELECT j.id, j.project_id, j.said FROM journal j
	WHERE j.state = 'undone' AND EXISTS (SELECT 1 FROM journal_touches t WHERE t.subject = ? AND t.journal_id = j.id)
	ORDER BY j.undone_at DESC, j.id LIMIT 1`

func (s source) nextUndo(subject string) (step, error) {
	return s.step(ErrNothingToUndo, undoQuery, subject)
}

func (s source) nextRedo(subject string) (step, error) {
	return s.step(ErrNothingToRedo, redoQuery, subject)
}

func (s source) step(none error, query, subject string) (out step, err error) {
	err = s.scan(query, []any{subject}, &out.id, &out.projectID, &out.said)
	if errors.Is(err, sql.ErrNoRows) {
		return step{}, none
	}
	return out, err
}

// HistoryFilter says which entries of the journal.
type HistoryFilter struct {
	Subject string // empty: all of the project
	Before  int64  // entries with smaller numbers; 0: from the newest on
	Limit   int    // 0: 100
}

// History lists entries of the journal, the newest first.
func (s *Store) History(ctx context.Context, projectID domain.ID, f HistoryFilter) ([]Entry, error) {
	var out []Entry
	err := s.view(ctx, "reading the journal", func(v source) (err error) {
		out, err = v.history(projectID, f)
		return err
	})
	return out, err
}

func (s source) history(projectID domain.ID, f HistoryFilter) ([]Entry, error) {
	query := "SELECT j.id, j.project_id, j.at, j.who, j.said, j.state, j.changes, j.undone_at, j.undone_by FROM journal j"
	where, args := " WHERE j.project_id = ?", []any{projectID}
	if f.Subject != "" {
		query += " JOIN journal_touches t ON t.journal_id = j.id"
		where, args = where+" AND t.subject = ?", append(args, f.Subject)
	}
	if f.Before > 0 {
		where, args = where+" AND j.id < ?", append(args, f.Before)
	}
	if f.Limit <= 0 {
		f.Limit = 100
	}
	rows, err := s.query(query+where+" ORDER BY j.id DESC LIMIT ?", append(args, f.Limit)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []Entry
	for rows.Next() {
		e, err := scanEntry(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	return out, rows.Err()
}

func scanEntry(rows *sql.Rows) (Entry, error) {
	var e Entry
	var at, undoneAt, changes string
	if err := rows.Scan(&e.ID, &e.ProjectID, &at, &e.Who, &e.Said, &e.State, &changes, &undoneAt, &e.UndoneBy); err != nil {
		return Entry{}, err
	}
	e.At, e.UndoneAt = unstamp(at), unstamp(undoneAt)
	if err := json.Unmarshal([]byte(changes), &e.Changes); err != nil {
		return Entry{}, &Failure{ErrCorrupt, fmt.Sprintf("entry %d of the journal cannot be read: restore the newest backup", e.ID), err.Error()}
	}
	return e, nil
}
