package room

import (
	"context"
	"net/http"
	"slices"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// elsewhere is a finding about the project or a storey's plan that names the room.
type elsewhere struct {
	Finding rule.Finding
	Title   string // of its rule
	Name    string // of the page that shows it
	Path    string
}

// showElsewhere answers with the findings beside the room's own that name it. It
// reads a line of every room and all that is drawn on the storey, so the page
// fetches it by itself.
func (s Screen) showElsewhere(w http.ResponseWriter, r *http.Request) {
	ctx, room := r.Context(), domain.ID(chi.URLParam(r, "room"))
	p, _, err := s.Store.Project(ctx, edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	found, err := s.elsewhere(ctx, p, room)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, elsewhereList(found))
}

func (s Screen) elsewhere(ctx context.Context, p *domain.Project, room domain.ID) ([]elsewhere, error) {
	whole, err := edits.ProjectFacts(ctx, s.Store, p)
	if err != nil {
		return nil, err
	}
	out := naming(room, validate.Project(whole), "Rooms page", ui.Project(p.ID)+"#project-findings")
	at := slices.IndexFunc(whole.Rooms, func(c rule.RoomCounts) bool { return c.ID == room })
	if at < 0 {
		return out, nil
	}
	_, storey := p.FindStorey(whole.Rooms[at].Storey)
	if storey == nil {
		return out, nil
	}
	drawings := edits.Drawings{Store: s.Store, Project: p}
	facts, err := drawings.Facts(ctx, storey)
	if err != nil {
		return nil, err
	}
	return append(out, naming(room, validate.Storey(facts), "Plan of "+storey.Name, ui.Plan(p.ID, storey.ID))...), nil
}

// naming picks the findings that name the room.
func naming(room domain.ID, found []rule.Finding, name, path string) []elsewhere {
	var out []elsewhere
	for i := range found {
		f := &found[i]
		if !slices.ContainsFunc(f.Subjects, func(s rule.Subject) bool { return s.Part == "rooms" && s.ID == room }) {
			continue
		}
		one := elsewhere{Finding: *f, Name: name, Path: path}
		if r := validate.ByID(f.Rule); r != nil {
			one.Title = r.Title
		}
		out = append(out, one)
	}
	return out
}
