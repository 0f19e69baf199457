package intake

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/dxf"
	"scopewright/store/intake/match"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// takeModel reads a model and leads to its preview, or to the page that says
// how far it is.
func (s Screen) takeModel(w http.ResponseWriter, r *http.Request, p *parcel) {
	s.startReading(p, answers{})
	s.wait(r, p.reading)
	now, err := s.shelf.get(p.project, p.token)
	if err == nil && now.wrong != nil && now.model == nil {
		s.shelf.drop(p.token)
		s.showSend(w, r, http.StatusUnprocessableEntity, sendView{Wrong: sentences(now.wrong)})
		return
	}
	then := ui.ImportPreview(p.project, p.token)
	if err == nil && now.model != nil && now.model.contents != nil && r.FormValue("what") == toTrace {
		then += beneathPart
	}
	http.Redirect(w, r, then, http.StatusSeeOther)
}

// answer takes the designer's answers about a model. Where they change how the
// file is read, it is read anew.
func (s Screen) answer(w http.ResponseWriter, r *http.Request, old *parcel, project *domain.Project) {
	if old.model == nil || old.reading != nil || old.report != nil {
		http.Redirect(w, r, ui.ImportPreview(old.project, old.token), http.StatusSeeOther)
		return
	}
	if r.PostForm == nil {
		_ = r.ParseForm() // what is missing of it counts as not chosen
	}
	a, again, err := old.model.answered(r, project)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	fresh := *old
	fresh.wrong = nil
	if again {
		s.startReading(&fresh, a)
		s.wait(r, fresh.reading)
	} else {
		model := *old.model
		model.answers = a
		fresh.model = &model
		s.shelf.put(&fresh)
	}
	http.Redirect(w, r, ui.ImportPreview(old.project, old.token), http.StatusSeeOther)
}

// answered reads the answers from a form; again tells that the file has to be
// read anew for them.
func (f *modelFile) answered(r *http.Request, project *domain.Project) (a answers, again bool, err error) {
	form := r.PostForm
	a = f.answers
	if form.Has("unit") {
		a.unit = form.Get("unit")
		if a.unit != "" && !f.knowsUnit(a.unit) {
			return a, false, edits.Refusef("the unit %.20q is not known: choose one of the list", a.unit)
		}
		again = again || a.unit != f.answers.unit
	}
	if f.contents != nil && form.Has("layers") {
		a.layers = map[string]dxf.Role{}
		for i, l := range f.contents.Layers {
			role := dxf.Role(form.Get("layer-" + strconv.Itoa(i)))
			if slices.ContainsFunc(roles, func(c domain.Choice) bool { return c.Value == string(role) }) {
				a.layers[l.Name] = role
			}
			again = again || a.layers[l.Name] != f.role(l)
		}
		enclose, _ := strconv.ParseFloat(form.Get("enclose"), 64)
		if a.enclose = units.Metres(enclose); !(enclose >= 0 && enclose <= 2) {
			return a, false, edits.Refusef("a gap of %g m between walls cannot be closed: choose one of the list", enclose)
		}
		a.single = form.Get("faces") == eachLine
		again = again || a.enclose != f.answers.enclose || a.single != f.answers.single
	}
	if form.Has("storeys") && f.model != nil {
		a.fit = match.Choices{TakeFacts: form.Get("facts") == "yes", DropWalls: form.Get("walls") == "drop"}
		for i := range f.model.Storeys {
			a.fit.Storeys = append(a.fit.Storeys, knownPlace(form.Get("storey-"+strconv.Itoa(i)), project))
		}
	}
	return a, again, nil
}

func knownPlace(text string, project *domain.Project) string {
	if _, st := project.FindStorey(domain.ID(text)); st != nil || text == match.Fresh || text == match.Leave {
		return text
	}
	return match.Guess
}

func (f *modelFile) knowsUnit(short string) bool {
	for _, c := range f.unitChoices(units.SI) {
		if c.Value == short {
			return true
		}
	}
	return false
}

// unitChoices offers units with the size that each would make of the drawing.
func (f *modelFile) unitChoices(sys units.System) []domain.Choice {
	var out []domain.Choice
	if f.contents == nil {
		for _, u := range lengthUnits {
			out = append(out, domain.Choice{Value: u.short, Label: u.name})
		}
		return out
	}
	for _, c := range f.contents.Unit.Candidates {
		label := c.Name + ": " + extent(c.Width, sys) + " x " + extent(c.Height, sys)
		if !c.Plausible {
			label += ", hardly a building"
		}
		out = append(out, domain.Choice{Value: c.Unit, Label: label})
	}
	return out
}

// extent prints a length of a whole drawing, to three digits.
func extent(m units.Metres, sys units.System) string {
	v, unit := float64(m), " m"
	if sys == units.US {
		v, unit = v/units.MetresPerFoot, " ft"
	}
	text := strconv.FormatFloat(v, 'g', 3, 64)
	if v >= 100 || strings.ContainsRune(text, 'e') {
		text = units.Trim(v, 0)
	}
	return text + unit
}
