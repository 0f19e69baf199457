package building

import (
	"context"
	"net/http"

	"scopewright/domain"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// findingView is a finding about the project as a whole, ready to print.
type findingView struct {
	Severity, Word, Message string
	Rule, Title, Explain    string
	Rooms                   []link
	Plan                    link   // of the storey, for a finding of its plan
	More                    string // how many more like it there are
}

type link struct{ Name, Path string }

// mostLinks is how many rooms one finding names with a link.
const mostLinks = 12

// findings runs the rules over what spans rooms. It needs a line of every room
// of the project.
func (s Screen) findings(ctx context.Context, p *domain.Project) ([]findingView, error) {
	facts, err := edits.ProjectFacts(ctx, s.Store, p)
	if err != nil {
		return nil, err
	}
	var out []findingView
	for _, f := range validate.Project(facts) {
		out = append(out, newFindingView(p.ID, f))
	}
	return out, nil
}

// showFindings answers a page that fetches them by themselves.
func (s Screen) showFindings(w http.ResponseWriter, r *http.Request) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	found, err := s.findings(r.Context(), p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, findingAnswer(found, "project-count", furtherOf(p.ID, found)))
}

func newFindingView(project domain.ID, f rule.Finding) findingView {
	v := findingView{Severity: string(f.Severity), Word: f.Severity.Word(), Message: f.Message, Rule: f.Rule, Explain: ui.Rules(f.Rule)}
	if one := validate.ByID(f.Rule); one != nil {
		v.Title = one.Title
	}
	for _, subject := range f.Subjects {
		if subject.Part == "rooms" && len(v.Rooms) < mostLinks {
			v.Rooms = append(v.Rooms, link{subject.Tag, ui.Room(project, subject.ID)})
		}
	}
	return v
}
