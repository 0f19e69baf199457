package intake

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// errOther says that the file would now do something else than was shown.
const errOther = edits.Sentence("The project changed while this preview was open, and the file would now do something else; nothing was stored. This is how it stands now: look again, then apply it.")

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
	case isPicture:
		s.applyPicture(w, r, p)
		return
	case isPages:
		http.Redirect(w, r, ui.ImportPreview(p.project, p.token), http.StatusSeeOther)
		return
	case isModel:
		s.applyModel(w, r, p, seen)
		return
	case isProject:
		err = s.replaceProject(r, p, seen)
	default:
		if p.kind == isLuminaires {
			then = ui.Luminaires(p.project)
		}
		_, err = s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) { return s.applyList(tx, p, seen) })
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

// applyList plans the list anew inside the transaction: only if it does what
// the person saw, it is carried out.
func (s Screen) applyList(tx *store.Tx, p *parcel, seen string) (string, error) {
	todo, err := planIn(tx, p, s.newID)
	if err != nil {
		return "", err
	}
	if stamp(todo.lines()) != seen {
		return "", errOther
	}
	made, changed, _, _ := todo.counts()
	return fmt.Sprintf("imported %s %s: %d new, %d changed", todo.what(), p.name, made, changed), todo.carryOut(tx)
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
