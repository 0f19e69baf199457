package project

import (
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Bounds that tell a slip of the pen from a site.
const (
	mostBuildings = 200
	mostStoreys   = 300
)

// change edits the buildings and answers with the page anew.
func (s Screen) change(w http.ResponseWriter, r *http.Request, change func(*domain.Project) (string, error)) {
	outcome, err := s.settings().Apply(r, change)
	s.settings().Done(w, r, outcome, err, "")
}

func (s Screen) addBuilding(w http.ResponseWriter, r *http.Request) {
	s.change(w, r, func(p *domain.Project) (string, error) {
		name, err := cleanName(r.PostFormValue("name"), "the building")
		if err != nil {
			return "", err
		}
		if len(p.Buildings) >= mostBuildings {
			return "", edits.Refusef("a project has at most %d buildings", mostBuildings)
		}
		seq := 0
		for _, b := range p.Buildings {
			seq = max(seq, b.Seq)
		}
		p.Buildings = append(p.Buildings, domain.Building{ID: domain.NewID(), Seq: seq + 1, Name: name, Storeys: []domain.Storey{{ID: domain.NewID(), Seq: 1, Name: "Level 1"}}})
		return "added building " + name, nil
	})
}

func (s Screen) addStorey(w http.ResponseWriter, r *http.Request) {
	s.change(w, r, func(p *domain.Project) (string, error) {
		name, err := cleanName(r.PostFormValue("name"), "the storey")
		if err != nil {
			return "", err
		}
		b := findBuilding(p, domain.ID(r.PostFormValue("building")))
		if b == nil {
			return "", edits.Refusef("this building is no longer there: it may have been removed in another window")
		}
		if len(b.Storeys) >= mostStoreys {
			return "", edits.Refusef("a building has at most %d storeys", mostStoreys)
		}
		seq := 0
		for _, st := range b.Storeys {
			seq = max(seq, st.Seq)
		}
		b.Storeys = append(b.Storeys, domain.Storey{ID: domain.NewID(), Seq: seq + 1, Name: name})
		return "added storey " + name + " to " + b.Name, nil
	})
}

func cleanName(text, of string) (string, error) {
	name, err := domain.CleanLine(text, domain.MaxName)
	if err != nil {
		return "", edits.Refusef("name of %s: %w", of, err)
	}
	if name == "" {
		return "", edits.Refusef("name %s first", of)
	}
	return name, nil
}

func (s Screen) moveUp(w http.ResponseWriter, r *http.Request)   { s.move(w, r, -1, "up") }
func (s Screen) moveDown(w http.ResponseWriter, r *http.Request) { s.move(w, r, 1, "down") }

// move lets a storey change places with its neighbor; the order is that of
// their Seq, which is written anew so that it has no gaps and no ties.
func (s Screen) move(w http.ResponseWriter, r *http.Request, step int, word string) {
	id := storeyOf(r)
	s.change(w, r, func(p *domain.Project) (string, error) {
		b, st := p.FindStorey(id)
		if st == nil {
			return "", edits.Refusef("this storey is no longer there: it may have been removed in another window")
		}
		said := "moved storey " + st.Name + " " + word
		at := slices.IndexFunc(b.Storeys, func(x domain.Storey) bool { return x.ID == id })
		to := at + step
		if to < 0 || to >= len(b.Storeys) {
			return "nothing changed", nil
		}
		b.Storeys[at], b.Storeys[to] = b.Storeys[to], b.Storeys[at]
		for i := range b.Storeys {
			b.Storeys[i].Seq = i + 1
		}
		return said, nil
	})
}

// storeyOf reads the row "buildings/<building>/storeys/<storey>".
func storeyOf(r *http.Request) domain.ID {
	row := r.PostFormValue("row")
	return domain.ID(row[strings.LastIndexByte(row, '/')+1:])
}

// removeStorey takes a storey away on which no rooms lie.
func (s Screen) removeStorey(w http.ResponseWriter, r *http.Request) {
	id := storeyOf(r)
	s.takeAway(w, r, func(tx *store.Tx, p *domain.Project) (string, error) {
		b, st := p.FindStorey(id)
		if st == nil {
			return "", edits.Refusef("this storey is no longer there: it may have been removed in another window")
		}
		if err := empty(tx, *st); err != nil {
			return "", err
		}
		said := "removed storey " + st.Name + " of " + b.Name
		b.Storeys = slices.DeleteFunc(b.Storeys, func(x domain.Storey) bool { return x.ID == id })
		return said, nil
	})
}

// removeBuilding takes a building away in which no rooms lie.
func (s Screen) removeBuilding(w http.ResponseWriter, r *http.Request) {
	id := domain.ID(r.PostFormValue("building"))
	s.takeAway(w, r, func(tx *store.Tx, p *domain.Project) (string, error) {
		b := findBuilding(p, id)
		switch {
		case b == nil:
			return "", edits.Refusef("this building is no longer there: it may have been removed in another window")
		case len(p.Buildings) == 1:
			return "", edits.Refusef("a project has at least one building: rename it instead")
		}
		for _, st := range b.Storeys {
			if err := empty(tx, st); err != nil {
				return "", err
			}
		}
		said := "removed building " + b.Name
		p.Buildings = slices.DeleteFunc(p.Buildings, func(x domain.Building) bool { return x.ID == id })
		return said, nil
	})
}

func empty(tx *store.Tx, st domain.Storey) error {
	rooms, err := tx.Rooms(store.Pick{Storey: st.ID})
	if err == nil && len(rooms) > 0 {
		err = edits.Refusef("%s has %s: move them to another storey or delete them first", st.Name, edits.Count(len(rooms), "room"))
	}
	return err
}

// takeAway changes the project in a transaction that also sees its rooms.
func (s Screen) takeAway(w http.ResponseWriter, r *http.Request, change func(*store.Tx, *domain.Project) (string, error)) {
	id := edits.ProjectID(r)
	request := store.Request{ProjectID: id, Who: ui.Signed(r), Base: edits.Base(r), Scope: edits.Subject("project", id)}
	outcome, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		said, err := change(tx, p)
		if err != nil {
			return "", err
		}
		return said, tx.PutProject(p)
	})
	s.settings().Done(w, r, outcome, err, "")
}
