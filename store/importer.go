package store

import (
	"database/sql"
	"errors"

	"scopewright/domain"
)

// importer writes one whole scope.
type importer struct {
	w         *work
	scope     *domain.Scope
	who, said string
	progress  func(done, total int)

	marks     map[domain.ID]reviewMark
	typicals  map[domain.ID]*domain.Typical
	revisions map[string]int64
	gone      []key
}

func (i *importer) run(replace bool) (effects, error) {
	i.revisions = map[string]int64{}
	if err := i.makeRoom(replace); err != nil {
		return effects{}, err
	}
	if err := i.writeTypicals(); err != nil {
		return effects{}, err
	}
	if err := i.writePlans(); err != nil {
		return effects{}, err
	}
	if err := i.writeReviews(); err != nil {
		return effects{}, err
	}
	for from := 0; from < len(i.scope.Rooms); from += refreshAtOnce {
		to := min(from+refreshAtOnce, len(i.scope.Rooms))
		if err := i.writeRooms(i.scope.Rooms[from:to]); err != nil {
			return effects{}, err
		}
		if i.progress != nil {
			i.progress(to, len(i.scope.Rooms))
		}
	}
	if err := i.note(); err != nil {
		return effects{}, err
	}
	return effects{gone: i.gone, events: []Event{{ProjectID: i.scope.Project.ID, Subjects: i.revisions, Who: i.who}}}, nil
}

// makeRoom takes away what the scope replaces and writes the project's row.
func (i *importer) makeRoom(replace bool) error {
	p, now := &i.scope.Project, stamp(i.w.s.now())
	doc, err := encode(p)
	if err != nil {
		return err
	}
	subject := key{aProject, p.ID}.subject()
	old, err := i.w.source().projectNow(p.ID)
	switch {
	case errors.Is(err, ErrNotFound):
		revision, err := i.w.firstRevision(subject)
		if err != nil {
			return err
		}
		i.revisions[subject] = revision
		_, err = i.w.exec("INSERT INTO projects (id, name, number, revision, created_at, updated_at, doc) VALUES (?, ?, ?, ?, ?, ?, ?)",
			p.ID, p.Name, p.Number, revision, now, now, string(doc))
		return err
	case err != nil:
		return err
	case !replace:
		return &Failure{ErrExists, "project " + old.project.Name + " is in the database already: say that it is to be replaced, or import it into another database", ""}
	}
	if i.gone, err = i.w.clear(p.ID, false); err != nil {
		return err
	}
	for _, k := range i.gone {
		i.revisions[k.subject()] = 0
	}
	i.revisions[subject] = old.revision + 1
	_, err = i.w.exec("UPDATE projects SET name = ?, number = ?, revision = ?, updated_at = ?, doc = ? WHERE id = ?", p.Name, p.Number, old.revision+1, now, string(doc), p.ID)
	if err != nil {
		return err
	}
	_, err = i.w.exec("UPDATE journal SET state = 'dropped' WHERE project_id = ? AND state IN ('done', 'undone')", p.ID)
	return err
}

func (i *importer) writeTypicals() error {
	i.typicals = map[domain.ID]*domain.Typical{}
	for at := range i.scope.Typicals {
		t := &i.scope.Typicals[at]
		i.typicals[t.ID] = t
		if err := i.free("typicals", t.ID, t.Name); err != nil {
			return err
		}
		doc, err := encode(t)
		if err != nil {
			return err
		}
		subject := key{aTypical, t.ID}.subject()
		if i.revisions[subject], err = i.w.firstRevision(subject); err != nil {
			return err
		}
		_, err = i.w.exec("INSERT INTO typicals (id, project_id, seq, name, revision, doc) VALUES (?, ?, ?, ?, ?, ?)", t.ID, i.scope.Project.ID, t.Seq, t.Name, i.revisions[subject], string(doc))
		if err != nil {
			return err
		}
	}
	return nil
}

