package sheets

import (
	"net/http"
	"strconv"
	"time"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/export"
	"scopewright/export/pdf"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is the Documents page, ready to print.
type view struct {
	Path      string
	Printer   printer
	Revisions []revisionLine
	Next      string // "revision 3"
	Rooms     int
	Large     bool // the whole set takes a while
	Compare   compareForm
}

// printer is the form from which documents are printed.
type printer struct {
	Base     string // below it lie the documents
	Revision int    // that is fixed; 0: the form asks
	States   []domain.Choice
	Papers   []domain.Choice
	Paper    string
	Storeys  []domain.Choice
	Layers   []domain.Choice // that storey plans can do without
	Kinds    []kindLine
}

// kindLine is one kind of document with the formats it comes in.
type kindLine struct {
	ID, Title, For, Per string
	HTML, PDF           bool
	XLSX, CSV           bool
	SVG, DXF            bool
}

// revisionLine is one issued revision.
type revisionLine struct {
	Number                          int
	Name, Date, Purpose, Author, By string
	Note, Path, Changes             string
	Hash                            string
}

type link struct{ Text, Path string }

// tableChoice is the page on which a table is chosen for a CSV file, or a
// drawing for an SVG file.
type tableChoice struct {
	Title, Sentence string
	Tables          []link
}

// manyRooms is from where on the whole set takes longer than a person waits
// without a word.
const manyRooms = 500

func crumbs(p *domain.Project, last string) []ui.Crumb {
	out := []ui.Crumb{{Name: p.Name, Path: ui.Project(p.ID)}}
	if last == "" {
		return append(out, ui.Crumb{Name: "Documents"})
	}
	return append(out, ui.Crumb{Name: "Documents", Path: ui.Documents(p.ID)}, ui.Crumb{Name: last})
}

func frame(r *http.Request, p *domain.Project, title, last string) ui.Page {
	page := ui.NewPage(r, title)
	page.Project, page.Tab, page.Crumbs = p, "Documents", crumbs(p, last)
	return page
}

// show is the Documents page.
func (s Screen) show(w http.ResponseWriter, r *http.Request) {
	id := edits.ProjectID(r)
	p, _, err := s.Store.Project(r.Context(), id)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	lines, err := s.Store.Revisions(r.Context(), id)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	_, rooms, err := s.Store.RoomLines(r.Context(), id, store.Filter{Limit: 1})
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	v := view{Path: ui.Documents(id), Printer: newPrinter(p, lines, 0), Next: "revision 1", Rooms: rooms, Large: rooms > manyRooms, Compare: newCompareForm(lines, -1, 0)}
	if len(lines) > 0 {
		v.Next = "revision " + strconv.Itoa(lines[0].Number+1)
	}
	for _, l := range lines {
		v.Revisions = append(v.Revisions, newRevisionLine(id, l))
	}
	edits.Render(w, r, s.Log, http.StatusOK, documentsPage(frame(r, p, "Documents", ""), v))
}

func newPrinter(p *domain.Project, lines []store.RevisionLine, revision int) printer {
	out := printer{Base: ui.Documents(p.ID) + "/", Revision: revision, Paper: string(usualPaper(p)), Storeys: ui.StoreyChoices(p)}
	out.States = []domain.Choice{{Value: "0", Label: "as it is now"}}
	for _, l := range lines {
		out.States = append(out.States, domain.Choice{Value: strconv.Itoa(l.Number), Label: "revision " + strconv.Itoa(l.Number) + ", " + l.At.Local().Format(time.DateOnly)})
	}
	for _, paper := range pdf.Papers {
		out.Papers = append(out.Papers, domain.Choice{Value: string(paper), Label: paperNames[paper]})
	}
	for _, l := range optionalLayers {
		out.Layers = append(out.Layers, domain.Choice{Value: string(l), Label: l.Name()})
	}
	for _, k := range export.Kinds() {
		line := kindLine{ID: k.ID, Title: k.Title, For: k.For, Per: "one document", HTML: k.Has(export.HTML), PDF: k.Has(export.PDF), XLSX: k.Has(export.XLSX), CSV: k.Has(export.CSV), SVG: k.Has(export.SVG), DXF: k.Has(export.DXF)}
		if k.Per == export.PerRoom {
			line.Per = "a sheet for each room"
		}
		out.Kinds = append(out.Kinds, line)
	}
	return out
}

var paperNames = map[pdf.Paper]string{
	pdf.Letter: "Letter, 8.5 x 11 in", pdf.A4: "A4, 210 x 297 mm", pdf.Tabloid: "Tabloid, 11 x 17 in", pdf.A3: "A3, 297 x 420 mm",
	pdf.ArchC: "Arch C, 18 x 24 in", pdf.A2: "A2, 420 x 594 mm", pdf.ArchD: "Arch D, 24 x 36 in", pdf.A1: "A1, 594 x 841 mm",
}

func usualPaper(p *domain.Project) pdf.Paper {
	if p.Units == units.SI {
		return pdf.A4
	}
	return pdf.Letter
}

func newRevisionLine(project domain.ID, l store.RevisionLine) revisionLine {
	out := revisionLine{
		Number: l.Number, Name: "Revision " + strconv.Itoa(l.Number), Date: l.At.Local().Format("2006-01-02 15:04"), Purpose: l.Purpose,
		Author: l.Author, Note: l.Note, Path: ui.Revision(project, l.Number), Hash: l.SHA256,
	}
	if l.Number > 1 {
		out.Changes = "What changed since revision " + strconv.Itoa(l.Number-1)
	}
	return out
}
