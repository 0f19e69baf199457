package export_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
	"scopewright/validate"
	"scopewright/validate/rule"
)

func demoInput() sheet.Input {
	s := demo.Scope()
	s.Project.Checklist = domain.StartChecklist()
	day := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	return sheet.Input{Scope: s, Issue: sheet.Issue{Revision: "1", Date: "2026-03-01", Purpose: "for review", Author: "A. Designer"},
		Findings: func(r *domain.Resolved) []rule.Finding { return validate.Room(&s.Project, r, day) }}
}

func TestKinds_buildAndPrintInEachOfTheirFormats(t *testing.T) {
	in := demoInput()
	only := sheet.Only{Storeys: []domain.ID{in.Scope.Rooms[0].StoreyID}}
	seen := map[string]bool{}
	for _, k := range export.Kinds() {
		assert.False(t, seen[k.ID], "kind %s stands twice", k.ID)
		seen[k.ID] = true
		assert.NotEmpty(t, k.Title)
		assert.NotEmpty(t, k.For)
		doc, err := export.Build(k.ID, in, only)
		require.NoError(t, err, k.ID)
		for _, f := range k.Formats {
			var out bytes.Buffer
			require.NoError(t, export.Write(&out, f, doc, export.Options{Paper: pdf.A4, BigType: k.BigType}), "%s as %s", k.ID, f)
			assert.Greater(t, out.Len(), 200, "%s as %s", k.ID, f)
		}
	}
	for _, want := range []string{"scope", "installer", "loads", "circuits", "devices", "bill", "matrix", "scenes", "narrative", "sequence", "tests", "points", "av", "findings", "review", "battery", "luminaires", "equipment", "energy", "code", "survey", "daylight", "calibration", "set"} {
		assert.True(t, seen[want], want)
	}
}

func TestBuild_oneRoomIsNamedInTheTitle(t *testing.T) {
	in := demoInput()
	doc, err := export.Build("scope", in, sheet.Only{Rooms: []domain.ID{in.Scope.Rooms[2].ID}})
	require.NoError(t, err)
	require.Len(t, doc.Sheets, 1)
	assert.Contains(t, doc.Title, in.Scope.Rooms[2].Label())
}

func TestBuild_saysWhatIsWrong(t *testing.T) {
	_, err := export.Build("poem", demoInput(), sheet.Only{})
	assert.ErrorContains(t, err, "use one of scope, installer")
	_, err = export.Build("scope", demoInput(), sheet.Only{Rooms: []domain.ID{"gone"}})
	assert.ErrorContains(t, err, "no such room")
	err = export.Write(io.Discard, "docx", sheet.Document{}, export.Options{})
	assert.ErrorContains(t, err, "use html, pdf, xlsx, csv, svg or dxf")
	doc, err := export.Build("loads", demoInput(), sheet.Only{})
	require.NoError(t, err)
	assert.ErrorContains(t, export.Write(io.Discard, export.CSV, doc, export.Options{Table: 9}), "table 10 of 3")
}

func TestIssueSet_indexListsEverySheetInOrder(t *testing.T) {
	in := demoInput()
	doc, err := export.Build("set", in, sheet.Only{})
	require.NoError(t, err)
	require.NoError(t, doc.Validate())
	var index sheet.Index
	for _, b := range doc.Sheets[0].Blocks {
		if i, ok := b.(sheet.Index); ok {
			index = i
		}
	}
	require.Len(t, index.Items, len(doc.Sheets))
	number := regexp.MustCompile(`^EL-[01678]\d\d(-\S+)?$`) // pattern of the US National CAD Standard, from memory
	for i, s := range doc.Sheets {
		assert.Equal(t, s.Number, index.Items[i].Number)
		assert.Regexp(t, number, s.Number)
	}
	rooms := 0
	for _, s := range doc.Sheets {
		if strings.HasPrefix(s.Number, "EL-7") {
			rooms++
		}
	}
	assert.Equal(t, len(in.Scope.Rooms), rooms)
}

