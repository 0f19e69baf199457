package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// Undo takes back the newest edit that touches Request.Scope. Where something
// that the edit changed was changed again since, it gives a *ConflictError and
// writes nothing; where nothing is left to undo, ErrNothingToUndo.
func (s *Store) Undo(ctx context.Context, req Request) (Outcome, error) {
	return s.step(ctx, req, true)
}

// Redo does again what was undone last on Request.Scope.
func (s *Store) Redo(ctx context.Context, req Request) (Outcome, error) {
	return s.step(ctx, req, false)
}

func (s *Store) step(ctx context.Context, req Request, back bool) (Outcome, error) {
	if _, err := keyOf(req.Scope); err != nil {
		return Outcome{}, err
	}
	var out Outcome
	err := s.submit(ctx, "undoing an edit", func(w *work) (ran effects, err error) {
		out, ran, err = w.step(req, back)
		return ran, err
	})
	if err != nil {
		return Outcome{}, err
	}
	return out, nil
}

func (w *work) step(req Request, back bool) (Outcome, effects, error) {
	from := w.source()
	find, verb := from.nextUndo, "undo"
	if !back {
		find, verb = from.nextRedo, "redo"
	}
	next, err := find(req.Scope)
	if err != nil {
		return Outcome{}, effects{}, err
	}
	if req.ProjectID != "" && req.ProjectID != next.projectID {
		return Outcome{}, effects{}, notFound("%s is not part of this project", req.Scope)
	}
	changes, err := from.changesOf(next.id, back)
	if err != nil {
		return Outcome{}, effects{}, err
	}
	tx := newTx(w, next.projectID)
	if err := tx.checkBase(req.Base); err != nil {
		return Outcome{}, effects{}, err
	}
	if err := tx.apply(changes); err != nil {
		return Outcome{}, effects{}, tx.conflict(err, verb, next)
	}
	out, err := tx.store(req)
	if errors.Is(err, ErrRefused) {
		return Outcome{}, effects{}, &ConflictError{Said: next.said, Sentence: fmt.Sprintf("cannot %s %q: %s", verb, next.said, err)}
	}
	if err != nil {
		return Outcome{}, effects{}, err
	}
	out.JournalID, out.Said = next.id, next.said
	if err := tx.mark(next.id, back, req.Who); err != nil {
		return Outcome{}, effects{}, err
	}
	if err := tx.writeDocs(); err != nil {
		return Outcome{}, effects{}, err
	}
	if out.Undo, out.Redo, err = from.undoState(req.Scope); err != nil {
		return Outcome{}, effects{}, err
	}
	out.Room, err = tx.roomOf(req.Scope)
	return out, tx.effects(req, out), err
}

func (s source) changesOf(id int64, back bool) (delta.Changes, error) {
	var text string
	if err := s.scan("SELECT changes FROM journal WHERE id = ?", []any{id}, &text); err != nil {
		return nil, err
	}
	var changes delta.Changes
	if err := json.Unmarshal([]byte(text), &changes); err != nil {
		return nil, &Failure{ErrCorrupt, fmt.Sprintf("entry %d of the journal cannot be read: restore the newest backup", id), err.Error()}
	}
	if back {
		changes = changes.Inverse()
	}
	return changes, nil
}

func (tx *Tx) mark(id int64, back bool, who string) error {
	state, at := Done, ""
	if back {
		state, at = Undone, stamp(tx.w.s.now())
	} else {
		who = ""
	}
	_, err := tx.w.exec("UPDATE journal SET state = ?, undone_at = ?, undone_by = ? WHERE id = ?", string(state), at, who, id)
	return err
}

