package rehearse

import (
	"net/http"
	"slices"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// suggest shows the scenarios that the design's intents and scenes give.
func (s Screen) suggest(w http.ResponseWriter, r *http.Request) {
	b, err := s.read(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, suggestion(b, b.suggestions()))
}

// take adds those of them that were ticked, as one step to undo.
func (s Screen) take(w http.ResponseWriter, r *http.Request) {
	b, err := s.read(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	if err := r.ParseForm(); err != nil {
		edits.Refuse(w, r, s.Log, edits.Refusef("the form could not be read: reload the page"))
		return
	}
	var list []edit.Edit
	for _, sc := range b.suggestions() {
		if slices.Contains(r.PostForm["scenario"], string(sc.ID)) {
			list = append(list, edit.AddScenario{Scenario: sc})
		}
	}
	if len(list) == 0 {
		edits.Refuse(w, r, s.Log, edits.Refusef("no scenario is ticked, or they are there already"))
		return
	}
	s.done(w, r, list...)
}

// suggestions are the generated scenarios that the design does not have yet.
func (b *bench) suggestions() []domain.Scenario {
	var out []domain.Scenario
	for _, sc := range b.generated() {
		if b.design.Scenario(sc.ID) == nil {
			out = append(out, sc)
		}
	}
	return out
}

// inShort tells a scenario in few lines: "after 62 s: expect L1 at 0 %, L2 at
// 50 %" is one.
func inShort(e domain.Env, sc *domain.Scenario) []string {
	var out []string
	last := domain.ScenarioStep{At: -1}
	for _, st := range inOrder(sc) {
		if st.Happen == domain.Expect && last.Happen == domain.Expect && last.At == st.At {
			out[len(out)-1] += ", " + st.Sentence(e)
		} else {
			out = append(out, after(st.At)+": "+sentence(e, &st))
		}
		last = st
	}
	return out
}

// after tells a time after the start: "at the start", "after 20 min".
func after(t units.Seconds) string {
	if t == 0 {
		return "at the start"
	}
	return "after " + units.Duration(t)
}
