package plan

import (
	"net/http"

	"scopewright/store"
	"scopewright/validate"
	"scopewright/web/edits"
)

// fix carries out what the program knows against a finding of the storey. The
// rules are asked again: what they found before may be mended by now.
func (s Screen) fix(r *http.Request, rule, key string) (store.Outcome, error) {
	ctx := r.Context()
	p, _, err := s.Store.Project(ctx, edits.ProjectID(r))
	if err != nil {
		return store.Outcome{}, err
	}
	_, storey := p.FindStorey(storeyID(r))
	if storey == nil {
		return store.Outcome{}, store.ErrNotFound
	}
	others := edits.Drawings{Store: s.Store, Project: p}
	facts, err := others.Facts(ctx, storey)
	if err != nil {
		return store.Outcome{}, err
	}
	for _, f := range validate.Storey(facts) {
		if f.Rule == rule && f.Key == key && f.Fix != nil {
			return s.draw(r, f.Fix.Gestures)
		}
	}
	return store.Outcome{}, edits.Refusef("this is no longer found: it may have been mended in another window")
}
