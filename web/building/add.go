package building

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
)

// mostAtOnce is how many rooms one line may add.
const mostAtOnce = 500

// add adds a room to a storey, or a row of them with numbers that count up.
func (s Screen) add(w http.ResponseWriter, r *http.Request) {
	var outcome store.Outcome
	rooms, err := s.drafts(r)
	if err == nil {
		request := s.request(r)
		request.Base = nil // what is new is based on nothing
		outcome, err = s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) { return addRooms(tx, rooms) })
	}
	toast := ""
	if len(rooms) > 1 {
		toast = outcome.Said
	}
	s.desk().Done(w, r, outcome, err, toast)
}

func addRooms(tx *store.Tx, rooms []*domain.Room) (string, error) {
	for _, room := range rooms {
		if err := tx.AddRoom(room); err != nil {
			return "", err
		}
	}
	if len(rooms) == 1 {
		return "added room " + rooms[0].Label(), nil
	}
	return fmt.Sprintf("added %d rooms, %s to %s", len(rooms), rooms[0].Number, rooms[len(rooms)-1].Number), nil
}

// drafts reads the line of a storey and gives the rooms that it asks for.
func (s Screen) drafts(r *http.Request) ([]*domain.Room, error) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		return nil, err
	}
	model, n, err := s.readLine(r, p)
	if err != nil {
		return nil, err
	}
	numbers, lines, err := s.readTaken(r.Context(), p)
	if err != nil {
		return nil, err
	}
	if len(lines)+n > domain.MaxRooms {
		return nil, edits.Refusef("a project has at most %d rooms: split it into several projects", domain.MaxRooms)
	}
	out := make([]*domain.Room, n)
	var double []string
	for i := range out {
		room := model
		room.ID, room.Number = domain.NewID(), model.Number
		if i > 0 {
			room.Number = countUp(model.Number, i)
		}
		if numbers.has(p, room.StoreyID, room.Number) {
			double = append(double, room.Number)
		}
		out[i] = &room
	}
	if len(double) > 0 {
		return nil, edits.Refusef("the building has room %s already: start with another number", firstFew(double))
	}
	return out, nil
}

func (s Screen) readLine(r *http.Request, p *domain.Project) (model domain.Room, n int, err error) {
	model.StoreyID = domain.ID(r.PostFormValue("storey"))
	if _, storey := p.FindStorey(model.StoreyID); storey == nil {
		return model, 0, edits.Refusef("this storey is no longer there: it may have been removed in another window")
	}
	env := domain.Env{Project: p}
	for _, name := range []string{"number", "name", "use"} {
		f, _ := domain.FieldNamed(domain.RoomFields, name)
		if err := f.Set(env, &model, r.PostFormValue(name)); err != nil {
			return model, 0, edits.Refusef("%w", err)
		}
	}
	if id := domain.ID(r.PostFormValue("typical")); id != "" {
		line, owner, err := s.Store.Typical(r.Context(), id)
		if err != nil {
			return model, 0, err
		}
		if owner != p.ID {
			return model, 0, edits.Refusef("this typical is of another project")
		}
		model.TypicalID = id
		if model.Use == "" {
			model.Use = line.Typical.Use
		}
	}
	n, err = readCount(r.PostFormValue("count"), mostAtOnce)
	return model, n, err
}

// readCount reads how many; empty means one.
func readCount(text string, most int) (int, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 1, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > most {
		return 0, edits.Refusef("%q is not how many: write 1 to %d", shorten(text), most)
	}
	return n, nil
}

func shorten(text string) string {
	if r := []rune(text); len(r) > 20 {
		return string(r[:20]) + "..."
	}
	return text
}

// firstFew names the first of many: "101, 102, 103 and 12 more".
func firstFew(list []string) string {
	const few = 6
	if len(list) <= few {
		return strings.Join(list, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(list[:few], ", "), len(list)-few)
}
