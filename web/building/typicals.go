package building

import (
	"context"
	"fmt"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// typicalView is one typical of the panel, ready to print.
type typicalView struct {
	ID                   domain.ID
	Name, Title, Path    string
	Followers, ShowRooms string // count, and the address that lists them
	Removable            bool
}

func newTypicalViews(st *state) []typicalView {
	var out []typicalView
	for _, line := range st.Typicals {
		t := line.Typical
		out = append(out, typicalView{
			ID: t.ID, Name: t.Name, Title: t.Title, Path: ui.Typical(st.Project.ID, t.ID), Followers: edits.Count(line.Followers, "room"),
			ShowRooms: query{Typical: string(t.ID)}.address(st.Project.ID), Removable: line.Followers == 0,
		})
	}
	return out
}

// newTypical gives an empty typical under a name that is free.
func newTypical(known []store.TypicalLine, name, title string) (*domain.Typical, error) {
	t := &domain.Typical{ID: domain.NewID(), Seq: 1}
	for _, line := range known {
		t.Seq = max(t.Seq, line.Typical.Seq+1)
	}
	for field, text := range map[string]string{"name": name, "title": title} {
		f, _ := domain.FieldNamed(domain.TypicalFields, field)
		if err := f.Set(domain.Env{}, t, text); err != nil {
			return nil, edits.Refusef("%w", err)
		}
	}
	return t, free(known, t.Name, "")
}

func free(known []store.TypicalLine, name string, not domain.ID) error {
	for _, line := range known {
		if line.Typical.ID != not && strings.EqualFold(line.Typical.Name, name) {
			return edits.Refusef("there is a typical %s already: choose another name", name)
		}
	}
	return nil
}

// addTypical adds an empty typical or, where a room is named, one with that
// room's design, which the room then follows.
func (s Screen) addTypical(w http.ResponseWriter, r *http.Request) {
	outcome, err := s.newTypical(r)
	s.desk().Done(w, r, outcome, err, "")
}

func (s Screen) newTypical(r *http.Request) (none store.Outcome, err error) {
	ctx, project := r.Context(), edits.ProjectID(r)
	known, err := s.Store.Typicals(ctx, project)
	if err != nil {
		return none, err
	}
	t, err := newTypical(known, r.PostFormValue("name"), r.PostFormValue("title"))
	if err != nil {
		return none, err
	}
	request := s.request(r)
	number := strings.TrimSpace(r.PostFormValue("from"))
	if number == "" {
		request.Base = nil
		return s.Store.Edit(ctx, request, func(tx *store.Tx) (string, error) { return "added typical " + t.Name, tx.AddTypical(t) })
	}
	id, err := s.roomNumbered(ctx, project, number)
	if err != nil {
		return none, err
	}
	request.Base = only(request.Base, edits.Subject("room", id))
	return s.Store.Edit(ctx, request, func(tx *store.Tx) (string, error) {
		room, err := tx.Room(id)
		if err != nil {
			return "", err
		}
		return "made typical " + t.Name + " of room " + room.Number, makeModel(tx, room, *t)
	})
}

// roomNumbered finds the one room of that number.
func (s Screen) roomNumbered(ctx context.Context, project domain.ID, number string) (domain.ID, error) {
	lines, _, err := s.Store.RoomLines(ctx, project, store.Filter{Text: number})
	if err != nil {
		return "", err
	}
	var found []domain.ID
	for i := range lines {
		if strings.EqualFold(lines[i].Number, number) {
			found = append(found, lines[i].ID)
		}
	}
	switch len(found) {
	case 0:
		return "", edits.Refusef("there is no room %q: type its number as the table shows it", shorten(number))
	case 1:
		return found[0], nil
	}
	return "", edits.Refusef("%d rooms have the number %s: select the one that you mean in the table and press \"Make a typical...\"", len(found), number)
}

// changeTypical edits the typical that a request names.
func (s Screen) changeTypical(w http.ResponseWriter, r *http.Request, change func(*store.Tx, *domain.Typical) (string, error)) {
	id := domain.ID(r.PostFormValue("typical"))
	request := s.request(r)
	request.Base = only(request.Base, edits.Subject("typical", id))
	outcome, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		t, err := tx.Typical(id)
		if err != nil {
			return "", err
		}
		return change(tx, t)
	})
	s.desk().Done(w, r, outcome, err, "")
}

// renameTypical gives a typical another name and title.
func (s Screen) renameTypical(w http.ResponseWriter, r *http.Request) {
	known, err := s.Store.Typicals(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.changeTypical(w, r, func(tx *store.Tx, t *domain.Typical) (string, error) {
		was := t.Name
		checked, err := newTypical(nil, r.PostFormValue("name"), r.PostFormValue("title"))
		if err != nil {
			return "", err
		}
		if err := free(known, checked.Name, t.ID); err != nil {
			return "", err
		}
		t.Name, t.Title = checked.Name, checked.Title
		return fmt.Sprintf("typical %s is now %s", was, strings.TrimSpace(t.Name+" "+t.Title)), tx.PutTypical(t)
	})
}

// copyTypical adds a copy of a typical, which no room follows yet.
func (s Screen) copyTypical(w http.ResponseWriter, r *http.Request) {
	known, err := s.Store.Typicals(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.changeTypical(w, r, func(tx *store.Tx, t *domain.Typical) (string, error) {
		name := ""
		for n := 2; name == "" || free(known, name, "") != nil; n++ {
			name = fmt.Sprintf("%s (%d)", t.Name, n)
		}
		copied, err := newTypical(known, name, t.Title)
		if err != nil {
			return "", err
		}
		copied.Use, copied.Notes, copied.Design = t.Use, t.Notes, t.Design
		return "copied typical " + t.Name + " to " + copied.Name, tx.AddTypical(copied)
	})
}

// removeTypical removes a typical; the store refuses while rooms follow it.
func (s Screen) removeTypical(w http.ResponseWriter, r *http.Request) {
	s.changeTypical(w, r, func(tx *store.Tx, t *domain.Typical) (string, error) {
		return "removed typical " + t.Name, tx.RemoveTypical(t.ID)
	})
}
