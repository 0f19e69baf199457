package building

import (
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// set stores one cell of the table, or a pasted block of them, as one step.
// Only the rooms that it changes must be as the page shows them.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	var order []domain.ID
	of := map[domain.ID][]edits.Cell{}
	var subjects []string
	for _, c := range cells {
		id, _ := splitPath(c.Path)
		if of[id] == nil {
			order, subjects = append(order, id), append(subjects, edits.Subject("room", id))
		}
		of[id] = append(of[id], c)
	}
	request := s.request(r)
	request.Base = only(request.Base, subjects...)
	outcome, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		var said []string
		for _, id := range order {
			one, err := setRoom(tx, id, of[id])
			if err != nil {
				return "", err
			}
			said = append(said, one...)
		}
		return edits.Told(said), nil
	})
	s.desk().Done(w, r, outcome, err, "")
}

func setRoom(tx *store.Tx, id domain.ID, cells []edits.Cell) ([]string, error) {
	p, err := tx.ReadProject()
	if err != nil {
		return nil, err
	}
	room, err := tx.Room(id)
	if err != nil {
		return nil, cells[0].Gone("this room")
	}
	var said []string
	for _, c := range cells {
		_, name := splitPath(c.Path)
		one, err := edits.SetField(domain.Env{Project: p}, domain.RoomFields, room.Room, c, name, "room "+room.Number)
		if err != nil {
			return nil, err
		}
		said = append(said, one)
	}
	return said, tx.PutBareRoom(room.Room)
}

// request starts an edit that is made on this page.
func (s Screen) request(r *http.Request) store.Request {
	id := edits.ProjectID(r)
	return store.Request{ProjectID: id, Who: ui.Signed(r), Base: edits.Base(r), Scope: edits.Subject("project", id)}
}

// splitPath reads "rooms/<id>/<field>".
func splitPath(path string) (id domain.ID, field string) {
	steps := strings.Split(path, "/")
	if len(steps) != 3 || steps[0] != "rooms" {
		return "", ""
	}
	return domain.ID(steps[1]), steps[2]
}
