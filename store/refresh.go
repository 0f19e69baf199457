package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// judge gives the numbers of a room as the edit leaves it.
func (tx *Tx) judge(room *entry, signedHash string) (sums, bool, error) {
	resolved, err := tx.resolved(room)
	if err != nil {
		return sums{}, false, err
	}
	sum, stale := tx.w.s.judged(tx.project.now(), resolved, signedHash)
	return sum, stale, nil
}

// resolved settles a room as the edit leaves it.
func (tx *Tx) resolved(room *entry) (*domain.Resolved, error) {
	typical, plan, err := tx.beside(room)
	if err != nil {
		return nil, err
	}
	return room.resolve(typical, plan)
}

// beside gives a room's typical and its storey's plan as the edit leaves them,
// nil for what it does not have.
func (tx *Tx) beside(room *entry) (typical, plan *entry, err error) {
	if id := room.room.TypicalID; id != "" {
		t, err := tx.typicalNow(id)
		if err != nil {
			return nil, nil, err
		}
		typical = t.entry()
	}
	p, err := tx.planNow(room.room.StoreyID)
	if err != nil {
		return nil, nil, err
	}
	return typical, p.entry(), nil
}

// refreshAtOnce bounds how many decoded rooms a large refresh holds.
const refreshAtOnce = 1000

// refreshTurn is how many rooms Refresh judges before others have their turn.
const refreshTurn = 200

// refresh judges again the rooms that were not put themselves but that depend
// on what was: the followers of changed typicals, the rooms of a storey whose
// plan changed, or all rooms of the project.
func (tx *Tx) refresh(changes delta.Changes) error {
	var heads []head
	var err error
	moved := onlyPlans(changes)
	if changesJudgement(changes, tx.project.now().CodePack) {
		heads, err = tx.from.heads(tx.id, Pick{})
	} else {
		for _, t := range tx.putTypicals() {
			if t.before != nil && err == nil {
				heads, err = tx.from.headsWhere(heads, "typical_id = ?", []any{t.id})
			}
		}
		for _, p := range tx.putPlans() {
			if err == nil {
				heads, err = tx.from.headsWhere(heads, "project_id = ? AND storey_id = ?", []any{tx.id, p.id})
			}
		}
	}
	if err != nil || len(heads) == 0 {
		return err
	}
	slices.SortFunc(heads, func(a, b head) int { return strings.Compare(string(a.id), string(b.id)) })
	heads = slices.CompactFunc(heads, func(a, b head) bool { return a.id == b.id })
	heads = slices.DeleteFunc(heads, func(h head) bool { r := tx.rooms[h.id]; return r != nil && r.written != nil })
	if err := tx.readTypicals(); err != nil {
		return err
	}
	from := tx.from
	if len(heads) > refreshAtOnce {
		from.keep = func(e *entry) *entry { return e }
	}
	for chunk := range slices.Chunk(heads, refreshAtOnce) {
		if err := tx.refreshSome(from, chunk, moved); err != nil {
			return err
		}
	}
	return nil
}

// onlyPlans tells that nothing but plans and single rooms changed.
func onlyPlans(changes delta.Changes) bool {
	return !slices.ContainsFunc(changes, func(c delta.Change) bool {
		return strings.HasPrefix(c.Path, "typicals/") || strings.HasPrefix(c.Path, "project/")
	})
}

// listed is what a row shows now.
type listed struct {
	sums
	stale bool
}

