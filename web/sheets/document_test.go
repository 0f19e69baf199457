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

	"scopewright/export"
)

func TestDocuments_everyKindInEveryFormat(t *testing.T) {
	a := newApp(t)
	page := a.get(documents)
	require.Equal(t, http.StatusOK, page.Code)
	for _, k := range export.Kinds() {
		for _, f := range k.Formats {
			address := documents + "/" + k.ID + "." + string(f)
			assert.Contains(t, page.Body.String(), `formaction="`+address+`"`)
			got := a.get(address)
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
	choice := a.get(documents + "/loads.csv")
	assert.Contains(t, choice.Body.String(), "A CSV file holds one table")
	assert.Contains(t, choice.Body.String(), "loads.csv?table=1")
	got := a.get(documents + "/loads.csv?table=0")
	assert.Equal(t, "text/csv; charset=utf-8", got.Header().Get("Content-Type"))
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(got.Body.String(), "\ufeff"))).ReadAll()
	require.NoError(t, err)
	assert.Greater(t, len(rows), 3)
	assert.NotEqual(t, http.StatusOK, a.get(documents+"/loads.csv?table=99").Code)
}

func TestDocument_printPage(t *testing.T) {
	a := newApp(t)
	got := a.get(documents + "/scope.html?room=r1&paper=a3")
	require.Equal(t, http.StatusOK, got.Code)
	body := got.Body.String()
	assert.Contains(t, body, "Scope of room 101")
	assert.Contains(t, body, "css/paper-a3.css")
	assert.Contains(t, body, `/projects/p1/documents/scope.css?paper=a3&amp;room=r1`)
	assert.Contains(t, body, `scope.pdf?open=1&amp;paper=a3&amp;room=r1`)
	assert.Contains(t, body, `href="/projects/p1/rooms/r1"`, "the way back")
	assert.NotContains(t, body, " style=")
	assert.NotRegexp(t, `<script(?: [^>]*)?>[^<]`, body, "no inline script")

	styles := a.get(documents + "/scope.css?room=r1&paper=a3")
	assert.Equal(t, "text/css; charset=utf-8", styles.Header().Get("Content-Type"))
	assert.Contains(t, styles.Body.String(), "size: A3")

	open := a.get(documents + "/scope.pdf?room=r1&open=1")
	assert.Equal(t, "inline; filename=p-7-a_scope_101.pdf", open.Header().Get("Content-Disposition"))
}

func TestDocument_usualPaperIsThatOfTheUnits(t *testing.T) {
	a := newApp(t)
	assert.Contains(t, a.get(documents+"/loads.html").Body.String(), "css/paper-letter.css")
	assert.Regexp(t, `<option value="letter" selected`, a.get(documents).Body.String())
}

func TestDocument_namesAreText(t *testing.T) {
	a := newApp(t)
	for _, path := range []string{"/scope.html?room=r2", "/set.html", "/loads.html", "/findings.html"} {
		assert.NotContains(t, a.get(documents+path).Body.String(), "<script>alert", path)
	}
	assert.Contains(t, a.get(documents+"/scope.html?room=r2").Body.String(), "&lt;script&gt;alert(1)&lt;/script&gt;")
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
		got := a.get(documents + "/scope.html?" + query)
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
		got := a.get(documents + path)
		assert.Equal(t, want, got.Code, path)
		assert.Contains(t, got.Body.String(), "<h2>", "a page that says why: "+path)
	}
	for _, path := range []string{"", "/issue", "/loads.pdf", "/compare?from=0&to=0"} {
		w := a.get("/projects/nope/documents" + path)
		assert.Equal(t, 404, w.Code, path)
	}
	assert.Equal(t, 404, a.post("/projects/nope/documents/issue", "purpose", "x", "author", "y").Code)
}

func TestDocument_tellsThePageThatItIsMade(t *testing.T) {
	a := newApp(t)
	assert.Contains(t, a.get(documents+"/loads.pdf?made=abcdef0123456789").Header().Get("Set-Cookie"), "sw_made=abcdef0123456789")
	assert.Empty(t, a.get(documents+"/loads.pdf?made=a%0d%0ab").Header().Get("Set-Cookie"))
}
