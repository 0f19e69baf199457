package intake

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/match"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// modelView is the part of a preview that only models and drawings have.
type modelView struct {
	Source   string
	Question string // what has to be answered before anything can be stored
	Problems []building.Problem
	More     int // problems beyond those shown

	Unit  string
	Units []domain.Choice
	Says  string // what the file says of its unit

	Layers  []layerView
	Enclose []domain.Choice
	Closing string
	Faces   string // what two lines of a wall are

	Storeys   []storeyView
	TakeFacts bool
	DropWalls bool
	Report    string // what was done, once it was
}

// storeyView is one storey of the file with where it goes.
type storeyView struct {
	Field, Name, Level, Into, IntoName, Why string
	Places                                  []domain.Choice
	Facts                                   []string
	Plan                                    thumbnail
	PlanPath                                string
}

const mostProblems = 100

// renderModel shows what a model would do, what has to be answered first, how
// far its reading is, or what it did.
func (s Screen) renderModel(w http.ResponseWriter, r *http.Request, p *parcel, project *domain.Project, status int, wrong string) {
	page := frame(r, project, "Import of "+p.name, p.name)
	switch {
	case p.model == nil:
		s.shelf.drop(p.token)
		s.showSend(w, r, http.StatusUnprocessableEntity, sendView{Wrong: sentences(p.wrong)})
		return
	case p.report != nil:
		v := p.report.view
		v.Tabs, v.Lines = nil, nil
		v.addTabs(r.URL.Query(), p.report.count, p.report.all)
		v.addDiffering(r.URL.Query(), p.report.lines)
		v.addPage(r.URL.Query(), p.report.lines)
		edits.Render(w, r, s.Log, status, reportPage(page, v))
		return
	}
	v, err := s.modelPreview(r, p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	if v.Error = wrong; wrong == "" && p.wrong != nil {
		v.Error = sentences(p.wrong)[0]
	}
	edits.Render(w, r, s.Log, status, modelPage(page, v))
}

// modelPreview says what a model would do to the project as it is now.
func (s Screen) modelPreview(r *http.Request, p *parcel) (previewView, error) {
	v := previewView{Path: ui.ImportPreview(p.project, p.token), Name: p.name, Kind: "plan"}
	scope, err := s.Store.Load(r.Context(), p.project)
	if err != nil {
		return v, err
	}
	v.Model = newModelView(p.model, &scope.Project)
	if p.model.model == nil {
		return v, nil
	}
	v.Notes = p.model.model.Notes
	fit := p.model.fit(hereOf(scope), s.newID)
	lines := fitLines(&scope.Project, fit, false)
	v.Model.addStoreys(p.model, fit, &scope.Project)
	v.addModelLines(r, lines)
	v.Seen = fitStamp(&scope.Project, fit)
	if refused := fitRefused(fit, len(scope.Rooms)); refused != nil {
		v.Model.Question = refused.Error()
	} else if p.model.ready() && !fit.Nothing() {
		v.Apply = upperFirst(fitWords(fit))
	}
	return v, nil
}

func upperFirst(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

func (v *previewView) addModelLines(r *http.Request, lines []line) (map[action]int, int) {
	count := map[action]int{}
	for i := range lines {
		count[lines[i].Action]++
	}
	all := len(lines) - count[missing]
	v.addTabs(r.URL.Query(), count, all)
	v.addDiffering(r.URL.Query(), lines)
	v.addPage(r.URL.Query(), lines)
	return count, all
}

func (v *previewView) addDiffering(q interface{ Get(string) string }, lines []line) {
	n := 0
	for i := range lines {
		if lines[i].Differs {
			n++
		}
	}
	v.Tabs = append(v.Tabs, tab{"Area differs", v.Path + "?show=" + string(differing), n, q.Get("show") == string(differing)})
}

func newModelView(f *modelFile, project *domain.Project) *modelView {
	v := &modelView{Source: f.source(), Unit: f.answers.unit, Units: f.unitChoices(project.Units), Question: f.unsure(),
		TakeFacts: f.answers.fit.TakeFacts, DropWalls: f.answers.fit.DropWalls, Says: "as the file says"}
	switch {
	case f.contents != nil && f.contents.Unit.Sure:
		v.Says += ": " + f.contents.Unit.Declared
	case f.contents != nil:
		v.Says = "not chosen yet"
	case f.model != nil && f.model.Unit.Name != "" && f.answers.unit == "":
		v.Says += ": " + f.model.Unit.Name
	}
	if f.model != nil {
		for _, p := range f.model.Problems {
			if p.Where == "unit" && p.Fatal {
				continue // asked above
			}
			v.Problems = append(v.Problems, p)
		}
	} else if f.contents != nil {
		v.Problems = f.contents.Problems
	}
	if len(v.Problems) > mostProblems {
		v.More = len(v.Problems) - mostProblems
		v.Problems = v.Problems[:mostProblems]
	}
	v.addLayers(f, project.Units)
	return v
}

// addStoreys says where each storey of the file goes.
func (v *modelView) addStoreys(f *modelFile, fit *match.Fit, project *domain.Project) {
	places := []domain.Choice{}
	for _, b := range project.Buildings {
		for _, st := range b.Storeys {
			name := st.Name
			if len(project.Buildings) > 1 {
				name = b.Name + ", " + name
			}
			places = append(places, domain.Choice{Value: string(st.ID), Label: name})
		}
	}
	for i := range fit.Storeys {
		s := &fit.Storeys[i]
		from := &f.model.Storeys[s.Index]
		view := storeyView{Field: "storey-" + strconv.Itoa(s.Index), Name: s.Name, Level: s.Height(project.Units), Into: string(s.Into), IntoName: s.IntoName, Why: s.Why,
			Places: append(places[:len(places):len(places)], domain.Choice{Value: match.Fresh, Label: "a new storey"}, domain.Choice{Value: match.Leave, Label: "nowhere: leave it out"})}
		switch {
		case s.Into == "":
			view.Into = match.Leave
		case s.Made != nil:
			view.Into = match.Fresh
		}
		if s.Into != "" {
			view.PlanPath = ui.Plan(project.ID, s.Into)
		}
		view.Facts = storeyFacts(s, from, project.Units)
		view.Plan = newThumbnail(s, from)
		v.Storeys = append(v.Storeys, view)
	}
}

func storeyFacts(s *match.Storey, from *building.Storey, sys units.System) (facts []string) {
	var total units.SquareMetres
	for i := range from.Spaces {
		total += from.Spaces[i].Area
	}
	facts = append(facts, domain.Count(len(from.Spaces), "space", "spaces")+", "+units.Area(total, sys))
	if s.Into == "" {
		return facts
	}
	w := s.Walls
	if n := w.New + w.Kept; n > 0 {
		text := domain.Count(w.New, "new wall", "new walls")
		if w.Kept > 0 {
			text += fmt.Sprintf(", %d that are there already", w.Kept)
		}
		facts = append(facts, text)
	}
	if w.Windows+w.Doors > 0 {
		facts = append(facts, domain.Count(w.Windows, "window", "windows")+", "+domain.Count(w.Doors, "door", "doors"))
	}
	if w.Indoors > 0 {
		facts = append(facts, domain.Count(w.Indoors, "window gives", "windows give")+" on another room")
	}
	if w.Rooflights > 0 {
		facts = append(facts, domain.Count(w.Rooflights, "rooflight", "rooflights"))
	}
	if w.Gone > 0 {
		facts = append(facts, domain.Count(w.Gone, "wall is", "walls are")+" not in the file and would go")
	}
	if w.LightsGone > 0 {
		facts = append(facts, domain.Count(w.LightsGone, "rooflight is", "rooflights are")+" not in the file and would go")
	}
	if w.TooMany > 0 {
		facts = append(facts, domain.Count(w.TooMany, "wall or rooflight is", "walls or rooflights are")+" beyond what one storey takes and would be left out")
	}
	return facts
}
