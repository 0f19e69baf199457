package building

import (
	"context"
	"fmt"
	"net/http"

	"scopewright/domain"
	"scopewright/validate"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// showPlanFindings answers with what the rules find on the storeys' plans. It
// reads every room that is drawn, so the page fetches it by itself.
func (s Screen) showPlanFindings(w http.ResponseWriter, r *http.Request) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	found, err := s.planFindings(r.Context(), p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	errorsFirst(found)
	edits.Render(w, r, s.Log, http.StatusOK, findingAnswer(summed(found), "plans-count", furtherOfPlans(found)))
}

func (s Screen) planFindings(ctx context.Context, p *domain.Project) ([]findingView, error) {
	var out []findingView
	drawings := edits.Drawings{Store: s.Store, Project: p}
	for i := range p.Buildings {
		for j := range p.Buildings[i].Storeys {
			storey := &p.Buildings[i].Storeys[j]
			facts, err := drawings.Facts(ctx, storey)
			if err != nil {
				return nil, err
			}
			for _, f := range validate.Storey(facts) {
				v := newFindingView(p.ID, f)
				v.Plan = link{storey.Name, ui.Plan(p.ID, storey.ID)}
				out = append(out, v)
			}
		}
	}
	return out, nil
}

// mostAlike is how many findings of one kind are listed before the rest is counted.
const mostAlike = 5

// summed keeps a few findings of each rule and storey and counts the rest.
func summed(list []findingView) []findingView {
	type kind struct{ rule, storey string }
	count := map[kind]int{}
	var out []findingView
	for _, f := range list {
		k := kind{f.Rule, f.Plan.Path}
		if count[k]++; count[k] <= mostAlike {
			out = append(out, f)
		}
	}
	for i := len(out) - 1; i >= 0; i-- {
		k := kind{out[i].Rule, out[i].Plan.Path}
		if more := count[k] - mostAlike; more > 0 {
			out[i].More = fmt.Sprintf("%d more like it on the plan", more)
			count[k] = 0
		}
	}
	return out
}
