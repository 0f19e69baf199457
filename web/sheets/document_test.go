package sheets

import (
	"bytes"
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/export"
)

func TestDocuments_everyKindInEveryFormat(t *testing.T) {
	a := newApp(t)
	page := a.Get(documents)
	require.Equal(t, http.StatusOK, page.Code)
	for _, k := range export.Kinds() {
		for _, f := range k.Formats {
			address := documents + "/" + k.ID + "." + string(f)
			assert.Contains(t, page.Body.String(), `formaction="`+address+`"`)
			got := a.Get(address)
			require.Equal(t, http.StatusOK, got.Code, address)
			assert.Equal(t, "no-store", got.Header().Get("Cache-Control"), address)
			if f == export.PDF || f == export.XLSX {
				assert.Equal(t, "nosniff", got.Header().Get("X-Content-Type-Options"), address)
				assert.Regexp(t, `^attachment; filename=p-7-a_`+k.ID+`\.`+string(f)+`$`, got.Header().Get("Content-Disposition"), address)
			}
			switch f {
			case export.PDF:
				assert.True(t, bytes.HasPrefix(got.Body.Bytes(), []byte("%PDF-")), address)
			case export.XLSX:
				book, err := excelize.OpenReader(got.Body)
				require.NoError(t, err, address)
				assert.NotEmpty(t, book.GetSheetList())
			case export.HTML:
				assert.Contains(t, got.Body.String(), `class="sheet-number"`, address)
			}
		}
	}
}

func TestDocument_csvHoldsOneTable(t *testing.T) {
	a := newApp(t)
	choice := a.Get(documents + "/loads.csv")
	assert.Contains(t, choice.Body.String(), "A CSV file holds one table")
	assert.Contains(t, choice.Body.String(), "loads.csv?table=1")
	got := a.Get(documents + "/loads.csv?table=0")
	assert.Equal(t, "text/csv; charset=utf-8", got.Header().Get("Content-Type"))
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(got.Body.String(), "\ufeff"))).ReadAll()
	require.NoError(t, err)
	assert.Greater(t, len(rows), 3)
	assert.NotEqual(t, http.StatusOK, a.Get(documents+"/loads.csv?table=99").Code)
}

func TestDocument_svgHoldsOneDrawing(t *testing.T) {
	a := newApp(t)
	choice := a.Get(documents + "/plan.svg?paper=a3")
	assert.Contains(t, choice.Body.String(), "One SVG file holds one drawing")
	assert.Contains(t, choice.Body.String(), "EL-102 Plan of Upper")
	got := a.Get(documents + "/plan.svg?paper=a3&table=1")
	require.Equal(t, http.StatusOK, got.Code)
	assert.Equal(t, "image/svg+xml", got.Header().Get("Content-Type"))
	assert.Contains(t, got.Header().Get("Content-Disposition"), "attachment")
	assert.Contains(t, got.Body.String(), ">2-1</text>")
	assert.NotEqual(t, http.StatusOK, a.Get(documents+"/plan.svg?table=9").Code)

	full := a.Get(documents + "/plan.dxf?table=1")
	assert.Equal(t, "image/vnd.dxf", full.Header().Get("Content-Type"))
	assert.Contains(t, full.Body.String(), "ROOM_NUMBERS")

	bare := a.Get(documents + "/plan.svg?without=names&without=devices&table=1")
	assert.NotContains(t, bare.Body.String(), ">2-1</text>")
	assert.Contains(t, bare.Body.String(), "Left out of this print: room names and devices.")
	assert.Contains(t, a.Get(documents+"/plan.html?without=names").Body.String(), "plan.svg?paper=letter&amp;without=names", "the file is what the page shows")
	assert.NotEqual(t, http.StatusOK, a.Get(documents+"/plan.pdf?without=rooms").Code)

	a.EditRoom("r1", "taken off the plan", func(r *domain.Resolved) { r.Outline = geom.Polygon{} })
	a.EditRoom("r3", "taken off the plan", func(r *domain.Resolved) { r.Outline = geom.Polygon{} })
	none := a.Get(documents + "/plan.svg")
	assert.NotEqual(t, http.StatusOK, none.Code)
	assert.Contains(t, none.Body.String(), "No storey has been drawn yet")
	assert.Contains(t, a.Get(documents+"/plan.html").Body.String(), "No storey has been drawn yet.")
}

