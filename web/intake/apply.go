package intake

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/store/intake/luminaires"
	"scopewright/store/intake/roomlist"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// errOther says that the file would now do something else than was shown.
var errOther = errors.New("The project changed while this preview was open, and the file would now do something else; nothing was stored. This is how it stands now: look again, then apply it.")

// apply carries out what the preview showed, as one edit that can be undone.
func (s Screen) apply(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, formAround)
	p, err := s.kept(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	seen, then := r.FormValue("seen"), ui.Project(p.project)
	request := store.Request{ProjectID: p.project, Who: ui.Signed(r), Scope: store.ProjectSubject(p.project)}
	switch p.kind {
	case isProject:
		err = s.replaceProject(r, p, seen)
	case isLuminaires:
		then = ui.Luminaires(p.project)
		_, err = s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) { return applyLuminaires(tx, p, seen, s.newID) })
	default:
		_, err = s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) { return applyRooms(tx, p, seen, s.newID) })
	}
	if errors.Is(err, errOther) {
		s.renderPreview(w, r, p, http.StatusConflict, err.Error())
		return
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.shelf.drop(p.token)
	http.Redirect(w, r, then, http.StatusSeeOther)
}

// applyRooms plans the list anew inside the transaction: only if it does what
// the person saw, it is carried out.
func applyRooms(tx *store.Tx, p *parcel, seen string, newID func() domain.ID) (string, error) {
	project, err := tx.Project()
	if err != nil {
		return "", err
	}
	plan, err := replan(tx, p, project, newID)
	if err != nil {
		return "", err
	}
	if stamp(roomLines(project, plan)) != seen {
		return "", errOther
	}
	if len(plan.NewBuildings)+len(plan.NewStoreys) > 0 {
		project.Buildings = plan.Buildings(project)
		if err := tx.PutProject(project); err != nil {
			return "", err
		}
	}
	for i := range plan.Steps {
		if err := applyRoom(tx, &plan.Steps[i]); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("imported room list %s: %d new, %d changed", p.name, plan.Counts.New, plan.Counts.Update), nil
}

func applyRoom(tx *store.Tx, st *roomlist.Step) error {
	switch st.Action {
	case roomlist.New:
		return tx.AddRoom(st.Room)
	case roomlist.Update:
		return tx.PutBareRoom(st.Room)
	}
	return nil
}

func replan(tx *store.Tx, p *parcel, project *domain.Project, newID func() domain.ID) (*roomlist.Plan, error) {
	lines, err := tx.Typicals()
	if err != nil {
		return nil, err
	}
	typicals := make([]domain.Typical, len(lines))
	for i, t := range lines {
		typicals[i] = *t
	}
	resolved, err := tx.Rooms(store.Pick{})
	if err != nil {
		return nil, err
	}
	existing := inOrder(project, resolved)
	plan, _ := p.planRooms(project, typicals, existing, newID)
	if n := len(existing) + plan.Counts.New; n > domain.MaxRooms {
		return nil, edits.Refusef("the project would have %d rooms; at most %d fit: split it into several projects", n, domain.MaxRooms)
	}
	return plan, nil
}

// inOrder puts rooms into the order of the building, as the preview saw them.
func inOrder(project *domain.Project, rooms []*domain.Resolved) []*domain.Room {
	out := make([]*domain.Room, 0, len(rooms))
	for _, b := range project.Buildings {
		for _, st := range b.Storeys {
			for _, r := range rooms {
				if r.StoreyID == st.ID {
					out = append(out, r.Room)
				}
			}
		}
	}
	return out
}

func applyLuminaires(tx *store.Tx, p *parcel, seen string, newID func() domain.ID) (string, error) {
	project, err := tx.Project()
	if err != nil {
		return "", err
	}
	plan := p.luminaires.Plan(project, newID)
	if stamp(luminaireLines(project, plan)) != seen {
		return "", errOther
	}
	for i := range plan.Steps {
		st := &plan.Steps[i]
		switch st.Action {
		case luminaires.New:
			project.Luminaires = append(project.Luminaires, *st.Luminaire)
		case luminaires.Update:
			if l := project.Luminaire(st.LuminaireID); l != nil {
				*l = *st.Luminaire
			}
		}
	}
	said := fmt.Sprintf("imported luminaire schedule %s: %d new, %d changed", p.name, plan.Counts.New, plan.Counts.Update)
	return said, tx.PutProject(project)
}

// projectView says what a project file would do.
type projectView struct {
	Other   string // name of the project that the file holds, where it is not this one
	List    string // where projects are taken in
	Words   string // what would change
	Lines   []string
	Rooms   []domain.RoomChange
	More    int
	Nothing bool
}

const mostRoomsShown = 200

func (s Screen) addProject(ctx context.Context, v *previewView, p *parcel, project *domain.Project) error {
	v.Kind, v.Project = "project file", &projectView{List: ui.Home()}
	if p.scope.Project.ID != project.ID {
		v.Project.Other = p.scope.Project.Name
		return nil
	}
	now, err := s.Store.Load(ctx, p.project)
	if err != nil {
		return err
	}
	d, err := domain.Compare(now, p.scope)
	if err != nil {
		return err
	}
	v.Project.Lines, v.Project.Rooms, v.Project.Nothing = d.Project, d.Rooms, d.Empty()
	v.Project.Words = domain.Count(len(d.Rooms), "room", "rooms") + " and " + domain.Count(len(d.Project), "fact of the project", "facts of the project") + " would change"
	if len(d.Rooms) > mostRoomsShown {
		v.Project.Rooms, v.Project.More = d.Rooms[:mostRoomsShown], len(d.Rooms)-mostRoomsShown
	}
	v.Seen, err = stateStamp(now)
	v.Apply = "Put the file in place of this project"
	return err
}

func (s Screen) replaceProject(r *http.Request, p *parcel, seen string) error {
	if p.scope.Project.ID != p.project {
		return edits.Refusef("the file holds another project, %s: take it in on the list of projects", p.scope.Project.Name)
	}
	now, err := s.Store.Load(r.Context(), p.project)
	if err != nil {
		return err
	}
	state, err := stateStamp(now)
	if err != nil {
		return err
	}
	if state != seen {
		return errOther
	}
	if r.FormValue("sure") != "yes" {
		return edits.Refusef("tick the box first: putting a file in place of the project cannot be undone")
	}
	return s.Store.ImportScope(r.Context(), ui.Signed(r), p.scope, true, nil)
}
