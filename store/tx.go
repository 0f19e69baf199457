package store

import (
	"fmt"

	"scopewright/domain"
)

// Tx is what an edit reads and writes. What it gives is the edit's own copy
// unless it says otherwise; only what is put back is stored, and belongs to the
// store from then on: it must not be changed after the edit has returned.
type Tx struct {
	w    *work
	from source
	id   domain.ID // of the project

	project  *projectEdit
	typicals map[domain.ID]*typicalEdit
	rooms    map[domain.ID]*roomEdit
	plans    map[domain.ID]*planEdit // by storey
	allKnown bool                    // the typicals map holds all of the project

	noneUndone bool // nothing in the project could be redone
}

type projectEdit struct {
	before  *entry
	after   *domain.Project // nil: not put
	written *entry          // once stored
}

type typicalEdit struct {
	id       domain.ID
	revision int64  // 0: not there before
	before   *entry // nil: not read yet, or not there before
	after    *domain.Typical
	removed  bool
	written  *entry // once stored
}

type roomEdit struct {
	head           // revision 0: not there before
	before  *entry // nil: not read yet, or not there before
	after   *domain.Room
	removed bool
	written *entry // once stored
}

func newTx(w *work, projectID domain.ID) *Tx {
	return &Tx{w: w, from: w.source(), id: projectID, typicals: map[domain.ID]*typicalEdit{}, rooms: map[domain.ID]*roomEdit{}, plans: map[domain.ID]*planEdit{}}
}

// ReadProject gives the project as the edit has left it. The value is shared:
// read it only.
func (tx *Tx) ReadProject() (*domain.Project, error) {
	p, err := tx.projectNow()
	if err != nil {
		return nil, err
	}
	return p.now(), nil
}

// Project gives a copy of the project to change and put back.
func (tx *Tx) Project() (*domain.Project, error) {
	p, err := tx.projectNow()
	if err != nil {
		return nil, err
	}
	return deepCopy(p.now()), nil
}

// PutProject stores the project.
func (tx *Tx) PutProject(p *domain.Project) error {
	edit, err := tx.projectNow()
	if err != nil {
		return err
	}
	if p.ID != tx.id {
		return fmt.Errorf("store: project %s cannot be put in place of %s", p.ID, tx.id)
	}
	edit.after = p
	return nil
}

func (e *projectEdit) now() *domain.Project {
	if e.after != nil {
		return e.after
	}
	return e.before.project
}

// entry is the project as it is stored now.
func (e *projectEdit) entry() *entry {
	if e.written != nil {
		return e.written
	}
	return e.before
}

func (tx *Tx) projectNow() (*projectEdit, error) {
	if tx.project != nil {
		return tx.project, nil
	}
	e, err := tx.from.projectNow(tx.id)
	if err != nil {
		return nil, err
	}
	tx.project = &projectEdit{before: e}
	return tx.project, nil
}
