package code

import (
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// sheetsView is the list of a project's worksheets.
type sheetsView struct {
	Project domain.ID
	Path    string
	Sheets  []sheetLine
	From    []domain.Choice // what a new one may start from
	Full    bool
}

type sheetLine struct {
	ID                      domain.ID
	Title, Path, From, Rows string
	Confirmed               string // empty: nobody
	Chosen                  bool
}

func (s Screen) loadSheets(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.sheetsDesk(r).Page(r, p, "Energy code worksheets", "Energy code")
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: "Energy code", Path: ui.Code(id)}, ui.Crumb{Name: "Worksheets"})
	return edits.View{Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: sheetsContent(newSheetsView(p))}, err
}

func newSheetsView(p *domain.Project) sheetsView {
	v := sheetsView{Project: p.ID, Path: ui.CodeSheets(p.ID), Full: len(p.Worksheets) >= domain.MaxWorksheets}
	for _, k := range domain.CodePacks() {
		v.From = append(v.From, domain.Choice{Value: string(k.ID), Label: "a copy of " + k.Name})
	}
	for i := range p.Worksheets {
		w := &p.Worksheets[i]
		v.From = append(v.From, domain.Choice{Value: string(w.ID), Label: "a copy of worksheet " + w.Title})
		v.Sheets = append(v.Sheets, sheetLine{ID: w.ID, Title: w.Title, Path: ui.CodeSheet(p.ID, w.ID), From: fromWords(w), Rows: edits.Count(len(w.Changes), "row") + " changed",
			Confirmed: w.Confirmed, Chosen: domain.CodePack(w.ID) == p.CodePack})
	}
	v.From = append(v.From, domain.Choice{Value: "", Label: "blank: each duty unknown"})
	return v
}

func fromWords(w *domain.CodeWorksheet) string {
	if w.Base == "" {
		return "blank"
	}
	return w.Base.Name()
}

// addSheet makes a worksheet: of a built-in code, of another worksheet, or blank.
func (s Screen) addSheet(w http.ResponseWriter, r *http.Request) {
	desk := s.sheetsDesk(r)
	outcome, err := desk.Apply(r, func(p *domain.Project) (string, error) {
		sheet := domain.CodeWorksheet{}
		from := r.PostFormValue("from")
		switch other := p.Worksheet(domain.ID(from)); {
		case other != nil:
			sheet = *other
			sheet.Changes, sheet.Confirmed = slices.Clone(other.Changes), ""
		case from != "" && !slices.ContainsFunc(domain.CodePacks(), func(k domain.NamedPack) bool { return string(k.ID) == from }):
			return "", edits.Refusef("there is no code %q to copy: reload the page and choose again", from)
		default:
			sheet.Base = domain.CodePack(from)
		}
		sheet.Title = r.PostFormValue("title")
		sheet.ID = ""
		return putSheet(p, sheet)
	})
	desk.Done(w, r, outcome, err, "")
}

// putSheet adds a worksheet under a title of its own.
func putSheet(p *domain.Project, w domain.CodeWorksheet) (string, error) {
	env := domain.Env{Project: p}
	f, _ := domain.FieldNamed(domain.WorksheetFields, "title")
	if err := f.Set(env, &w, w.Title); err != nil {
		return "", edits.Refusef("%w", err)
	}
	if err := freeTitle(p, &w); err != nil {
		return "", edits.Refusef("%w", err)
	}
	if len(p.Worksheets) >= domain.MaxWorksheets {
		return "", edits.Refusef("the project has %d worksheets; more do not fit", domain.MaxWorksheets)
	}
	w.ID, w.Seq = domain.NewID(), 1
	for i := range p.Worksheets {
		w.Seq = max(w.Seq, p.Worksheets[i].Seq+1)
	}
	p.Worksheets = append(p.Worksheets, w)
	return "added energy code worksheet " + w.Title, nil
}

// freeTitle refuses a title that another worksheet has: the code is chosen by it.
func freeTitle(p *domain.Project, w *domain.CodeWorksheet) error {
	for i := range p.Worksheets {
		if o := &p.Worksheets[i]; o.ID != w.ID && strings.EqualFold(o.Title, w.Title) {
			return fmt.Errorf("there is a worksheet %q already: give this one another title", o.Title)
		}
	}
	return nil
}

// removeSheet takes a worksheet away; if rooms are checked by it, none is chosen then.
func (s Screen) removeSheet(w http.ResponseWriter, r *http.Request) {
	desk, id := s.sheetsDesk(r), domain.ID(r.PostFormValue("worksheet"))
	outcome, err := desk.Apply(r, func(p *domain.Project) (string, error) {
		sheet := p.Worksheet(id)
		if sheet == nil {
			return "", edits.Refusef("this worksheet is no longer there: it may have been removed in another window")
		}
		said := "removed energy code worksheet " + sheet.Title
		if p.CodePack == domain.CodePack(id) {
			p.CodePack = ""
			said += ", by which the rooms were checked: no code is chosen now"
		}
		p.Worksheets = slices.DeleteFunc(p.Worksheets, func(x domain.CodeWorksheet) bool { return x.ID == id })
		return said, nil
	})
	desk.Done(w, r, outcome, err, outcome.Said)
}

// importSheet takes a worksheet file in, whole or not at all.
func (s Screen) importSheet(w http.ResponseWriter, r *http.Request) {
	desk := s.sheetsDesk(r)
	sheet, err := readSheet(w, r)
	if err != nil {
		desk.Done(w, r, store.Outcome{}, err, "")
		return
	}
	outcome, err := desk.Apply(r, func(p *domain.Project) (string, error) { return putSheet(p, sheet) })
	desk.Done(w, r, outcome, err, outcome.Said)
}

func readSheet(w http.ResponseWriter, r *http.Request) (domain.CodeWorksheet, error) {
	var none domain.CodeWorksheet
	r.Body = http.MaxBytesReader(w, r.Body, energycode.MaxBytes+1<<20)
	part, _, err := r.FormFile("file")
	if err != nil {
		return none, edits.Refusef("the file did not arrive: choose a worksheet file of at most %d MB and send it again", energycode.MaxBytes>>20)
	}
	defer part.Close()
	pack, err := energycode.Read(io.Reader(part))
	if err == nil {
		none, err = energycode.WorksheetFrom("", pack)
	}
	if err != nil {
		return none, edits.Refusef("nothing was taken in. The file says what cannot be: %w", err)
	}
	if title := r.PostFormValue("title"); title != "" {
		none.Title = title
	}
	return none, nil
}

// exportSheet gives the worksheet with all of its rows as a file.
func (s Screen) exportSheet(w http.ResponseWriter, r *http.Request) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	sheet := p.Worksheet(sheetID(r))
	if sheet == nil {
		edits.Refuse(w, r, s.Log, noSheet(r))
		return
	}
	pack, _ := energycode.Compile(sheet)
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="energy-code-worksheet.json"`)
	w.Header().Set("Cache-Control", "no-store")
	if err := energycode.Write(w, pack); err != nil {
		s.Log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}

func noSheet(r *http.Request) error {
	return &store.Failure{Kind: store.ErrNotFound, Sentence: fmt.Sprintf("there is no worksheet %s: it may have been removed", sheetID(r))}
}