func (i *importer) writePlans() error {
	for at := range i.scope.Plans {
		p := &i.scope.Plans[at]
		if blank(p) {
			continue
		}
		_, storey := i.scope.Project.FindStorey(p.ID)
		if err := i.free("plans", p.ID, "storey "+storey.Name); err != nil {
			return err
		}
		doc, err := encode(p)
		if err != nil {
			return err
		}
		if i.revisions[PlanSubject(p.ID)], err = i.w.insertPlan(i.scope.Project.ID, p.ID, string(doc)); err != nil {
			return err
		}
	}
	return nil
}

// free refuses an ID that another project uses.
func (i *importer) free(table string, id domain.ID, name string) error {
	var other string
	err := i.w.scan("SELECT p.name FROM "+table+" x JOIN projects p ON p.id = x.project_id WHERE x.id = ?", []any{id}, &other)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return refuse("%s has an ID that project %s uses already: import this file into another database, or as a copy with IDs of its own", name, other)
}

func (i *importer) writeReviews() error {
	for _, r := range i.scope.Reviews {
		if err := i.free("reviews", r.ID, "a review step"); err != nil {
			return err
		}
		if err := i.w.insertReview(i.scope.Project.ID, r); err != nil {
			return err
		}
	}
	i.marks = map[domain.ID]reviewMark{}
	for _, o := range i.scope.SignOffs {
		if err := i.free("sign_offs", o.ID, "a sign-off"); err != nil {
			return err
		}
		if err := i.w.insertSignOff(i.scope.Project.ID, o); err != nil {
			return err
		}
		i.marks[o.RoomID] = reviewMark{}
	}
	for _, r := range i.scope.Reviews {
		i.marks[r.RoomID] = reviewMark{}
	}
	for id := range i.marks {
		mark, err := i.w.source().reviewMark(i.scope.Project.ID, id)
		if err != nil {
			return err
		}
		i.marks[id] = mark
	}
	return nil
}

// brought is one room ready to be written.
type brought struct {
	doc      string
	circuits []domain.CircuitShare
	listed
}

func (i *importer) writeRooms(rooms []domain.Room) error {
	ready := make([]brought, len(rooms))
	err := inParallel(len(rooms), func(at int) error {
		r := &rooms[at]
		resolved, err := domain.Resolve(r, i.typicals[r.TypicalID])
		if err != nil {
			return refuse("%v", err)
		}
		resolved = resolved.OnPlan(i.scope.Plan(r.StoreyID))
		doc, err := encode(r)
		ready[at].doc, ready[at].circuits = string(doc), domain.CircuitShares(&i.scope.Project, &resolved.Design)
		ready[at].sums, ready[at].stale = i.w.s.judged(&i.scope.Project, resolved, i.marks[r.ID].signedHash)
		return err
	})
	if err != nil {
		return err
	}
	for at := range rooms {
		r := &rooms[at]
		if err := i.free("rooms", r.ID, "room "+r.Number); err != nil {
			return err
		}
		subject := key{aRoom, r.ID}.subject()
		if i.revisions[subject], err = i.w.firstRevision(subject); err != nil {
			return err
		}
		if err := i.w.insertRoom(i.scope.Project.ID, r, i.revisions[subject], ready[at].sums, i.marks[r.ID], ready[at].stale); err != nil {
			return err
		}
		if err := i.w.writeDoc(r.ID, ready[at].doc, true); err != nil {
			return err
		}
		if err := i.w.writeCircuits(i.scope.Project.ID, r.ID, ready[at].circuits, true); err != nil {
			return err
		}
	}
	return nil
}

// note leaves a trace in the journal, which cannot be undone.
func (i *importer) note() error {
	result, err := i.w.exec("INSERT INTO journal (project_id, at, who, said, state, changes) VALUES (?, ?, ?, ?, 'note', 'null')", i.scope.Project.ID, stamp(i.w.s.now()), i.who, i.said)
	if err != nil {
		return err
	}
	id, err := result.LastInsertId()
	if err != nil {
		return err
	}
	_, err = i.w.exec("INSERT INTO journal_touches (subject, journal_id) VALUES (?, ?)", key{aProject, i.scope.Project.ID}.subject(), id)
	return err
}
