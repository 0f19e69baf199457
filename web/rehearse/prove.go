package rehearse

import (
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/domain/sequence/prove"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/edits"
)

// proof is what exploring a room found, ready to print.
type proof struct {
	States, Transitions string
	Bounded             bool
	Found               []proven
}

// proven is one finding with the story that shows it.
type proven struct {
	rule.Finding
	Title string
	Steps []string // in words
	Play  string   // the rehearsal that shows it, as JSON; empty where nothing need happen
}

// exploring lets one room be explored at a time: it takes a processor for up to
// about a second.
var exploring = make(chan struct{}, 1)

// prove explores all that the room can come to.
func (s Screen) prove(w http.ResponseWriter, r *http.Request) {
	b, err := s.read(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	select {
	case exploring <- struct{}{}:
		defer func() { <-exploring }()
	case <-r.Context().Done():
		return // the person did not want to wait
	}
	if r.Context().Err() != nil {
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, proofPart(s.explore(b)))
}

func (s Screen) explore(b *bench) proof {
	found, p := validate.Explored(b.project, b.resolved(), s.Now(), prove.Bounds{})
	out := proof{States: thousands(p.States), Transitions: thousands(p.Transitions), Bounded: p.Bounded}
	for _, f := range found {
		one := proven{Finding: f, Title: f.Rule}
		if r := validate.ByID(f.Rule); r != nil {
			one.Title = r.Title
		}
		for i := range f.Steps {
			one.Steps = append(one.Steps, b.storyStep(&f.Steps[i], i, f.Steps))
		}
		if len(f.Steps) > 0 {
			one.Play = playJSON(domain.Scenario{Steps: f.Steps})
		}
		out.Found = append(out.Found, one)
	}
	return out
}

// resolved gives the room, or the typical as if it were one.
func (b *bench) resolved() *domain.Resolved {
	if b.room != nil {
		return b.room
	}
	t := b.typical
	return &domain.Resolved{Room: &domain.Room{ID: t.ID, Number: t.Name, Name: t.Title, Use: t.Use, Windows: true, Area: 1}, Design: t.Design}
}

// storyStep tells a step with how long after the one before it comes. A step
// that only expects lets time pass.
func (b *bench) storyStep(st *domain.ScenarioStep, i int, all []domain.ScenarioStep) string {
	text := st.Sentence(b.env())
	if st.Happen == domain.Expect {
		text = "time passes"
	}
	if i > 0 && st.At > all[i-1].At {
		return units.Duration(st.At-all[i-1].At) + " later: " + text
	}
	return upper(text)
}

// thousands prints a count with its thousands apart: "5,991".
func thousands(n int) string {
	text := units.Trim(float64(n), 0)
	var parts []string
	for len(text) > 3 {
		parts = append([]string{text[len(text)-3:]}, parts...)
		text = text[:len(text)-3]
	}
	return strings.Join(append([]string{text}, parts...), ",")
}