func TestIssueSet_statesRevisionsAndChanges(t *testing.T) {
	in := demoInput()
	in.Earlier = []sheet.Issue{{Revision: "A", Date: "2026-01-01", Purpose: "for permit", Author: "A. Designer", Note: "first issue"}}
	in.Issue.Revision = "B"
	in.Changes = &domain.Difference{Project: []string{"hours of use none -> day"}, Rooms: []domain.RoomChange{{RoomID: in.Scope.Rooms[0].ID, Label: "X", Kind: domain.RoomChanged, Lines: []string{"area 10 sq ft -> 11 sq ft"}}}}
	doc, err := export.Build("set", in, sheet.Only{})
	require.NoError(t, err)
	text := doc.Strings()
	assert.Contains(t, text, "1 room changed and 1 change to the project; see EL-003")
	assert.Contains(t, text, "Changed since revision A")
	assert.Contains(t, text, "Area 10 sq ft -> 11 sq ft")
}

// What a purchaser adds up in the spreadsheet must be what the paper says.
func TestBill_sameNumbersInWorkbookAndCSV(t *testing.T) {
	in := demoInput()
	doc, err := export.Build("bill", in, sheet.Only{})
	require.NoError(t, err)
	want := 0
	for i := range in.Scope.Rooms {
		r, err := in.Scope.Resolve(&in.Scope.Rooms[i])
		require.NoError(t, err)
		want += len(r.Design.Devices)
	}
	var book, text bytes.Buffer
	require.NoError(t, export.Write(&book, export.XLSX, doc, export.Options{}))
	require.NoError(t, export.Write(&text, export.CSV, doc, export.Options{BOM: true}))
	file, err := excelize.OpenReader(&book)
	require.NoError(t, err)
	rows, err := file.GetRows(file.GetSheetList()[0])
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprint(want), cellUnder(t, rows, "Total", "All types"))
	records, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text.String(), "\xEF\xBB\xBF"))).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprint(want), cellUnder(t, records, "Total", "All types"))
}

// cellUnder finds the cell of a column title in the row that starts with a name.
func cellUnder(t *testing.T, rows [][]string, title, name string) string {
	t.Helper()
	at := -1
	for _, r := range rows {
		for i, c := range r {
			if c == title {
				at = i
			}
		}
		if len(r) > at && at >= 0 && r[0] == name {
			return r[at]
		}
	}
	t.Fatalf("no %s in row %s", title, name)
	return ""
}

func TestFileName_everyFileSystemTakesIt(t *testing.T) {
	assert.Equal(t, "d-0417_scope_214-classroom-b_rev-2.pdf", export.FileName("D-0417", "scope", "214 Classroom B", "2", "pdf"))
	assert.Equal(t, "project_set.pdf", export.FileName("", "set", "", "", "pdf"))
	assert.Equal(t, "schule-munchen_bill.csv", export.FileName("Schule München", "bill", "", "", "csv"))
	safe := regexp.MustCompile(`^[a-z0-9_.-]{1,200}$`)
	for _, hostile := range []string{"../../etc/passwd", "CON", "a:b*c?", "日本語", strings.Repeat("x", 999), "\x00\n", `C:\x`} {
		name := export.FileName(hostile, "scope", hostile, hostile, "pdf")
		assert.Regexp(t, safe, name)
		assert.NotContains(t, name, "..")
	}
}

// set200 is a project of 200 rooms: the demo's, over and over.
func set200() sheet.Input {
	in := demoInput()
	s := in.Scope
	for n := 0; len(s.Rooms) < 200; n++ {
		r := s.Rooms[n].Clone()
		r.ID, r.Number = domain.ID(fmt.Sprintf("copy-%d", n)), fmt.Sprintf("%s-%d", r.Number, n)
		s.Rooms = append(s.Rooms, *r)
	}
	return in
}

func BenchmarkBuildSetOf200Rooms(b *testing.B) {
	in := set200()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := export.Build("set", in, sheet.Only{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPrintSetOf200Rooms(b *testing.B) {
	in := set200()
	for b.Loop() {
		doc, err := export.Build("set", in, sheet.Only{})
		if err != nil {
			b.Fatal(err)
		}
		if err := export.Write(io.Discard, export.PDF, doc, export.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
