package sheets

import (
	"bytes"
	"context"
	"fmt"
	"mime"
	"net/http"
	"regexp"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/export"
	"scopewright/export/html"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// made is a document ready to be printed.
type made struct {
	order
	in   sheet.Input
	doc  sheet.Document
	size pdf.Paper // what was asked for, or the usual one
}

// document answers with a print page or a file.
func (s Screen) document(w http.ResponseWriter, r *http.Request) {
	o, err := readOrder(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	select {
	case s.turns <- struct{}{}:
		defer func() { <-s.turns }()
	case <-r.Context().Done():
		return
	}
	m, err := s.make(r.Context(), o)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	tellMade(w, r)
	switch {
	case m.styles:
		s.sendStyles(w, r, m)
	case m.format == export.HTML:
		edits.Render(w, r, s.Log, http.StatusOK, paperPage(newPaper(r, m)))
	case m.format == export.CSV && m.table < 0 && len(m.doc.Tables()) > 1:
		s.offerTables(w, r, m)
	case m.ofDrawings() && m.table < 0 && len(m.doc.Drawings()) > 1:
		s.offerDrawings(w, r, m)
	default:
		s.sendFile(w, r, m)
	}
}

func (s Screen) make(ctx context.Context, o order) (*made, error) {
	in, err := s.input(ctx, o)
	if err != nil {
		return nil, err
	}
	if err := o.pickNumbers(in.Scope.Rooms); err != nil {
		return nil, err
	}
	if err := o.pickKnown(in.Scope); err != nil {
		return nil, err
	}
	in.PlanWithout = o.without
	if in.PlanBeneath, err = s.picturesBeneath(ctx, o, in.Scope); err != nil {
		return nil, err
	}
	m := &made{order: o, in: in}
	if m.doc, err = export.Build(o.kind.ID, in, o.only); err != nil {
		return nil, edits.Refusef("%s", edits.SentenceOf(err))
	}
	m.size = o.paperOf(&in.Scope.Project)
	return m, nil
}

// pickKnown refuses rooms and storeys that are not there, so that nobody takes
// an empty sheet for a clean one.
func (o *order) pickKnown(scope *domain.Scope) error {
	for _, id := range o.only.Storeys {
		if _, storey := scope.Project.FindStorey(id); storey == nil {
			return notThere("There is no such storey in this project: it may have been removed.")
		}
	}
	if len(o.only.Rooms) == 0 {
		return nil
	}
	known := make(map[domain.ID]bool, len(scope.Rooms))
	for i := range scope.Rooms {
		known[scope.Rooms[i].ID] = true
	}
	for _, id := range o.only.Rooms {
		if !known[id] {
			return notThere("There is no such room in this state of the project: it may have been removed, or added later.")
		}
	}
	return nil
}

// sendFile makes the file before the answer begins, so that one that cannot be
// made is answered as an error.
func (s Screen) sendFile(w http.ResponseWriter, r *http.Request, m *made) {
	if err := m.checkTables(); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	var out bytes.Buffer
	err := export.Write(&out, m.format, m.doc, export.Options{Paper: m.size, BigType: m.kind.BigType, BOM: true, Table: max(0, m.table)})
	if err != nil {
		edits.Refuse(w, r, s.Log, fmt.Errorf("making %s as %s: %w", m.kind.ID, m.format, err))
		return
	}
	h := w.Header()
	h.Set("Content-Type", contentTypes[m.format])
	how := "attachment"
	if m.format == export.PDF && r.URL.Query().Get("open") != "" {
		// Browsers show a PDF in a page of their own making, with styles and an
		// embedded viewer that the app's policy would block. A PDF runs nothing here.
		how = "inline"
		h.Set("Content-Security-Policy", "frame-ancestors 'none'")
	}
	h.Set("Content-Disposition", mime.FormatMediaType(how, map[string]string{"filename": m.fileName()}))
	h.Set("Content-Length", strconv.Itoa(out.Len()))
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "no-store")
	if _, err := w.Write(out.Bytes()); err != nil {
		s.Log.Warn("file not sent", "path", r.URL.Path, "error", err)
	}
}

// checkTables refuses a file of tables, or of a drawing, where there is none to
// put into it.
func (m *made) checkTables() error {
	what, n := "table", len(m.doc.Tables())
	switch m.format {
	case export.PDF:
		return nil
	case export.SVG, export.DXF:
		what, n = "drawing", len(m.doc.Drawings())
	}
	switch {
	case m.table >= max(n, 1):
		return notThere("There is no such " + what + " in this document.")
	case n == 0 && m.ofDrawings():
		return edits.Refusef("No storey has been drawn yet, so there is no plan to save.")
	case n == 0:
		return edits.Refusef("%s holds no table yet, so there is nothing for a spreadsheet: take it as PDF.", m.kind.Title)
	}
	return nil
}

var contentTypes = map[export.Format]string{
	export.PDF:  "application/pdf",
	export.XLSX: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
	export.CSV:  "text/csv; charset=utf-8",
	export.SVG:  "image/svg+xml",
	export.DXF:  "image/vnd.dxf",
}

func (m *made) fileName() string {
	p, room := &m.in.Scope.Project, ""
	if len(m.only.Rooms) == 1 {
		for i := range m.in.Scope.Rooms {
			if m.in.Scope.Rooms[i].ID == m.only.Rooms[0] {
				room = m.in.Scope.Rooms[i].Number
			}
		}
	}
	name := p.Number
	if name == "" {
		name = p.Name
	}
	kind := m.kind.ID
	if m.table > 0 {
		kind += " " + strconv.Itoa(m.table+1)
	}
	return export.FileName(name, kind, room, m.in.Issue.Revision, string(m.format))
}

// mostNamedPages is how many sheets get running heads of their own in a
// browser's print; the style sheet of more would be slower than it is worth.
const mostNamedPages = 400

func (s Screen) sendStyles(w http.ResponseWriter, r *http.Request, m *made) {
	css, err := html.PageStyles(m.doc, string(m.size))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	w.Header().Set("Content-Type", "text/css; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	if _, err := w.Write([]byte(css)); err != nil {
		s.Log.Warn("styles not sent", "path", r.URL.Path, "error", err)
	}
}

// offerTables lets a person choose which table a CSV file holds: it can hold
// only one.
func (s Screen) offerTables(w http.ResponseWriter, r *http.Request, m *made) {
	v := tableChoice{Title: m.kind.Title + " as CSV", Sentence: "A CSV file holds one table, and this document has " + strconv.Itoa(len(m.doc.Tables())) + ". Choose one; XLSX holds them all."}
	for i, t := range m.doc.Tables() {
		v.Tables = append(v.Tables, link{t.Name + rowsOf(len(t.Table.Rows)), m.address("csv", "table", strconv.Itoa(i))})
	}
	s.offer(w, r, m, v)
}

// ofDrawings tells that a file of the format holds one drawing.
func (m *made) ofDrawings() bool { return m.format == export.SVG || m.format == export.DXF }

// offerDrawings does so for the drawings: an SVG or DXF file is one of them.
func (s Screen) offerDrawings(w http.ResponseWriter, r *http.Request, m *made) {
	format := strings.ToUpper(string(m.format))
	v := tableChoice{Title: m.kind.Title + " as " + format, Sentence: "One " + format + " file holds one drawing. Choose the storey; PDF holds them all."}
	for i, d := range m.doc.Drawings() {
		v.Tables = append(v.Tables, link{d.Sheet.Number + " " + d.Sheet.Title, m.address(string(m.format), "table", strconv.Itoa(i), "paper", string(m.size))})
	}
	s.offer(w, r, m, v)
}

func (s Screen) offer(w http.ResponseWriter, r *http.Request, m *made, v tableChoice) {
	page := ui.NewPage(r, v.Title)
	page.Project, page.Tab = &m.in.Scope.Project, "Documents"
	page.Crumbs = crumbs(&m.in.Scope.Project, v.Title)
	edits.Render(w, r, s.Log, http.StatusOK, tablesPage(page, v))
}

func rowsOf(n int) string { return ", " + domain.Count(n, "row", "rows") }

var token = regexp.MustCompile(`^[a-z0-9]{8,24}$`)

// tellMade lets the page that asked for a file know that it is on its way: the
// browser says nothing of a download.
func tellMade(w http.ResponseWriter, r *http.Request) {
	if t := r.URL.Query().Get("made"); token.MatchString(t) {
		http.SetCookie(w, &http.Cookie{Name: "sw_made", Value: t, Path: "/", MaxAge: 60, SameSite: http.SameSiteStrictMode})
	}
}