// refreshSome judges rooms anew; where moved is set, only those around which a
// wall changed.
func (tx *Tx) refreshSome(from source, heads []head, moved bool) error {
	rooms, err := from.rooms(heads)
	if err != nil {
		return err
	}
	resolved := make([]*domain.Resolved, 0, len(rooms))
	var concerned []head
	for i, e := range rooms {
		typical, plan, err := tx.beside(e)
		if err != nil {
			return err
		}
		var was *domain.Resolved
		if moved {
			if was, err = e.resolve(typical, tx.plans[e.room.StoreyID].before); err != nil {
				return err
			}
		}
		now, err := e.resolve(typical, plan)
		if err != nil {
			return err
		}
		if was != now {
			resolved, concerned = append(resolved, now), append(concerned, heads[i])
		}
	}
	if len(concerned) == 0 {
		return nil
	}
	heads = concerned
	shown, err := from.listed(heads)
	if err != nil {
		return err
	}
	fresh := make([]listed, len(heads))
	project := tx.project.now()
	err = inParallel(len(heads), func(i int) error {
		fresh[i].sums, fresh[i].stale = tx.w.s.judged(project, resolved[i], heads[i].signedHash)
		return nil
	})
	if err != nil {
		return err
	}
	if !moved { // walls feed no load
		if err := tx.refreshCircuits(from, heads, resolved); err != nil {
			return err
		}
	}
	for i, h := range heads {
		if fresh[i] == shown[h.id] {
			continue
		}
		args := append(fresh[i].args(), asInt(fresh[i].stale), h.id)
		if _, err := tx.w.exec("UPDATE rooms SET "+setSums+", stale = ? WHERE id = ?", args...); err != nil {
			return err
		}
	}
	return nil
}

func (s source) listed(heads []head) (map[domain.ID]listed, error) {
	ids := make([]domain.ID, len(heads))
	for i, h := range heads {
		ids[i] = h.id
	}
	args := padded(ids)
	rows, err := s.query("SELECT id, stale, "+sumColumns+" FROM rooms WHERE id IN ("+marks(len(args))+")", args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := make(map[domain.ID]listed, len(heads))
	for rows.Next() {
		var id domain.ID
		var row listed
		if err := rows.Scan(append([]any{&id, &row.stale}, row.into()...)...); err != nil {
			return nil, err
		}
		out[id] = row
	}
	return out, rows.Err()
}

// Refresh works the rooms' numbers out again where another judgement than
// Options.Judgement gave them, as after an update of the program or on another
// day, and tells how many rooms it looked at. Edits may go on meanwhile.
func (s *Store) Refresh(ctx context.Context) (rooms int, err error) {
	var by string
	err = s.one(ctx, "SELECT by_rules FROM judged", nil, &by)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return 0, s.translate(err, "judging again")
	}
	now := ""
	if s.options.Judgement != nil {
		now = s.options.Judgement()
	}
	if err == nil && by == now && by != "" {
		return 0, nil
	}
	projects, err := s.Projects(ctx)
	if err != nil {
		return 0, err
	}
	for _, p := range projects {
		n, err := s.refreshProject(ctx, p.ID)
		rooms += n
		if err != nil && !errors.Is(err, ErrNotFound) { // it may have been removed meanwhile
			return rooms, err
		}
	}
	return rooms, s.submit(ctx, "judging again", func(w *work) (effects, error) {
		_, err := w.exec("INSERT INTO judged (only_row, by_rules) VALUES (1, ?) ON CONFLICT (only_row) DO UPDATE SET by_rules = excluded.by_rules", now)
		return effects{}, err
	})
}

// refreshProject takes a turn for each some hundred rooms, so that nobody waits
// long behind it.
func (s *Store) refreshProject(ctx context.Context, id domain.ID) (rooms int, err error) {
	var heads []head
	err = s.view(ctx, "judging again", func(v source) (err error) {
		heads, err = v.heads(id, Pick{})
		return err
	})
	if err != nil {
		return 0, err
	}
	for some := range slices.Chunk(heads, refreshTurn) {
		ids := make([]domain.ID, len(some))
		for i, h := range some {
			ids[i] = h.id
		}
		err := s.submit(ctx, "judging again", func(w *work) (effects, error) {
			tx := newTx(w, id)
			if _, err := tx.projectNow(); err != nil {
				return effects{}, err
			}
			if err := tx.readTypicals(); err != nil {
				return effects{}, err
			}
			now, err := tx.from.heads(id, Pick{IDs: ids})
			if err != nil || len(now) == 0 {
				return effects{}, err
			}
			return effects{}, tx.refreshSome(tx.from, now, false)
		})
		if err != nil {
			return rooms, err
		}
		rooms += len(some)
	}
	return rooms, nil
}
