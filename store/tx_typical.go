package store

import (
	"database/sql"
	"errors"
	"fmt"

	"scopewright/domain"
)

// Typical gives a copy of a typical to change and put back.
func (tx *Tx) Typical(id domain.ID) (*domain.Typical, error) {
	t, err := tx.typicalNow(id)
	if err != nil {
		return nil, err
	}
	return deepCopy(t.now()), nil
}

// Typicals gives copies of all typicals in their order, as the edit has left
// them.
func (tx *Tx) Typicals() ([]*domain.Typical, error) {
	if err := tx.readTypicals(); err != nil {
		return nil, err
	}
	var out []*domain.Typical
	for _, t := range tx.typicals {
		if now := t.now(); now != nil {
			out = append(out, deepCopy(now))
		}
	}
	sortTypicals(out)
	return out, nil
}

func (tx *Tx) readTypicals() error {
	if tx.allKnown {
		return nil
	}
	entries, err := tx.from.typicalsOf(tx.id)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if tx.typicals[e.id] == nil {
			tx.typicals[e.id] = &typicalEdit{id: e.id, revision: e.revision}
		}
		if t := tx.typicals[e.id]; t.before == nil {
			t.before = e
		}
	}
	tx.allKnown = true
	return nil
}

// PutTypical stores a typical that is there.
func (tx *Tx) PutTypical(t *domain.Typical) error {
	edit, err := tx.typicalNow(t.ID)
	if err != nil {
		return err
	}
	edit.after = t
	return nil
}

// AddTypical stores a new typical.
func (tx *Tx) AddTypical(t *domain.Typical) error {
	if !t.ID.Valid() {
		return fmt.Errorf("store: %q is no ID for a typical", t.ID)
	}
	if edit := tx.typicals[t.ID]; edit != nil && edit.removed {
		edit.removed, edit.after = false, t
		return nil
	}
	if edit, err := tx.typicalNow(t.ID); err == nil && edit.now() != nil {
		return refuse("typical %s is there already", t.Name)
	} else if err != nil && !errors.Is(err, ErrNotFound) {
		return err
	}
	tx.typicals[t.ID] = &typicalEdit{id: t.ID, after: t}
	return nil
}

// RemoveTypical removes a typical that no room follows.
func (tx *Tx) RemoveTypical(id domain.ID) error {
	edit, err := tx.typicalNow(id)
	if err != nil {
		return err
	}
	edit.removed, edit.after = true, nil
	return nil
}

func (e *typicalEdit) now() *domain.Typical {
	switch {
	case e.removed:
		return nil
	case e.after != nil:
		return e.after
	case e.before != nil:
		return e.before.typical
	}
	return nil
}

// entry is the typical as it is stored now.
func (e *typicalEdit) entry() *entry {
	if e.written != nil {
		return e.written
	}
	return e.before
}

// typicalNow gives a typical that is there, with its document.
func (tx *Tx) typicalNow(id domain.ID) (*typicalEdit, error) {
	edit := tx.typicals[id]
	if edit == nil {
		edit = &typicalEdit{id: id}
		var owner domain.ID
		err := tx.from.scan("SELECT project_id, revision FROM typicals WHERE id = ?", []any{id}, &owner, &edit.revision)
		if errors.Is(err, sql.ErrNoRows) || err == nil && owner != tx.id {
			return nil, notFound("the project has no typical %s: it may have been removed", id)
		}
		if err != nil {
			return nil, err
		}
		tx.typicals[id] = edit
	}
	if edit.revision > 0 && edit.before == nil {
		var err error
		if edit.before, err = tx.from.typical(id, edit.revision); err != nil {
			return nil, err
		}
	}
	if edit.now() == nil {
		return nil, notFound("the project has no typical %s: it may have been removed", id)
	}
	return edit, nil
}