// apply carries out changes of a scope on copies of the documents that they
// name, and puts what comes out. A change whose "before" is not what is there
// gives a *delta.Conflict.
func (tx *Tx) apply(changes delta.Changes) error {
	var scope domain.Scope
	named, err := tx.gather(changes, &scope)
	if err != nil {
		return err
	}
	if err := applyByDocument(&scope, changes); err != nil {
		return err
	}
	if named[key{aProject, tx.id}] {
		if err := tx.PutProject(&scope.Project); err != nil {
			return err
		}
	}
	for i := range scope.Typicals {
		tx.typicals[scope.Typicals[i].ID].after = &scope.Typicals[i]
		delete(named, key{aTypical, scope.Typicals[i].ID})
	}
	for i := range scope.Plans {
		tx.plans[scope.Plans[i].ID].after = &scope.Plans[i]
		delete(named, key{aPlan, scope.Plans[i].ID})
	}
	for i := range scope.Rooms {
		tx.rooms[scope.Rooms[i].ID].after = &scope.Rooms[i]
		delete(named, key{aRoom, scope.Rooms[i].ID})
	}
	for k := range named {
		switch k.kind {
		case aTypical:
			tx.typicals[k.id].removed = true
		case aPlan:
			tx.plans[k.id].removed = true
		case aRoom:
			tx.rooms[k.id].removed = true
		}
	}
	return nil
}

// applyByDocument carries out changes of a scope one document at a time: a
// change looks through the whole list that it names, and an edit of thousands
// of rooms has thousands of changes.
func applyByDocument(scope *domain.Scope, changes delta.Changes) error {
	var project delta.Changes
	var order []string
	of := map[string]delta.Changes{} // "rooms/r1": its changes
	for _, c := range changes {
		if strings.HasPrefix(c.Path, "project/") {
			project = append(project, c)
			continue
		}
		document := c.Part(2)
		if of[document] == nil {
			order = append(order, document)
		}
		of[document] = append(of[document], c)
	}
	if err := delta.Apply(scope, project); err != nil {
		return err
	}
	alone := map[string]*domain.Scope{}
	for i := range scope.Typicals {
		alone["typicals/"+string(scope.Typicals[i].ID)] = &domain.Scope{Typicals: scope.Typicals[i : i+1 : i+1]}
	}
	for i := range scope.Plans {
		alone["plans/"+string(scope.Plans[i].ID)] = &domain.Scope{Plans: scope.Plans[i : i+1 : i+1]}
	}
	for i := range scope.Rooms {
		alone["rooms/"+string(scope.Rooms[i].ID)] = &domain.Scope{Rooms: scope.Rooms[i : i+1 : i+1]}
	}
	var typicals []domain.Typical
	var plans []domain.Plan
	var rooms []domain.Room
	for _, document := range order {
		one := alone[document]
		if one == nil {
			one = &domain.Scope{}
		}
		if err := delta.Apply(one, of[document]); err != nil {
			return err
		}
		typicals, plans, rooms = append(typicals, one.Typicals...), append(plans, one.Plans...), append(rooms, one.Rooms...)
	}
	scope.Typicals, scope.Plans, scope.Rooms = typicals, plans, rooms
	return nil
}

// gather fills the scope with copies of the documents that changes name, those
// that are there, and gives all their keys.
func (tx *Tx) gather(changes delta.Changes, scope *domain.Scope) (map[key]bool, error) {
	named := map[key]bool{}
	for _, c := range changes {
		k, err := tx.named(c)
		if err != nil {
			return nil, err
		}
		named[k] = true
	}
	ids := make([]domain.ID, 0, len(named))
	for k := range named {
		switch k.kind {
		case aProject:
			p, err := tx.Project()
			if err != nil {
				return nil, err
			}
			scope.Project = *p
		case aTypical:
			if err := tx.gatherTypical(k.id, scope); err != nil {
				return nil, err
			}
		case aPlan:
			if err := tx.gatherPlan(k.id, scope); err != nil {
				return nil, err
			}
		case aRoom:
			ids = append(ids, k.id)
		}
	}
	return named, tx.gatherRooms(ids, scope)
}

