package code

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// sheetView is a worksheet to be edited: its head, and one part of its rows.
type sheetView struct {
	Project   domain.ID
	ID        domain.ID
	Path      string
	Title     string
	From      string
	Chosen    bool
	State     stateView
	Changed   string
	Bad       []string // rows that no check can read, with why
	Head      []headField
	Confirmed string
	Who, Day  string // to start the confirmation from
	Parts     []partLink
	Part      string
	Controls  []domain.Choice // of the duties' details
	Control   string
	Only      bool // changed rows alone
	OnlyURL   string
	AllURL    string
	Grid      ui.Grid
	Choices   []ui.ChoiceList
	Matrix    bool
	Form      rowForm
}

type headField struct {
	ID, Path, Title, Text, Hint string
	Choices                     []domain.Choice
}

type partLink struct {
	Title, URL string
	On         bool
}

// rowForm writes a whole row at once, also without script.
type rowForm struct {
	Rows   []domain.Choice
	Fields []headField
}

// Parts of a worksheet.
const (
	partFigures   = "figures"
	partDuties    = "duties"
	partDensities = "densities"
)

var kindsOfParts = map[string]domain.CodeRow{partFigures: domain.FigureRow, partDuties: domain.DutyRow, partDensities: domain.DensityRow}

func (s Screen) loadSheet(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	w := p.Worksheet(sheetID(r))
	if w == nil {
		return edits.View{}, noSheet(r)
	}
	page, err := s.sheetDesk(r).Page(r, p, "Worksheet "+w.Title, "Energy code")
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: "Energy code", Path: ui.Code(id)}, ui.Crumb{Name: "Worksheets", Path: ui.CodeSheets(id)}, ui.Crumb{Name: w.Title})
	v := newSheetView(p, w, edits.Query(r))
	v.Who, v.Day = page.Who, s.Now().Format("2006-01-02")
	return edits.View{Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: sheetContent(v), Value: func(path string) (string, string) { return sheetValue(p, w, path) }}, err
}

func newSheetView(p *domain.Project, w *domain.CodeWorksheet, q url.Values) sheetView {
	pack, bad := energycode.Compile(w)
	v := sheetView{Project: p.ID, ID: w.ID, Path: ui.CodeSheet(p.ID, w.ID), Title: w.Title, From: fromWords(w), Chosen: p.CodePack == domain.CodePack(w.ID), Confirmed: w.Confirmed,
		Changed: edits.Count(len(w.Changes), "row") + " changed", Part: q.Get("part"), Control: q.Get("control"), Only: q.Get("only") != ""}
	if kindsOfParts[v.Part] == "" {
		v.Part = partFigures
	}
	v.State = stateView{Key: pack.Key(), Words: edits.SentenceOf(sentence(pack.State())), Note: pack.Note, Confirmed: w.Confirmed != ""}
	for _, b := range bad {
		v.Bad = append(v.Bad, b.Change.Of()+": "+oneLine(b.Err))
	}
	v.Head = headFields(p, w)
	v.links()
	e := &editor{p: p, w: w, pack: pack, base: energycode.BaseOf(w), only: v.Only}
	v.Grid, v.Matrix = e.grid(v.Part, &v.Control), v.Part == partDuties && v.Control == ""
	v.Choices = ui.FieldChoices(domain.Env{Project: p}, fieldsOf(kindsOfParts[v.Part]), v.Part)
	v.Form = e.form(v.Part, v.Control)
	return v
}

// sentence is a text as an error, for edits.SentenceOf.
type sentence string

func (s sentence) Error() string { return string(s) }

func headFields(p *domain.Project, w *domain.CodeWorksheet) []headField {
	var out []headField
	env := domain.Env{Project: p}
	for _, f := range domain.WorksheetFields {
		if f.Name == "confirmed" { // has a form of its own
			continue
		}
		one := headField{ID: "head-" + f.Name, Path: "head/" + f.Name, Title: f.Title, Text: f.Show(env, w), Hint: f.Empty}
		if f.Choices != nil {
			one.Choices = zoneNames(f.Choices(env, w))
		}
		out = append(out, one)
	}
	return out
}

// zoneNames names the rules for daylight areas, the only choice of a worksheet's head.
func zoneNames(list []domain.Choice) []domain.Choice {
	out := slices.Clone(list)
	for i := range out {
		if code, known := daylight.FindZoneCode(out[i].Value); known {
			out[i].Label = code.Name
		}
	}
	return out
}

func (v *sheetView) links() {
	for _, part := range []struct{ id, title string }{{partFigures, "Figures"}, {partDuties, "Duties by kind of space"}, {partDensities, "Lighting power densities"}} {
		v.Parts = append(v.Parts, partLink{part.title, v.Path + "?part=" + part.id, v.Part == part.id})
	}
	for _, c := range energycode.Controls() {
		if c == energycode.EgressShare { // those after it are asked of no kind of space
			break
		}
		v.Controls = append(v.Controls, domain.Choice{Value: string(c), Label: c.Title()})
	}
	if !slices.ContainsFunc(v.Controls, func(c domain.Choice) bool { return c.Value == v.Control }) {
		v.Control = ""
	}
	v.AllURL = v.Path + "?part=" + v.Part
	if v.Control != "" {
		v.AllURL += "&control=" + v.Control
	}
	v.OnlyURL = v.AllURL + "&only=changed"
}

// sheetValue tells of a cell how it is called and what it holds.
func sheetValue(p *domain.Project, w *domain.CodeWorksheet, path string) (title, now string) {
	env := domain.Env{Project: p}
	if name, head := strings.CutPrefix(path, "head/"); head {
		if f, ok := domain.FieldNamed(domain.WorksheetFields, name); ok {
			return f.Title, f.Show(env, w)
		}
	}
	at := max(strings.LastIndex(path, "/"), 0)
	of, ok := readRow(path[:at])
	if !ok {
		return path, "gone"
	}
	f, known := domain.FieldNamed(fieldsOf(of.Kind), path[min(at+1, len(path)):])
	if !known {
		return path, "gone"
	}
	row, _ := rowNow(w, of)
	return of.Of() + ", " + strings.ToLower(f.Title), f.Show(env, &row)
}
