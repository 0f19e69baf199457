package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
)

func encode(v any) (json.RawMessage, error) { return json.Marshal(v) }

// store writes what the edit changed, with the numbers that lists show of it,
// and leaves the rooms' documents to writeDocs. It gives an outcome without changes where there are none.
func (tx *Tx) store(req Request) (Outcome, error) {
	if err := checkScope(req.Scope); err != nil {
		return Outcome{}, err
	}
	if _, err := tx.projectNow(); err != nil {
		return Outcome{}, err
	}
	changes, err := tx.differences()
	if err != nil || len(changes) == 0 {
		return Outcome{}, err
	}
	if err := tx.checkRooms(); err != nil {
		return Outcome{}, err
	}
	if err := tx.checkPlans(); err != nil {
		return Outcome{}, err
	}
	out := Outcome{Changed: true, Changes: changes, Revisions: map[string]int64{}}
	if err := tx.writeProject(out.Revisions); err != nil {
		return Outcome{}, err
	}
	for _, t := range tx.putTypicals() {
		if err := tx.writeTypical(t, out.Revisions); err != nil {
			return Outcome{}, err
		}
	}
	for _, p := range tx.putPlans() {
		if err := tx.writePlan(p, out.Revisions); err != nil {
			return Outcome{}, err
		}
	}
	for _, r := range tx.putRooms() {
		if err := tx.writeRoom(r, out.Revisions); err != nil {
			return Outcome{}, err
		}
	}
	if err := tx.checkRemoved(); err != nil {
		return Outcome{}, err
	}
	if err := tx.refresh(changes); err != nil {
		return Outcome{}, err
	}
	out.Touched = touched(req, out.Revisions)
	return out, nil
}

func (tx *Tx) writeProject(revisions map[string]int64) error {
	p := tx.project
	if p.after == nil {
		return nil
	}
	doc, err := encode(p.after)
	if err != nil {
		return err
	}
	e := &entry{key: key{aProject, tx.id}, revision: p.before.revision + 1, size: len(doc), project: p.after, pending: true}
	_, err = tx.w.exec("UPDATE projects SET name = ?, number = ?, revision = ?, updated_at = ?, doc = ? WHERE id = ?",
		p.after.Name, p.after.Number, e.revision, stamp(tx.w.s.now()), string(doc), tx.id)
	if err != nil {
		return err
	}
	p.written = e
	revisions[e.subject()] = e.revision
	return nil
}

func (tx *Tx) writeTypical(t *typicalEdit, revisions map[string]int64) error {
	subject := key{aTypical, t.id}.subject()
	if t.removed {
		revisions[subject] = 0
		if _, err := tx.w.exec("DELETE FROM typicals WHERE id = ?", t.id); err != nil {
			return err
		}
		return tx.w.bury(subject, t.revision)
	}
	doc, err := encode(t.after)
	if err != nil {
		return err
	}
	e := &entry{key: key{aTypical, t.id}, revision: t.revision + 1, size: len(doc), typical: t.after, pending: true}
	if t.revision > 0 {
		_, err = tx.w.exec("UPDATE typicals SET seq = ?, name = ?, revision = ?, doc = ? WHERE id = ?", t.after.Seq, t.after.Name, e.revision, string(doc), t.id)
	} else {
		if e.revision, err = tx.w.firstRevision(subject); err != nil {
			return err
		}
		_, err = tx.w.exec("INSERT INTO typicals (id, project_id, seq, name, revision, doc) VALUES (?, ?, ?, ?, ?, ?)", t.id, tx.id, t.after.Seq, t.after.Name, e.revision, string(doc))
	}
	t.written = e
	revisions[subject] = e.revision
	return err
}

func (tx *Tx) writeRoom(r *roomEdit, revisions map[string]int64) error {
	subject := key{aRoom, r.id}.subject()
	if r.removed {
		revisions[subject] = 0
		if _, err := tx.w.exec("DELETE FROM room_docs WHERE room_id = ?", r.id); err != nil {
			return err
		}
		if err := tx.w.dropCircuits(r.id); err != nil {
			return err
		}
		if _, err := tx.w.exec("DELETE FROM rooms WHERE id = ?", r.id); err != nil {
			return err
		}
		return tx.w.bury(subject, r.revision)
	}
	e := &entry{key: key{aRoom, r.id}, revision: r.revision + 1, room: r.after, pending: true}
	r.written = e
	if r.revision == 0 {
		var err error
		if e.revision, err = tx.w.firstRevision(subject); err != nil {
			return err
		}
	}
	revisions[subject] = e.revision
	write := tx.updateRoom
	if r.revision == 0 {
		write = tx.insertRoom
	}
	if err := write(r); err != nil {
		return err
	}
	return tx.circuitsOfRoom(r)
}

// updateRoom names the columns that indexes hold only where they changed:
// SQLite writes an index again as soon as its column is named.
func (tx *Tx) updateRoom(r *roomEdit) error {
	sum, stale, err := tx.judge(r.written, r.signedHash)
	if err != nil {
		return err
	}
	args := append([]any{r.written.revision}, append(sum.args(), asInt(stale), r.id)...)
	if sameFacts(r.before.room, r.after) {
		_, err = tx.w.exec("UPDATE rooms SET revision = ?, "+setSums+", stale = ? WHERE id = ?", args...)
		return err
	}
	_, err = tx.w.exec("UPDATE rooms SET storey_id = ?, typical_id = ?, number = ?, sort_key = ?, name = ?, search = ?, use = ?, area = ?, revision = ?, "+setSums+", stale = ? WHERE id = ?",
		append(facts(r.after), args...)...)
	return err
}