func (tx *Tx) gatherTypical(id domain.ID, scope *domain.Scope) error {
	t, err := tx.typicalNow(id)
	if errors.Is(err, ErrNotFound) {
		tx.typicals[id] = &typicalEdit{id: id}
		return nil
	}
	if err != nil {
		return err
	}
	scope.Typicals = append(scope.Typicals, *deepCopy(t.now()))
	return nil
}

func (tx *Tx) gatherRooms(ids []domain.ID, scope *domain.Scope) error {
	if len(ids) == 0 {
		return nil
	}
	rooms, err := tx.pickRooms(Pick{IDs: ids})
	if err != nil {
		return err
	}
	for _, r := range rooms {
		scope.Rooms = append(scope.Rooms, *r.now().Clone())
	}
	for _, id := range ids {
		if tx.rooms[id] == nil {
			tx.rooms[id] = &roomEdit{head: head{id: id}}
		}
	}
	return nil
}

func (tx *Tx) named(c delta.Change) (key, error) {
	list, below, _ := strings.Cut(c.Path, "/")
	id, _, _ := strings.Cut(below, "/")
	switch list {
	case "project":
		return key{aProject, tx.id}, nil
	case "typicals":
		return key{aTypical, domain.ID(id)}, nil
	case "plans":
		return key{aPlan, domain.ID(id)}, nil
	case "rooms":
		return key{aRoom, domain.ID(id)}, nil
	}
	return key{}, &Failure{ErrCorrupt, fmt.Sprintf("the journal names %q, which this program does not know: restore the newest backup", c.Path), ""}
}

// conflict says in a sentence what changed meanwhile, and by whose edit.
func (tx *Tx) conflict(err error, verb string, next step) error {
	lost, ok := err.(*delta.Conflict)
	if !ok {
		return err
	}
	k, keyErr := tx.named(delta.Change{Path: lost.Path})
	if keyErr != nil {
		return keyErr
	}
	sentence := fmt.Sprintf("cannot %s %q: %s", verb, next.said, tx.whatChanged(k, lost))
	var who, said string
	later := tx.from.scan(`SELECT j.who, j.said FROM journal_touches t JOIN journal j ON j.id = t.journal_id
		WHERE t.subject = ? AND j.state = 'done' AND j.id <> ? ORDER BY j.id DESC LIMIT 1`, []any{k.subject(), next.id}, &who, &said)
	if later == nil {
		sentence += fmt.Sprintf(" The newest edit there is %q by %s: undo that first, or change it by hand.", said, orSomeone(who))
	}
	return &ConflictError{Said: next.said, Path: lost.Path, Sentence: sentence}
}

func (tx *Tx) whatChanged(k key, lost *delta.Conflict) string {
	what := "the project"
	switch {
	case k.kind == aTypical && tx.typicals[k.id] != nil && tx.typicals[k.id].now() != nil:
		what = "typical " + tx.typicals[k.id].now().Name
	case k.kind == aTypical:
		what = "a typical"
	case k.kind == aPlan:
		what = tx.planName(k.id)
	case k.kind == aRoom && tx.rooms[k.id] != nil && tx.rooms[k.id].now() != nil:
		what = "room " + tx.rooms[k.id].now().Number
	case k.kind == aRoom:
		what = "a room"
	}
	if lost.Missing {
		return "what it changed in " + what + " has been removed since."
	}
	steps := strings.Split(lost.Path, "/")
	return fmt.Sprintf("%s has changed since (%s).", what, strings.ReplaceAll(steps[len(steps)-1], "_", " "))
}

// planName gives "the plan of Level 2".
func (tx *Tx) planName(storeyID domain.ID) string {
	if p, err := tx.projectNow(); err == nil {
		if _, storey := p.now().FindStorey(storeyID); storey != nil {
			return "the plan of " + storey.Name
		}
	}
	return "a plan"
}

func orSomeone(who string) string {
	if who == "" {
		return "someone"
	}
	return who
}
