package xlsx

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"scopewright/export/sheet"
	"scopewright/export/sheet/sheettest"
)

func written(t testing.TB, doc sheet.Document) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Write(&out, doc))
	return out.Bytes()
}

func opened(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	t.Cleanup(func() { _ = f.Close() })
	return f
}

func document(tables ...sheet.Table) sheet.Document {
	s := sheet.Sheet{ID: "a", Number: "C-1", Title: "Test", Head: sheettest.Head("1")}
	for _, t := range tables {
		s.Blocks = append(s.Blocks, t)
	}
	return sheet.Document{Title: "Test", Sheets: []sheet.Sheet{s}}
}

// find gives the address of the only cell with this text.
func find(t *testing.T, f *excelize.File, name, text string) string {
	t.Helper()
	found, err := f.SearchSheet(name, text)
	require.NoError(t, err)
	require.Len(t, found, 1, "%q", text)
	return found[0]
}

func TestWrite_formulasStayText(t *testing.T) {
	hostile := []string{"=1+1", "=HYPERLINK(\"http://evil.example\")", "+1", "-1", "@SUM(A1)", "=cmd|' /C calc'!A0", "\t=1"}
	table := sheet.Table{Caption: "=1+1", Note: "=2+2", Columns: []sheet.Column{{Title: "=3+3", Unit: "=4"}, {Title: "N", Kind: sheet.Number}}}
	for _, h := range hostile {
		table.Rows = append(table.Rows, sheet.Row{Cells: []sheet.Cell{sheet.TextCell(h), {Text: h}}})
	}
	doc := document(table)
	doc.Sheets[0].Head.Caution, doc.Sheets[0].Head.Project = "=5+5", "=6+6"
	data := written(t, doc)
	assert.NotContains(t, parts(t, data), "<f>")
	assert.NotContains(t, parts(t, data), "<f ")
	f := opened(t, data)
	name := f.GetSheetList()[0]
	rows, err := f.GetRows(name)
	require.NoError(t, err)
	seen := 0
	for r, row := range rows {
		for c, value := range row {
			at, err := excelize.CoordinatesToCellName(c+1, r+1)
			require.NoError(t, err)
			formula, err := f.GetCellFormula(name, at)
			require.NoError(t, err)
			assert.Empty(t, formula, at)
			kind, err := f.GetCellType(name, at)
			require.NoError(t, err)
			if value == "=1+1" && r > 5 {
				assert.Contains(t, []excelize.CellType{excelize.CellTypeInlineString, excelize.CellTypeSharedString}, kind)
				seen++
			}
		}
	}
	assert.Equal(t, 2, seen)
}

// parts joins all worksheets of a workbook as stored.
func parts(t *testing.T, data []byte) string {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	var all strings.Builder
	for _, f := range archive.File {
		if strings.HasPrefix(f.Name, "xl/worksheets/") {
			r, err := f.Open()
			require.NoError(t, err)
			_, err = io.Copy(&all, r)
			require.NoError(t, err)
		}
	}
	return all.String()
}