func TestDocument_printPage(t *testing.T) {
	a := newApp(t)
	got := a.Get(documents + "/scope.html?room=r1&paper=a3")
	require.Equal(t, http.StatusOK, got.Code)
	body := got.Body.String()
	assert.Contains(t, body, "Scope of room 101")
	assert.Contains(t, body, "css/paper-a3.css")
	assert.Contains(t, body, `/projects/p1/documents/scope.css?paper=a3&amp;room=r1`)
	assert.Contains(t, body, `scope.pdf?open=1&amp;paper=a3&amp;room=r1`)
	assert.Contains(t, body, `href="/projects/p1/rooms/r1"`, "the way back")
	assert.NotContains(t, body, " style=")
	assert.NotRegexp(t, `<script(?: [^>]*)?>[^<]`, body, "no inline script")

	styles := a.Get(documents + "/scope.css?room=r1&paper=a3")
	assert.Equal(t, "text/css; charset=utf-8", styles.Header().Get("Content-Type"))
	assert.Contains(t, styles.Body.String(), "size: 297mm 420mm")

	open := a.Get(documents + "/scope.pdf?room=r1&open=1")
	assert.Equal(t, "inline; filename=p-7-a_scope_101.pdf", open.Header().Get("Content-Disposition"))
}

func TestDocument_usualPaperIsThatOfTheUnits(t *testing.T) {
	a := newApp(t)
	assert.Contains(t, a.Get(documents+"/loads.html").Body.String(), "css/paper-letter.css")
	assert.Regexp(t, `<option value="letter" selected`, a.Get(documents).Body.String())
}

func TestDocument_namesAreText(t *testing.T) {
	a := newApp(t)
	for _, path := range []string{"/scope.html?room=r2", "/set.html", "/loads.html", "/findings.html"} {
		assert.NotContains(t, a.Get(documents+path).Body.String(), "<script>alert", path)
	}
	assert.Contains(t, a.Get(documents+"/scope.html?room=r2").Body.String(), "&lt;script&gt;alert(1)&lt;/script&gt;")
}

func TestDocument_picksRooms(t *testing.T) {
	a := newApp(t)
	for query, want := range map[string][2]bool{
		"rooms=101":              {true, false},
		"rooms=2-1":              {false, true},
		"rooms=101,+2-1":         {true, true},
		"rooms=101-2-1":          {true, true},
		"storey=s2":              {false, true},
		"storey=&rooms=":         {true, true},
		"room=r3":                {false, true},
		"rooms=101%3B&room=&x=y": {true, false},
	} {
		got := a.Get(documents + "/scope.html?" + query)
		require.Equal(t, http.StatusOK, got.Code, query)
		assert.Equal(t, want, [2]bool{strings.Contains(got.Body.String(), "EL-701-101"), strings.Contains(got.Body.String(), "EL-702-2-1")}, query)
	}
}

func TestDocument_bad(t *testing.T) {
	a := newApp(t)
	for path, want := range map[string]int{
		"/nothing.pdf":             404,
		"/loads":                   404,
		"/loads.doc":               404,
		"/sequence.xlsx":           404,
		"/scope.pdf?room=nope":     404,
		"/loads.pdf?room=nope":     404,
		"/loads.pdf?storey=nope":   404,
		"/loads.pdf?revision=3":    404,
		"/loads.pdf?revision=x":    422,
		"/loads.pdf?paper=b5":      422,
		"/loads.pdf?rooms=999":     422,
		"/loads.pdf?rooms=2-1-101": 422,
		"/loads.csv?table=-1":      422,
		"/loads.pdf?rooms=1;2":     422,
		"/revisions/1":             404,
		"/revisions/x":             404,
		"/compare":                 422,
		"/compare?from=1&to=0":     404,
		"/compare?from=-1&to=0":    422,
	} {
		got := a.Get(documents + path)
		assert.Equal(t, want, got.Code, path)
		assert.Contains(t, got.Body.String(), "<h1>", "a page that says why: "+path)
	}
	for _, path := range []string{"", "/issue", "/loads.pdf", "/compare?from=0&to=0"} {
		w := a.Get("/projects/nope/documents" + path)
		assert.Equal(t, 404, w.Code, path)
	}
	assert.Equal(t, 404, a.Plain("/projects/nope/documents/issue", "purpose", "x", "author", "y").Code)
}

func TestDocument_tellsThePageThatItIsMade(t *testing.T) {
	a := newApp(t)
	assert.Contains(t, a.Get(documents+"/loads.pdf?made=abcdef0123456789").Header().Get("Set-Cookie"), "sw_made=abcdef0123456789")
	assert.Empty(t, a.Get(documents+"/loads.pdf?made=a%0d%0ab").Header().Get("Set-Cookie"))
}

// Room 102 holds nothing yet: there is nothing for a spreadsheet, and that is
// no failure of the program.
func TestDocument_ofAnEmptyRoomAsSpreadsheet(t *testing.T) {
	a := newApp(t)
	got := a.Get(documents + "/scope.xlsx?room=r2")
	assert.Equal(t, http.StatusUnprocessableEntity, got.Code)
	assert.Contains(t, got.Body.String(), "take it as PDF")
	assert.Equal(t, http.StatusOK, a.Get(documents+"/scope.pdf?room=r2").Code)
	assert.Equal(t, http.StatusNotFound, a.Get(documents+"/loads.csv?table=50").Code)
}
