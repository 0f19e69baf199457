package intake

import (
	"net/http"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// beneath is a storey with a picture, on the page on which files are sent.
type beneath struct{ Storey, Path, Again, Remove, Size string }

// beneathOf lists the storeys that have a picture beneath them.
func (s Screen) beneathOf(r *http.Request, p *domain.Project) (out []beneath) {
	for _, b := range p.Buildings {
		for _, st := range b.Storeys {
			plan, _, err := s.Store.Plan(r.Context(), p.ID, st.ID)
			if err != nil || plan.Underlay == nil {
				continue
			}
			at := ui.Import(p.ID) + "/pictures/" + string(st.ID)
			out = append(out, beneath{Storey: st.Name, Path: ui.Plan(p.ID, st.ID), Again: at + "/again", Remove: at + "/remove",
				Size: units.Length(plan.Underlay.Width, p.Units) + " x " + units.Length(plan.Underlay.Height, p.Units)})
		}
	}
	return out
}

func storeyID(r *http.Request) domain.ID { return domain.ID(chi.URLParam(r, "storey")) }

// placeAgain takes the picture of a storey out to be placed anew.
func (s Screen) placeAgain(w http.ResponseWriter, r *http.Request) {
	project, storey := edits.ProjectID(r), storeyID(r)
	plan, _, err := s.Store.Plan(r.Context(), project, storey)
	if err == nil && plan.Underlay == nil {
		err = store.ErrNotFound
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	picture, err := s.keptPicture(r, project, plan.Underlay)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	p := &parcel{project: project, kind: isPicture, name: "picture", data: picture.Data, picture: picture, storey: storey}
	http.Redirect(w, r, ui.ImportPreview(project, s.shelf.put(p)), http.StatusSeeOther)
}

// removePicture takes the picture from beneath a storey; undo brings it back.
func (s Screen) removePicture(w http.ResponseWriter, r *http.Request) {
	project, storey := edits.ProjectID(r), storeyID(r)
	request := store.Request{ProjectID: project, Who: ui.Signed(r), Scope: store.PlanSubject(storey)}
	_, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		plan, err := tx.Plan(storey)
		if err != nil {
			return "", err
		}
		plan.Underlay = nil
		return "took the picture away", tx.PutPlan(plan)
	})
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	http.Redirect(w, r, ui.Import(project), http.StatusSeeOther)
}
