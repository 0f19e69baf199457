package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync"

	"scopewright/domain"
)

// source is where documents are read from: a reader's snapshot, or the
// writer's transaction. Both look among the decoded ones first.
type source struct {
	query func(query string, args ...any) (*sql.Rows, error)
	scan  func(query string, args []any, into ...any) error
	held  func(key, int64) *entry
	keep  func(*entry) *entry
}

func (w *work) source() source {
	return source{w.query, w.scan, w.held, func(e *entry) *entry {
		w.fresh[e.key], w.read = e, append(w.read, e.key)
		return e
	}}
}

func (s source) project(id domain.ID, revision int64) (*entry, error) {
	if e := s.held(key{aProject, id}, revision); e != nil {
		return e, nil
	}
	var doc string
	if err := s.scan("SELECT doc FROM projects WHERE id = ?", []any{id}, &doc); err != nil {
		return nil, err
	}
	e := &entry{key: key{aProject, id}, revision: revision, size: len(doc), project: new(domain.Project)}
	return e, s.decoded(&e, doc, e.project)
}

func (s source) typical(id domain.ID, revision int64) (*entry, error) {
	if e := s.held(key{aTypical, id}, revision); e != nil {
		return e, nil
	}
	var doc string
	if err := s.scan("SELECT doc FROM typicals WHERE id = ?", []any{id}, &doc); err != nil {
		return nil, err
	}
	e := &entry{key: key{aTypical, id}, revision: revision, size: len(doc), typical: new(domain.Typical)}
	return e, s.decoded(&e, doc, e.typical)
}

func (s source) room(id domain.ID, revision int64) (*entry, error) {
	if e := s.held(key{aRoom, id}, revision); e != nil {
		return e, nil
	}
	var doc string
	if err := s.scan("SELECT doc FROM room_docs WHERE room_id = ?", []any{id}, &doc); err != nil {
		return nil, err
	}
	e := &entry{key: key{aRoom, id}, revision: revision, size: len(doc), room: new(domain.Room)}
	return e, s.decoded(&e, doc, e.room)
}

// decoded reads the document and puts the entry among the held ones.
func (s source) decoded(e **entry, doc string, into any) error {
	if err := decode((*e).key, doc, into); err != nil {
		return err
	}
	*e = s.keep(*e)
	return nil
}

func decode(k key, doc string, into any) error {
	if err := json.Unmarshal([]byte(doc), into); err != nil {
		return &Failure{ErrCorrupt, fmt.Sprintf("the stored %s cannot be read: keep a copy of the database as it is, and restore the newest backup", k.subject()), err.Error()}
	}
	return nil
}

func (k key) subject() string {
	switch k.kind {
	case aProject:
		return "project:" + string(k.id)
	case aTypical:
		return "typical:" + string(k.id)
	case aPlan:
		return "plan:" + string(k.id)
	default:
		return "room:" + string(k.id)
	}
}

func keyOf(subject string) (key, error) {
	name, id, ok := strings.Cut(subject, ":")
	if ok && id != "" {
		switch name {
		case "project":
			return key{aProject, domain.ID(id)}, nil
		case "typical":
			return key{aTypical, domain.ID(id)}, nil
		case "plan":
			return key{aPlan, domain.ID(id)}, nil
		case "room":
			return key{aRoom, domain.ID(id)}, nil
		}
	}
	return key{}, fmt.Errorf("store: %q is no subject: use project:ID, typical:ID, plan:ID or room:ID", subject)
}

// ProjectSubject, TypicalSubject, PlanSubject and RoomSubject name what an edit
// is made on; a plan goes by the ID of its storey.
func ProjectSubject(id domain.ID) string { return key{aProject, id}.subject() }
func TypicalSubject(id domain.ID) string { return key{aTypical, id}.subject() }
func PlanSubject(id domain.ID) string    { return key{aPlan, id}.subject() }
func RoomSubject(id domain.ID) string    { return key{aRoom, id}.subject() }

// head is what must be known of a room before its document is looked for.
type head struct {
	id         domain.ID
	revision   int64
	typicalID  domain.ID
	signedHash string
}

// atOnce is how many documents one query fetches.
const atOnce = 500

// rooms gives the documents of many rooms in the order of the heads, with one
// query for each five hundred that are not held.
func (s source) rooms(heads []head) ([]*entry, error) {
	out := make([]*entry, len(heads))
	missing := map[domain.ID]int{}
	for i, h := range heads {
		if out[i] = s.held(key{aRoom, h.id}, h.revision); out[i] == nil {
			missing[h.id] = i
		}
	}
	ids := make([]domain.ID, 0, min(len(missing), atOnce))
	for i, h := range heads {
		if out[i] == nil {
			ids = append(ids, h.id)
		}
		if len(ids) == atOnce || i == len(heads)-1 && len(ids) > 0 {
			if err := s.fetch(ids, heads, missing, out); err != nil {
				return nil, err
			}
			ids = ids[:0]
		}
	}
	return out, nil
}

func (s source) fetch(ids []domain.ID, heads []head, at map[domain.ID]int, out []*entry) error {
	listed := padded(ids)
	rows, err := s.query("SELECT room_id, doc FROM room_docs WHERE room_id IN ("+marks(len(listed))+")", listed...)
	if err != nil {
		return err
	}
	defer rows.Close()
	docs := make([]string, 0, len(ids))
	places := make([]int, 0, len(ids))
	for rows.Next() {
		var id domain.ID
		var doc string
		if err := rows.Scan(&id, &doc); err != nil {
			return err
		}
		docs, places = append(docs, doc), append(places, at[id])
	}
	if err := rows.Err(); err != nil {
		return err
	}
	if len(docs) != len(ids) {
		return &Failure{ErrCorrupt, "the database lists rooms whose contents are missing: keep a copy of it as it is, and restore the newest backup", ""}
	}
	return s.decodeAll(docs, places, heads, out)
}

func (s source) decodeAll(docs []string, places []int, heads []head, out []*entry) error {
	err := inParallel(len(docs), func(i int) error {
		h := heads[places[i]]
		e := &entry{key: key{aRoom, h.id}, revision: h.revision, size: len(docs[i]), room: new(domain.Room)}
		out[places[i]] = e
		return decode(e.key, docs[i], e.room)
	})
	if err != nil {
		return err
	}
	for _, place := range places {
		out[place] = s.keep(out[place])
	}
	return nil
}

// inParallel calls do for 0 to n-1 on all cores and joins what failed first.
func inParallel(n int, do func(int) error) error {
	workers := min(runtime.GOMAXPROCS(0), (n+31)/32)
	errs := make([]error, max(1, workers))
	if workers <= 1 {
		for i := 0; i < n && errs[0] == nil; i++ {
			errs[0] = do(i)
		}
		return errs[0]
	}
	var wg sync.WaitGroup
	for k := range workers {
		wg.Go(func() {
			for i := n * k / workers; i < n*(k+1)/workers && errs[k] == nil; i++ {
				errs[k] = do(i)
			}
		})
	}
	wg.Wait()
	return errors.Join(errs...)
}

// padded repeats the last ID up to a power of two, so that few different
// statements need to be prepared.
func padded[T any](ids []T) []any {
	size := 1
	for size < len(ids) {
		size *= 2
	}
	out := make([]any, size)
	for i := range out {
		out[i] = ids[min(i, len(ids)-1)]
	}
	return out
}

func marks(n int) string { return strings.TrimSuffix(strings.Repeat("?,", n), ",") }
