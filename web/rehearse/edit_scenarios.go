package rehearse

import (
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// done answers an edit with the scenarios judged anew.
func (s Screen) done(w http.ResponseWriter, r *http.Request, list ...edit.Edit) {
	outcome, err := s.apply(r, list...)
	s.desk(r).Done(w, r, outcome, err, outcome.Said)
}

// set stores cells of scenarios and their steps.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	list := make([]edit.Edit, len(cells))
	for i, c := range cells {
		if !strings.HasPrefix(c.Path, "scenarios/") {
			edits.Refuse(w, r, s.Log, edits.Refusef("only scenarios are edited here, not %q", short(c.Path)))
			return
		}
		list[i] = edit.SetField{Path: c.Path, Text: c.Text}
	}
	outcome, err := s.apply(r, list...)
	s.desk(r).Done(w, r, outcome, err, "")
}

// save keeps the rehearsal as a scenario: what happened, and then what the
// loads give now as what is expected.
func (s Screen) save(w http.ResponseWriter, r *http.Request) {
	b, err := s.read(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	x, err := parseRehearsal(r.FormValue("run"), b)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	sc := x.scenario()
	sc.ID, sc.Name = domain.NewID(), r.FormValue("name")
	for i := range sc.Steps {
		sc.Steps[i].ID = domain.NewID()
	}
	for _, out := range b.outputs(x) {
		sc.Steps = append(sc.Steps, domain.ScenarioStep{ID: domain.NewID(), Seq: len(sc.Steps) + 1, At: x.Now, Happen: domain.Expect, Load: out.Load, Level: out.Level})
	}
	if len(sc.Steps) > domain.MaxParts {
		edits.Refuse(w, r, s.Log, edits.Refusef("this rehearsal has %d steps; a scenario keeps at most %d", len(sc.Steps), domain.MaxParts))
		return
	}
	s.done(w, r, edit.AddScenario{Scenario: sc})
}

// output is what a load gives at a moment.
type output struct {
	Load  domain.ID
	Level units.Level
}

// addStep adds a step behind the others, with the first device that can do it.
func (s Screen) addStep(w http.ResponseWriter, r *http.Request) {
	b, err := s.read(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	id := domain.ID(r.FormValue("scenario"))
	step := domain.ScenarioStep{ID: domain.NewID(), Happen: domain.Happening(r.FormValue("happen"))}
	if sc := b.design.Scenario(id); sc != nil {
		for _, st := range sc.Steps {
			step.At = max(step.At, st.At)
		}
	}
	b.fitStep(&step)
	s.done(w, r, edit.AddStep{Scenario: id, Step: step})
}

// fitStep gives a new step what it needs to mean something.
func (b *bench) fitStep(st *domain.ScenarioStep) {
	if st.Happen.OfDevice() {
		for i := range b.design.Devices {
			d := &b.design.Devices[i]
			if t := b.project.Book.Find(d.Type); t != nil && mostInputs(t, st.Happen) > 0 {
				st.Device = d.ID
				break
			}
		}
	}
	switch {
	case st.Happen.OfButton():
		st.Button = 1
	case st.Happen == domain.ModeChanged:
		st.Text = string(domain.AfterHours)
	}
}

// remove takes a scenario or one of its steps away; undo brings it back.
func (s Screen) remove(w http.ResponseWriter, r *http.Request) {
	part, rest := edits.Row(r)
	id, step, ofStep := strings.Cut(string(rest), "/steps/")
	if ofStep {
		s.done(w, r, edit.RemoveStep{Scenario: domain.ID(id), Step: domain.ID(step)})
		return
	}
	if part != "scenarios" {
		edits.Refuse(w, r, s.Log, edits.Refusef("there is nothing called %q to remove here", short(part)))
		return
	}
	s.done(w, r, edit.Remove{Part: part, ID: rest})
}

// duplicate adds a copy of a scenario, as the start of another.
func (s Screen) duplicate(w http.ResponseWriter, r *http.Request) {
	b, err := s.read(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	_, id := edits.Row(r)
	sc := b.design.Scenario(id)
	if sc == nil {
		edits.Refuse(w, r, s.Log, edits.Refusef("the scenario is no longer there: it may have been removed in another window"))
		return
	}
	twin := sc.Clone()
	twin.ID, twin.Name = domain.NewID(), shortName(sc.Name+" (copy)")
	for i := range twin.Steps {
		twin.Steps[i].ID = domain.NewID()
	}
	s.done(w, r, edit.AddScenario{Scenario: twin})
}

func shortName(name string) string {
	if r := []rune(name); len(r) > domain.MaxName {
		return string(r[:domain.MaxName])
	}
	return name
}
