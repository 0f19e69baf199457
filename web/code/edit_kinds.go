package code

import (
	"context"
	"fmt"
	"hash/fnv"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// choose sets the code by which the project is checked.
func (s Screen) choose(w http.ResponseWriter, r *http.Request) {
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		cell := edits.Cell{Path: "project/code_pack", Text: r.PostFormValue("code")}
		return edits.SetField(domain.Env{Project: p}, domain.ProjectFields, p, cell, "code_pack", "project")
	})
	s.desk().Done(w, r, outcome, err, "")
}

// set stores kinds of space, one or a pasted block, as one step.
func (s Screen) set(w http.ResponseWriter, r *http.Request) { s.setKinds(w, r, s.desk()) }

func (s Screen) setRoom(w http.ResponseWriter, r *http.Request) { s.setKinds(w, r, s.roomDesk(r)) }

func (s Screen) setKinds(w http.ResponseWriter, r *http.Request, desk edits.Desk) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	request := s.request(r)
	kept := map[string]int64{} // only the rooms that it changes must be as the page shows them
	for _, c := range cells {
		id, _ := splitPath(c.Path)
		if n, known := request.Base[edits.Subject("room", id)]; known {
			kept[edits.Subject("room", id)] = n
		}
	}
	request.Base = kept
	outcome, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		return edits.SetEach(cells, func(c edits.Cell) (string, error) { return setKind(tx, c) })
	})
	desk.Done(w, r, outcome, err, "")
}

// fields are those of a room that this screen sets.
var fields = []string{"space_type", "receptacles", "area_m2"}

func setKind(tx *store.Tx, c edits.Cell) (string, error) {
	id, name := splitPath(c.Path)
	if !strings.Contains(" "+strings.Join(fields, " ")+" ", " "+name+" ") {
		return "", c.Refusef("there is no field %q", name)
	}
	p, err := tx.ReadProject()
	if err != nil {
		return "", err
	}
	room, err := tx.Room(id)
	if err != nil {
		return "", c.Gone("this room")
	}
	said, err := edits.SetField(domain.Env{Project: p}, domain.RoomFields, room.Room, c, name, "room "+room.Number)
	if err != nil {
		return "", err
	}
	return said, tx.PutBareRoom(room.Room)
}

// splitPath reads "rooms/<id>/<field>".
func splitPath(path string) (id domain.ID, field string) {
	steps := strings.Split(path, "/")
	if len(steps) != 3 || steps[0] != "rooms" {
		return "", ""
	}
	return domain.ID(steps[1]), steps[2]
}

func (s Screen) request(r *http.Request) store.Request {
	id := edits.ProjectID(r)
	return store.Request{ProjectID: id, Who: ui.Signed(r), Base: edits.Base(r), Scope: edits.Subject("project", id)}
}

// proposed counts the kinds that a click would confirm among some rooms, with a stamp
// of them, so that nothing is confirmed that was not seen.
func (b *building) proposed(at []int) (n int, stamp string) {
	h := fnv.New64a()
	for _, i := range at {
		if f := &b.Found[i]; !f.Confirmed && f.Kind.Space != "" {
			n++
			fmt.Fprintf(h, "%s %s\n", f.ID, f.Kind.Space)
		}
	}
	return n, fmt.Sprintf("%016x", h.Sum64())
}

// confirm takes proposed kinds of space as they are: of one room, or of all that the
// page's filters find, in one step.
func (s Screen) confirm(w http.ResponseWriter, r *http.Request) {
	if room := domain.ID(r.PostFormValue("room")); room != "" {
		s.confirmOne(w, r, s.desk(), room)
		return
	}
	q := edits.Query(r)
	if !ui.IsFragment(r) { // a form without script sends the filters as fields
		q = r.PostForm
	}
	ids, err := s.seen(r.Context(), edits.ProjectID(r), readQuery(q), r.PostFormValue("seen"))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	outcome, err := s.confirmed(r, ids)
	s.desk().Done(w, r, outcome, err, outcome.Said)
}

// seen gives the rooms whose kinds the page offered to confirm.
func (s Screen) seen(ctx context.Context, project domain.ID, q query, stamp string) ([]domain.ID, error) {
	b, err := s.judge(ctx, project)
	if err != nil {
		return nil, err
	}
	found := b.pick(q)
	if _, now := b.proposed(found); now != stamp {
		return nil, edits.Refusef("the proposals changed meanwhile, here or in another window. Nothing was stored: look at them again, then confirm")
	}
	var out []domain.ID
	for _, i := range found {
		if f := &b.Found[i]; !f.Confirmed && f.Kind.Space != "" {
			out = append(out, f.ID)
		}
	}
	if len(out) == 0 {
		return nil, edits.Refusef("there is nothing to confirm: no kind of space is proposed")
	}
	return out, nil
}

// confirmOne takes the proposed kind of one room, if it is still the one that was shown.
func (s Screen) confirmOne(w http.ResponseWriter, r *http.Request, desk edits.Desk, room domain.ID) {
	cells := []edits.Cell{{Path: "rooms/" + string(room) + "/space_type", Text: r.PostFormValue("kind")}}
	if cells[0].Text == "" {
		edits.Refuse(w, r, s.Log, edits.Refusef("no kind of space is proposed for this room: choose one"))
		return
	}
	request := s.request(r)
	request.Base = nil
	outcome, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		return edits.SetEach(cells, func(c edits.Cell) (string, error) { return setKind(tx, c) })
	})
	desk.Done(w, r, outcome, err, "")
}

func (s Screen) confirmRoom(w http.ResponseWriter, r *http.Request) {
	s.confirmOne(w, r, s.roomDesk(r), roomID(r))
}

// confirmed writes the proposals of rooms as their kinds.
func (s Screen) confirmed(r *http.Request, ids []domain.ID) (store.Outcome, error) {
	request := s.request(r)
	request.Base = nil // what was seen is told by the stamp
	return s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		p, err := tx.ReadProject()
		if err != nil {
			return "", err
		}
		kinds, n := energycode.KindsOf(p), 0
		for _, id := range ids {
			room, err := tx.Room(id)
			if err != nil {
				return "", err
			}
			kind, confirmed := kinds.KindOf(room)
			if confirmed || kind.Space == "" {
				continue
			}
			room.Room.Space = domain.SpaceType(kind.Space)
			if err := tx.PutBareRoom(room.Room); err != nil {
				return "", err
			}
			n++
		}
		return "confirmed the kind of space of " + edits.Count(n, "room"), nil
	})
}
