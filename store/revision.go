package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// IssueInput is what a person says of a revision.
type IssueInput struct {
	Author, Purpose, Note string
}

// RevisionLine is an issued revision without its body. SHA256 is that of the
// JSON of the frozen scope.
type RevisionLine struct {
	ProjectID             domain.ID
	Number                int
	At                    time.Time
	Author, Purpose, Note string
	SHA256                string
}

// Issue freezes the project as it is, under the next number. What changed
// since the revision before is kept with it; the first has no such list.
func (s *Store) Issue(ctx context.Context, projectID domain.ID, in IssueInput) (RevisionLine, error) {
	if in.Author == "" {
		return RevisionLine{}, refuse("a revision needs the name of its author")
	}
	var line RevisionLine
	err := s.submit(ctx, "issuing a revision", func(w *work) (effects, error) {
		// No keep: a whole project must not push what is in use out of memory.
		from := w.source()
		from.keep = func(e *entry) *entry { return e }
		scope, err := from.load(projectID)
		if err != nil {
			return effects{}, err
		}
		line, err = w.freeze(from, scope, in)
		if err != nil {
			return effects{}, err
		}
		var revision int64
		err = w.scan("SELECT revision FROM projects WHERE id = ?", []any{projectID}, &revision)
		return effects{events: []Event{{projectID, map[string]int64{key{aProject, projectID}.subject(): revision}, in.Author}}}, err
	})
	return line, err
}

func (w *work) freeze(from source, scope *domain.Scope, in IssueInput) (RevisionLine, error) {
	now := w.s.now()
	line := RevisionLine{ProjectID: scope.Project.ID, Number: 1, At: now, Author: in.Author, Purpose: in.Purpose, Note: in.Note}
	var changes delta.Changes
	before, last, err := from.revision(scope.Project.ID, 0)
	switch {
	case errors.Is(err, ErrNotFound):
	case err != nil:
		return line, err
	default:
		line.Number = last.Number + 1
		if changes, err = delta.Diff(before, scope); err != nil {
			return line, err
		}
	}
	body, err := encode(scope)
	if err != nil {
		return line, err
	}
	line.SHA256 = hashOf(body)
	packed, err := pack(body)
	if err != nil {
		return line, err
	}
	list, err := encode(changes)
	if err != nil {
		return line, err
	}
	_, err = w.exec("INSERT INTO revisions (project_id, number, at, author, purpose, note, sha256, changes, body) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
		line.ProjectID, line.Number, stamp(now), line.Author, line.Purpose, line.Note, line.SHA256, string(list), packed)
	return line, err
}

// Revisions lists what was issued of a project, the newest first, also where
// the project itself has been removed.
func (s *Store) Revisions(ctx context.Context, projectID domain.ID) ([]RevisionLine, error) {
	var out []RevisionLine
	err := s.view(ctx, "listing revisions", func(v source) error {
		rows, err := v.query("SELECT "+revisionColumns+" FROM revisions WHERE project_id = ? ORDER BY number DESC", projectID)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			line, at := RevisionLine{}, ""
			if err := rows.Scan(line.into(&at)...); err != nil {
				return err
			}
			line.At = unstamp(at)
			out = append(out, line)
		}
		return rows.Err()
	})
	return out, err
}

const revisionColumns = "project_id, number, at, author, purpose, note, sha256"

func (l *RevisionLine) into(at *string) []any {
	return []any{&l.ProjectID, &l.Number, at, &l.Author, &l.Purpose, &l.Note, &l.SHA256}
}

// Revision gives an issued revision exactly as it was frozen; the hash is
// checked each time. Number 0 is the newest.
func (s *Store) Revision(ctx context.Context, projectID domain.ID, number int) (*domain.Scope, RevisionLine, error) {
	var scope *domain.Scope
	var line RevisionLine
	err := s.view(ctx, "reading a revision", func(v source) (err error) {
		scope, line, err = v.revision(projectID, number)
		return err
	})
	return scope, line, err
}

// RevisionChanges gives what a revision changed against the one before it;
// nothing for the first.
func (s *Store) RevisionChanges(ctx context.Context, projectID domain.ID, number int) (delta.Changes, error) {
	var text string
	err := s.one(ctx, "SELECT changes FROM revisions WHERE project_id = ? AND number = ?", []any{projectID, number}, &text)
	if err != nil {
		return nil, s.missing(err, "reading a revision", "revision %d has not been issued", number)
	}
	var changes delta.Changes
	if err := json.Unmarshal([]byte(text), &changes); err != nil {
		return nil, tampered(number, err)
	}
	return changes, nil
}

func (s source) revision(projectID domain.ID, number int) (*domain.Scope, RevisionLine, error) {
	line, at := RevisionLine{}, ""
	var packed []byte
	query, args := "SELECT "+revisionColumns+", body FROM revisions WHERE project_id = ? AND number = ?", []any{projectID, number}
	if number == 0 {
		query, args = "SELECT "+revisionColumns+", body FROM revisions WHERE project_id = ? ORDER BY number DESC LIMIT 1", []any{projectID}
	}
	err := s.scan(query, args, append(line.into(&at), &packed)...)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, line, notFound("revision %d of this project has not been issued", number)
	}
	if err != nil {
		return nil, line, err
	}
	line.At = unstamp(at)
	body, err := unpack(packed)
	if err != nil {
		return nil, line, tampered(line.Number, err)
	}
	if hashOf(body) != line.SHA256 {
		return nil, line, tampered(line.Number, errors.New("the hash differs"))
	}
	scope := new(domain.Scope)
	if err := json.Unmarshal(body, scope); err != nil {
		return nil, line, tampered(line.Number, err)
	}
	return scope, line, nil
}

func tampered(number int, cause error) error {
	return &Failure{ErrCorrupt, fmt.Sprintf("revision %d is no longer what was issued: its contents do not match their hash. Restore the newest backup in which it is whole", number), cause.Error()}
}

func hashOf(body []byte) string {
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:])
}

func pack(body []byte) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestSpeed) // the writer waits meanwhile
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(body); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func unpack(packed []byte) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(z)
}
