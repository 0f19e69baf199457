package store

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
)

type planEdit struct {
	id      domain.ID // of the storey
	before  *entry    // nil: nothing was drawn before
	after   *domain.Plan
	removed bool
	written *entry // once stored
}

// Plan gives a copy of a storey's plan to change and put back, an empty one
// where nothing has been drawn.
func (tx *Tx) Plan(storeyID domain.ID) (*domain.Plan, error) {
	edit, err := tx.planOf(storeyID)
	if err != nil {
		return nil, err
	}
	if now := edit.now(); now != nil {
		return deepCopy(now), nil
	}
	return &domain.Plan{ID: storeyID}, nil
}

// PutPlan stores a storey's plan. One on which nothing is left is removed.
func (tx *Tx) PutPlan(p *domain.Plan) error {
	edit, err := tx.planOf(p.ID)
	if err != nil {
		return err
	}
	edit.after, edit.removed = p, false
	if blank(p) {
		edit.after, edit.removed = nil, true
	}
	return nil
}

func blank(p *domain.Plan) bool { return p.Empty() && p.North == 0 }

// planOf gives the plan of a storey that the project has.
func (tx *Tx) planOf(storeyID domain.ID) (*planEdit, error) {
	p, err := tx.projectNow()
	if err != nil {
		return nil, err
	}
	if _, storey := p.now().FindStorey(storeyID); storey == nil {
		return nil, noStorey(storeyID)
	}
	return tx.planNow(storeyID)
}

func (tx *Tx) planNow(id domain.ID) (*planEdit, error) {
	if edit := tx.plans[id]; edit != nil {
		return edit, nil
	}
	before, err := tx.from.planNow(tx.id, id)
	if err != nil {
		return nil, err
	}
	tx.plans[id] = &planEdit{id: id, before: before}
	return tx.plans[id], nil
}

func (e *planEdit) now() *domain.Plan {
	switch {
	case e.removed:
		return nil
	case e.after != nil:
		return e.after
	}
	return e.was()
}

func (e *planEdit) was() *domain.Plan {
	if e.before == nil {
		return nil
	}
	return e.before.plan
}

// entry is the plan as it is stored now, nil where nothing is drawn.
func (e *planEdit) entry() *entry {
	switch {
	case e.removed:
		return nil
	case e.written != nil:
		return e.written
	}
	return e.before
}

func (e *planEdit) revision() int64 {
	if e.before == nil {
		return 0
	}
	return e.before.revision
}

// putPlans gives what was put or removed, in order of ID.
func (tx *Tx) putPlans() []*planEdit {
	var out []*planEdit
	for _, p := range tx.plans {
		if p.after != nil || p.removed {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b *planEdit) int { return strings.Compare(string(a.id), string(b.id)) })
	return out
}

// removePlansWithStoreys takes the plan of a storey that the edit removes along,
// so that undoing the edit brings both back.
func (tx *Tx) removePlansWithStoreys() error {
	return tx.eachRemovedStorey(func(storey *domain.Storey) error {
		plan, err := tx.planNow(storey.ID)
		if err == nil {
			plan.after, plan.removed = nil, true
		}
		return err
	})
}

func (tx *Tx) eachRemovedStorey(do func(*domain.Storey) error) error {
	if tx.project == nil || tx.project.after == nil {
		return nil
	}
	buildings := tx.project.before.project.Buildings
	for i := range buildings {
		for j := range buildings[i].Storeys {
			storey := &buildings[i].Storeys[j]
			if _, kept := tx.project.after.FindStorey(storey.ID); kept != nil {
				continue
			}
			if err := do(storey); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkPlans refuses plans without their storey, which can be where an undo
// brings one back.
func (tx *Tx) checkPlans() error {
	for _, p := range tx.putPlans() {
		if _, storey := tx.project.now().FindStorey(p.id); storey == nil && !p.removed {
			return refuse("the storey of this plan has been removed: bring it back first")
		}
	}
	return tx.eachRemovedStorey(func(storey *domain.Storey) error {
		plan, err := tx.planNow(storey.ID)
		if err == nil && plan.now() != nil {
			return refuse("storey %s cannot be removed while something is drawn on its plan: clear the plan first", storey.Name)
		}
		return err
	})
}

func (tx *Tx) writePlan(p *planEdit, revisions map[string]int64) error {
	k := key{aPlan, p.id}
	if p.removed {
		revisions[k.subject()] = 0
		if _, err := tx.w.exec("DELETE FROM plans WHERE id = ?", p.id); err != nil {
			return err
		}
		return tx.w.bury(k.subject(), p.revision())
	}
	doc, err := encode(p.after)
	if err != nil {
		return fmt.Errorf("the plan cannot be stored: %w", err)
	}
	p.written = &entry{key: k, revision: p.revision() + 1, size: len(doc), plan: p.after, pending: true}
	if p.before != nil {
		_, err = tx.w.exec("UPDATE plans SET revision = ?, doc = ? WHERE id = ?", p.written.revision, string(doc), p.id)
	} else {
		p.written.revision, err = tx.w.insertPlan(tx.id, p.id, string(doc))
	}
	revisions[k.subject()] = p.written.revision
	return err
}

// insertPlan stores a storey's first plan, or one that comes back.
func (w *work) insertPlan(projectID, storeyID domain.ID, doc string) (revision int64, err error) {
	var other string
	err = w.scan("SELECT p.name FROM plans x JOIN projects p ON p.id = x.project_id WHERE x.id = ?", []any{storeyID}, &other)
	if err == nil {
		return 0, refuse("this storey has the ID of one that project %s has drawn already: add a new storey and move the rooms to it", other)
	}
	if !errors.Is(err, sql.ErrNoRows) {
		return 0, err
	}
	if revision, err = w.firstRevision(PlanSubject(storeyID)); err != nil {
		return 0, err
	}
	_, err = w.exec("INSERT INTO plans (id, project_id, revision, doc) VALUES (?, ?, ?, ?)", storeyID, projectID, revision, doc)
	return revision, err
}

func (tx *Tx) gatherPlan(id domain.ID, scope *domain.Scope) error {
	p, err := tx.planNow(id)
	if err == nil && p.now() != nil {
		scope.Plans = append(scope.Plans, *deepCopy(p.now()))
	}
	return err
}
