package sheets

import (
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/export"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
	"scopewright/web/ui"
)

// paperView is a print page: the sheets on their desk, with a bar above that
// does not print.
type paperView struct {
	Title, Heading string
	Theme, State   string
	Back           link
	Doc            sheet.Document
	BigType        bool
	Paper          string // letter and so on
	PaperStyles    string // css/paper-letter.css
	PageStyles     string // address of the pages' running heads; "" for none
	PDF            string
	Papers         []paperLink
	Others         []link // XLSX, CSV
	Sheets         string
	pictureURL     func(sha string) string
}

type paperLink struct {
	link
	On bool
}

func newPaper(r *http.Request, m *made) paperView {
	p := &m.in.Scope.Project
	v := paperView{
		Title: m.doc.Title, Heading: m.heading(), Theme: ui.NewPage(r, "").Theme, Back: m.back(p), Doc: m.doc, BigType: m.kind.BigType, Paper: string(m.size),
		PaperStyles: "css/paper-" + string(m.size) + ".css", PDF: m.address("pdf", "paper", string(m.size), "open", "1"),
		Sheets: domain.Count(len(m.doc.Sheets), "sheet", "sheets"), State: "as it is now",
	}
	v.pictureURL = func(sha string) string { return ui.Picture(p.ID, sha) }
	if m.revision > 0 {
		v.State = "revision " + strconv.Itoa(m.revision) + ", exactly as issued on " + m.in.Issue.Date
	}
	if len(m.doc.Sheets) <= mostNamedPages {
		v.PageStyles = m.address(pageStyles, "paper", string(m.size))
	}
	for _, size := range pdf.Papers {
		if size.Large() && len(m.doc.Drawings()) == 0 && size != m.size {
			continue // a schedule gains nothing by it
		}
		v.Papers = append(v.Papers, paperLink{link{shortPaper[size], m.address("html", "paper", string(size))}, size == m.size})
	}
	for _, f := range m.kind.Formats {
		switch f {
		case export.XLSX, export.CSV:
			v.Others = append(v.Others, link{strings.ToUpper(string(f)), m.address(string(f))})
		case export.SVG, export.DXF:
			v.Others = append(v.Others, link{strings.ToUpper(string(f)), m.address(string(f), "paper", string(m.size))})
		}
	}
	return v
}

var shortPaper = map[pdf.Paper]string{pdf.Letter: "Letter", pdf.A4: "A4", pdf.Tabloid: "Tabloid", pdf.A3: "A3", pdf.ArchC: "Arch C", pdf.A2: "A2", pdf.ArchD: "Arch D", pdf.A1: "A1"}

// heading is the document's title without the project, which its sheets name.
func (m *made) heading() string {
	return strings.TrimPrefix(m.doc.Title, m.in.Scope.Project.Name+": ")
}

// back leads to where the order was most likely given.
func (m *made) back(p *domain.Project) link {
	switch {
	case m.revision > 0:
		return link{"Revision " + strconv.Itoa(m.revision), ui.Revision(p.ID, m.revision)}
	case len(m.only.Rooms) == 1 && m.numbers == "":
		for i := range m.in.Scope.Rooms {
			if r := &m.in.Scope.Rooms[i]; r.ID == m.only.Rooms[0] {
				return link{r.Label(), ui.Room(p.ID, r.ID)}
			}
		}
	}
	return link{"Documents", ui.Documents(p.ID)}
}