func TestWrite_numbersAreNumbersAndTextThatLooksLikeOneIsNot(t *testing.T) {
	f := opened(t, written(t, document(sheet.Table{Caption: "Loads", Columns: []sheet.Column{{Title: "Circuit"}, {Title: "Power", Unit: "W", Kind: sheet.Number}},
		Rows: []sheet.Row{{Cells: []sheet.Cell{sheet.TextCell("0011"), sheet.NumberCell(153.64, 1)}}, {Total: true, Cells: []sheet.Cell{sheet.TextCell("Total"), sheet.NumberCell(-0.25, 2)}}}})))
	at := find(t, f, "Loads", "0011")
	kind, err := f.GetCellType("Loads", at)
	require.NoError(t, err)
	assert.Equal(t, excelize.CellTypeInlineString, kind)
	power := "B" + at[1:]
	raw, err := f.GetCellValue("Loads", power, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	assert.Equal(t, "153.6", raw, "the value as printed on paper")
	shown, err := f.GetCellValue("Loads", find(t, f, "Loads", "-0.25"))
	require.NoError(t, err)
	assert.Equal(t, "-0.25", shown)
}

func TestWrite_oneWorksheetATableWithTitlesFrozenAndRepeated(t *testing.T) {
	doc := sheettest.AllBlocks()
	f := opened(t, written(t, doc))
	assert.Equal(t, []string{"Devices", "Loads", "Control matrix", "Scene levels", "Receptacle loads"}, f.GetSheetList())
	row := strings.TrimPrefix(find(t, f, "Devices", "Tag"), "A")
	panes, err := f.GetPanes("Devices")
	require.NoError(t, err)
	assert.True(t, panes.Freeze)
	titles := ""
	for _, n := range f.GetDefinedName() {
		if n.Name == "_xlnm.Print_Titles" && n.Scope == "Devices" {
			titles = n.RefersTo
		}
	}
	assert.Equal(t, "'Devices'!$"+row+":$"+row, titles)
	layout, err := f.GetPageLayout("Devices")
	require.NoError(t, err)
	assert.Equal(t, "landscape", *layout.Orientation)
	assert.Equal(t, 1, *layout.FitToWidth)
	find(t, f, "Devices", "Invented demo data")
	find(t, f, "Devices", "revision 2; Settings: differs from the typical")
	find(t, f, "Receptacle loads", "This room has no receptacle loads.")
}

func TestWrite_refusesADocumentWithoutTables(t *testing.T) {
	require.ErrorContains(t, Write(io.Discard, document()), "no table")
	require.ErrorContains(t, Write(io.Discard, sheet.Document{}), "no title")
}

func TestWrite_overlongAndBrokenTextIsKeptWithinBounds(t *testing.T) {
	long := strings.Repeat("ä", 40000)
	f := opened(t, written(t, document(sheet.Table{Caption: "T", Columns: []sheet.Column{{Title: "A"}}, Rows: []sheet.Row{
		{Cells: []sheet.Cell{sheet.TextCell(long)}}, {Cells: []sheet.Cell{sheet.TextCell("bad \xff \x01 end")}},
	}})))
	find(t, f, "T", "bad \uFFFD \uFFFD end")
	rows, err := f.GetRows("T")
	require.NoError(t, err)
	longest := 0
	for _, r := range rows {
		for _, c := range r {
			longest = max(longest, len([]rune(c)))
		}
	}
	assert.Equal(t, maxCell, longest)
}

func TestNames_areLegalAndUnique(t *testing.T) {
	n := newNames()
	assert.Equal(t, "Loads", n.take("Loads"))
	assert.Equal(t, "loads (2)", n.take("loads"))
	assert.Equal(t, "a-b-c-d", n.take("a/b:c*d"))
	assert.Equal(t, "Table", n.take("''"))
	assert.Equal(t, "History (2)", n.take("History"))
	rapid.Check(t, func(t *rapid.T) {
		n, seen := newNames(), map[string]bool{}
		for _, c := range rapid.SliceOfN(rapid.StringOfN(rapid.RuneFrom([]rune("aA'[]/*? ä\U0001F4A1\x01")), 0, 40, -1), 1, 8).Draw(t, "captions") {
			name := n.take(c)
			if u := len(utf16.Encode([]rune(name))); u < 1 || u > 31 {
				t.Fatalf("%q has %d units", name, u)
			}
			if strings.ContainsAny(name, `:\/?*[]`) || strings.HasPrefix(name, "'") || strings.HasSuffix(name, "'") {
				t.Fatalf("%q is no worksheet name", name)
			}
			if seen[strings.ToLower(name)] {
				t.Fatalf("%q twice", name)
			}
			seen[strings.ToLower(name)] = true
		}
	})
}

func TestWrite_everyNameThatCaptionsGiveOpens(t *testing.T) {
	var tables []sheet.Table
	for _, c := range []string{"", "Loads", "LOADS", "a:b", strings.Repeat("long name ", 9), strings.Repeat("long name ", 9), "It's", "'", "\x01"} {
		tables = append(tables, sheet.Table{Caption: c, Columns: []sheet.Column{{Title: "A"}}})
	}
	assert.Len(t, opened(t, written(t, document(tables...))).GetSheetList(), len(tables))
}

func BenchmarkSetOf200Sheets(b *testing.B) {
	doc := sheettest.Set(200)
	for b.Loop() {
		require.NoError(b, Write(io.Discard, doc))
	}
}

func TestWrite_saysThatThePlanIsElsewhere(t *testing.T) {
	doc := sheettest.AllBlocks()
	s := document(sheet.Table{Caption: "Loads", Columns: []sheet.Column{{Title: "Tag"}}})
	const sentence = "The plan is not in this workbook: take the sheet as PDF."
	rows, err := opened(t, written(t, s)).GetRows("Loads")
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(flat(rows), "\n"), sentence)
	for _, b := range doc.Sheets[0].Blocks {
		if d, ok := b.(sheet.Drawing); ok {
			s.Sheets[0].Blocks = append(s.Sheets[0].Blocks, d)
		}
	}
	rows, err = opened(t, written(t, s)).GetRows("Loads")
	require.NoError(t, err)
	assert.Contains(t, flat(rows), sentence)
}

func flat(rows [][]string) (out []string) {
	for _, r := range rows {
		out = append(out, r...)
	}
	return out
}