var setSums = strings.ReplaceAll(sumColumns, ",", " = ?,") + " = ?"

func (tx *Tx) insertRoom(r *roomEdit) error {
	mark, err := tx.from.reviewMark(tx.id, r.id)
	if err != nil {
		return err
	}
	sum, stale, err := tx.judge(r.written, mark.signedHash)
	if err != nil {
		return err
	}
	return tx.w.insertRoom(tx.id, r.after, r.written.revision, sum, mark, stale)
}

// writeDocs writes the documents of the rooms that were put.
func (tx *Tx) writeDocs() error {
	for _, r := range tx.putRooms() {
		if r.removed {
			continue
		}
		doc, err := encode(r.after)
		if err != nil {
			return err
		}
		r.written.size = len(doc)
		if err := tx.w.writeDoc(r.id, string(doc), r.revision == 0); err != nil {
			return err
		}
	}
	return nil
}

func (w *work) writeDoc(id domain.ID, doc string, fresh bool) error {
	if fresh {
		_, err := w.exec("INSERT INTO room_docs (room_id, doc) VALUES (?, ?)", id, doc)
		return err
	}
	_, err := w.exec("UPDATE room_docs SET doc = ? WHERE room_id = ?", doc, id)
	return err
}

func (w *work) insertRoom(projectID domain.ID, r *domain.Room, revision int64, sum sums, mark reviewMark, stale bool) error {
	args := append([]any{r.ID, projectID}, facts(r)...)
	args = append(append(args, revision), sum.args()...)
	args = append(args, mark.objections, mark.signedHash, mark.signedAt, asInt(stale))
	_, err := w.exec("INSERT INTO rooms (id, project_id, storey_id, typical_id, number, sort_key, name, search, use, area, revision, "+sumColumns+", objections, signed_hash, signed_at, stale) VALUES ("+marks(len(args))+")", args...)
	return err
}

// facts are the columns storey_id to area.
func facts(r *domain.Room) []any {
	return []any{r.StoreyID, r.TypicalID, r.Number, sortKey(r.Number), r.Name, strings.ToLower(r.Number + " " + r.Name), string(r.Use), float64(r.Area)}
}

func sameFacts(a, b *domain.Room) bool {
	return a.StoreyID == b.StoreyID && a.TypicalID == b.TypicalID && a.Number == b.Number && a.Name == b.Name && a.Use == b.Use && a.Area == b.Area
}

// bury remembers the last revision of what is removed.
func (w *work) bury(subject string, revision int64) error {
	_, err := w.exec("INSERT INTO removed (subject, revision) VALUES (?, ?) ON CONFLICT (subject) DO UPDATE SET revision = excluded.revision", subject, revision)
	return err
}

// firstRevision gives the revision with which a subject comes, or comes back.
func (w *work) firstRevision(subject string) (int64, error) {
	var last int64
	err := w.scan("SELECT revision FROM removed WHERE subject = ?", []any{subject}, &last)
	if errors.Is(err, sql.ErrNoRows) {
		return 1, nil
	}
	return last + 1, err
}

// roomOf gives the room that a scope names, where the edit wrote it.
func (tx *Tx) roomOf(scope string) (*RoomState, error) {
	if scope == "" {
		return nil, nil
	}
	k, err := keyOf(scope)
	if err != nil || k.kind != aRoom || tx.rooms[k.id] == nil || tx.rooms[k.id].written == nil {
		return nil, err
	}
	room := tx.rooms[k.id].written
	typical, plan, err := tx.beside(room)
	if err != nil {
		return nil, err
	}
	return state(tx.project.entry(), room, typical, plan)
}

// effects is what the commit shows.
func (tx *Tx) effects(req Request, out Outcome) effects {
	ran := effects{events: []Event{{ProjectID: tx.id, Subjects: out.Revisions, Who: req.Who}}}
	if p := tx.project; p != nil && p.written != nil {
		ran.put = append(ran.put, p.written)
	}
	for _, t := range tx.typicals {
		if t.removed {
			ran.gone = append(ran.gone, key{aTypical, t.id})
		} else if t.written != nil {
			ran.put = append(ran.put, t.written)
		}
	}
	for _, p := range tx.plans {
		if p.removed {
			ran.gone = append(ran.gone, key{aPlan, p.id})
		} else if p.written != nil {
			ran.put = append(ran.put, p.written)
		}
	}
	for _, r := range tx.rooms {
		if r.removed {
			ran.gone = append(ran.gone, key{aRoom, r.id})
		} else if r.written != nil {
			ran.put = append(ran.put, r.written)
		}
	}
	return ran
}

// changesJudgement tells whether a change of the project can alter what is
// found in a room or printed on its sheet. code is the one that is chosen after it.
func changesJudgement(changes delta.Changes, code domain.CodePack) bool {
	for _, c := range changes {
		switch c.Part(2) {
		case "project/book", "project/limits", "project/luminaires", "project/units", "project/buildings",
			"project/code_pack",
			"project/priority", "project/calendar", "project/holidays", "project/latitude", "project/longitude", "project/zone":
			return true
		case "project/worksheets": // of which one at most is the code that rooms are judged by
			if c.Part(3) == "project/worksheets/"+string(code) {
				return true
			}
		case "project/circuits":
			if feedsRooms(c) {
				return true
			}
		}
	}
	return false
}
