package plan

import (
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// The forms beside the tables do by numbers what is done by hand on the plan.

// merge makes one room of two.
func (s Screen) merge(w http.ResponseWriter, r *http.Request) {
	s.fromForm(w, r, func(*domain.Project) (edit.Gesture, error) {
		return edit.MergeRooms{IDs: []domain.ID{domain.ID(r.PostFormValue("room")), domain.ID(r.PostFormValue("with"))}}, nil
	})
}

// grid places luminaires or seats in columns and rows.
func (s Screen) grid(w http.ResponseWriter, r *http.Request) {
	s.fromForm(w, r, func(p *domain.Project) (edit.Gesture, error) {
		room, load, _ := strings.Cut(r.PostFormValue("what"), "/")
		g := edit.PlaceGrid{Room: domain.ID(room), Load: domain.ID(load), New: domain.NewID}
		var err error
		if g.Across, err = strconv.Atoi(strings.TrimSpace(r.PostFormValue("columns"))); err != nil {
			return nil, edits.Refusef("how many columns? type a whole number")
		}
		if g.Down, err = strconv.Atoi(strings.TrimSpace(r.PostFormValue("rows"))); err != nil {
			return nil, edits.Refusef("how many rows? type a whole number")
		}
		if g.StepX, err = spacing(r.PostFormValue("step_x"), p.Units); err != nil {
			return nil, err
		}
		g.StepY, err = spacing(r.PostFormValue("step_y"), p.Units)
		return g, err
	})
}

// spacing reads a length; empty text fills the room.
func spacing(text string, sys units.System) (units.Metres, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	v, err := units.ParseLength(text, sys)
	if err != nil {
		return 0, &edit.Refused{Err: err}
	}
	return v, nil
}

// addCorner puts a corner into the middle of the side behind a corner.
func (s Screen) addCorner(w http.ResponseWriter, r *http.Request) {
	room, corner, err := cornerRow(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	rooms, err := s.Store.StoreyRooms(r.Context(), edits.ProjectID(r), storeyID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	g := edit.AddCorner{Room: room, After: corner}
	for _, one := range rooms {
		if ring := one.Resolved.Outline.Outer; one.Resolved.ID == room && corner < len(ring) {
			g.At = ring[corner].Add(ring[(corner+1)%len(ring)]).Times(0.5)
		}
	}
	outcome, err := s.draw(r, []edit.Gesture{g})
	s.desk(r).Done(w, r, outcome, err, "")
}

// removeCorner takes a corner out.
func (s Screen) removeCorner(w http.ResponseWriter, r *http.Request) {
	room, corner, err := cornerRow(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	outcome, err := s.draw(r, []edit.Gesture{edit.RemoveCorner{Room: room, Corner: corner}})
	s.desk(r).Done(w, r, outcome, err, "")
}

func (s Screen) fromForm(w http.ResponseWriter, r *http.Request, read func(*domain.Project) (edit.Gesture, error)) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	g, err := read(p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	outcome, err := s.draw(r, []edit.Gesture{g})
	s.desk(r).Done(w, r, outcome, err, "")
}
