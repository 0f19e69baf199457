package intake

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/store/intake/match"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// hereIn gives what a transaction sees of the project.
func hereIn(tx *store.Tx) (match.Here, error) {
	project, err := tx.Project()
	if err != nil {
		return match.Here{}, err
	}
	resolved, err := tx.Rooms(store.Pick{})
	if err != nil {
		return match.Here{}, err
	}
	here := match.Here{Project: project, Rooms: inOrder(project, resolved), Plans: map[domain.ID]*domain.Plan{}}
	for _, b := range project.Buildings {
		for _, st := range b.Storeys {
			if here.Plans[st.ID], err = tx.Plan(st.ID); err != nil {
				return match.Here{}, err
			}
		}
	}
	return here, nil
}

// hereOf gives the same of a loaded project.
func hereOf(scope *domain.Scope) match.Here {
	here := match.Here{Project: &scope.Project, Plans: map[domain.ID]*domain.Plan{}}
	for i := range scope.Rooms {
		here.Rooms = append(here.Rooms, &scope.Rooms[i])
	}
	for i := range scope.Plans {
		here.Plans[scope.Plans[i].ID] = &scope.Plans[i]
	}
	return here
}

// fitIn plans a model inside a transaction and says what is in its way.
func (f *modelFile) fitIn(tx *store.Tx, newID func() domain.ID) (*match.Fit, *domain.Project, error) {
	here, err := hereIn(tx)
	if err != nil {
		return nil, nil, err
	}
	fit := f.fit(here, newID)
	if err := fitRefused(fit, len(here.Rooms)); err != nil {
		return nil, nil, err
	}
	return fit, here.Project, nil
}

// fitRefused says why a fit cannot be carried out, nil where it can.
func fitRefused(fit *match.Fit, rooms int) error {
	if fit.Conflict != "" {
		return edits.Refusef("%s", fit.Conflict)
	}
	if n := rooms + fit.Counts.New; n > domain.MaxRooms {
		return edits.Refusef("The project would have %d rooms; at most %d fit: split it into several projects.", n, domain.MaxRooms)
	}
	return nil
}

// carryOutFit stores what a fit says.
func carryOutFit(tx *store.Tx, fit *match.Fit, project *domain.Project) error {
	if fit.NewBuilding != nil || fitMakesStoreys(fit) {
		project.Buildings = fit.Buildings(project)
		if err := tx.PutProject(project); err != nil {
			return err
		}
	}
	for i := range fit.Storeys {
		if err := carryOutStorey(tx, &fit.Storeys[i]); err != nil {
			return err
		}
	}
	return nil
}

func fitMakesStoreys(fit *match.Fit) bool {
	for i := range fit.Storeys {
		if fit.Storeys[i].Made != nil {
			return true
		}
	}
	return false
}

func carryOutStorey(tx *store.Tx, s *match.Storey) error {
	for i := range s.Steps {
		var err error
		switch st := &s.Steps[i]; st.Action {
		case match.New:
			err = tx.AddRoom(st.Room)
		case match.Update:
			err = tx.PutBareRoom(st.Room)
		}
		if err != nil {
			return err
		}
	}
	if s.Plan == nil {
		return nil
	}
	return tx.PutPlan(s.Plan)
}

// fitLines says space by space what a fit does, storey by storey. Rooms that
// are not there yet are linked once they are stored.
func fitLines(project *domain.Project, fit *match.Fit, done bool) []line {
	var out []line
	for i := range fit.Storeys {
		s := &fit.Storeys[i]
		if s.Into == "" {
			continue
		}
		for j := range s.Steps {
			out = append(out, fitLine(project, s, &s.Steps[j], done))
		}
		for _, r := range s.Missing {
			out = append(out, line{Action: missing, Place: s.IntoName, Label: r.Label(), Path: ui.Room(project.ID, r.ID), Here: area(r.Area, project)})
		}
	}
	return out
}

func fitLine(project *domain.Project, s *match.Storey, st *match.Step, done bool) line {
	l := line{Action: action(st.Action), Place: s.IntoName, Label: st.Label(), Changes: st.Changes, Problem: st.Problem, Differs: st.Differs}
	if l.Label == "" {
		l.Label = "(no name)"
	}
	l.Drawn = area(st.Space.Area, project)
	if st.Was != nil {
		l.Here = area(st.Was.Area, project)
	}
	if st.Was != nil || done && st.Room != nil {
		l.Path = ui.Room(project.ID, st.Room.ID)
	}
	return l
}

func area(a units.SquareMetres, p *domain.Project) string {
	if a <= 0 {
		return ""
	}
	return units.Area(a, p.Units)
}

// fitStamp tells two fits apart, whatever IDs they give to what is new.
func fitStamp(project *domain.Project, fit *match.Fit) string {
	lines := fitLines(project, fit, false)
	for i := range fit.Storeys {
		s := &fit.Storeys[i]
		l := line{Action: isUpdate, Label: s.Name + "\x00" + s.IntoName, Changes: []string{fmt.Sprint(s.Walls, s.Made != nil, s.Plan != nil)}}
		if s.Made == nil {
			l.Path = string(s.Into)
		}
		lines = append(lines, l)
	}
	return stamp(lines)
}

// fitWords says what a fit does in a few words: "add 33 rooms, change 2 rooms,
// draw 164 walls".
func fitWords(fit *match.Fit) string {
	var parts []string
	if n := fit.Counts.New; n > 0 {
		parts = append(parts, "add "+domain.Count(n, "room", "rooms"))
	}
	if n := fit.Counts.Update; n > 0 {
		parts = append(parts, "change "+domain.Count(n, "room", "rooms"))
	}
	walls, gone, planned := 0, 0, false
	for i := range fit.Storeys {
		walls += fit.Storeys[i].Walls.New
		gone += fit.Storeys[i].Walls.Gone
		planned = planned || fit.Storeys[i].Plan != nil
	}
	if walls > 0 {
		parts = append(parts, "draw "+domain.Count(walls, "wall", "walls"))
	}
	if gone > 0 {
		parts = append(parts, "take "+domain.Count(gone, "wall", "walls")+" away")
	}
	if planned && walls+gone == 0 {
		parts = append(parts, "mend the plan")
	}
	if len(parts) == 0 && fitMakesStoreys(fit) {
		parts = append(parts, "add the storeys")
	}
	return strings.Join(parts, ", ")
}
