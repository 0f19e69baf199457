package csv

import (
	"bytes"
	"encoding/csv"
	"flag"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/export/sheet"
	"scopewright/export/sheet/sheettest"
)

var update = flag.Bool("update", false, "write the golden files anew")

func written(t *testing.T, table sheet.Table, opt Options) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Write(&out, table, opt))
	return out.String()
}

func TestWrite_readsBackAsWritten(t *testing.T) {
	table := sheet.Table{Columns: []sheet.Column{{Title: `say "on", or off`}, {Title: "Power", Unit: "W", Kind: sheet.Number}}, Rows: []sheet.Row{
		{Cells: []sheet.Cell{sheet.TextCell("a,b;c\nsecond line"), sheet.NumberCell(-12.5, 1)}},
		{Group: true, Cells: []sheet.Cell{sheet.TextCell(`Panel "LP"`)}},
		{Cells: []sheet.Cell{sheet.TextCell("Größe ✓"), {}}, Changed: 3},
	}}
	records, err := csv.NewReader(strings.NewReader(written(t, table, Options{}))).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, [][]string{
		{`say "on", or off`, "Power (W)", "Rev"},
		{"a,b;c\nsecond line", "-12.5", ""},
		{`Panel "LP"`, "", ""},
		{"Größe ✓", "", "3"},
	}, records)
}

// RFC 4180, section 2: lines end with CR LF, the last one too.
func TestWrite_endsLinesAsTheStandardSays(t *testing.T) {
	out := written(t, sheet.Table{Columns: []sheet.Column{{Title: "A"}}, Rows: []sheet.Row{{Cells: []sheet.Cell{sheet.TextCell("1")}}}}, Options{})
	assert.Equal(t, "A\r\n1\r\n", out)
}

func TestWrite_marksUTF8WhenAsked(t *testing.T) {
	table := sheet.Table{Columns: []sheet.Column{{Title: "A"}}}
	assert.True(t, strings.HasPrefix(written(t, table, Options{BOM: true}), "\xEF\xBB\xBFA"))
	assert.True(t, strings.HasPrefix(written(t, table, Options{}), "A"))
}

func TestSafe_noTextStartsAFormula(t *testing.T) {
	for _, s := range []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "\x00=1", "＝1+1", "＋1", "－1", "＠x", "  =1+1", "\u200b=1", "\ufeff=1"} {
		assert.Equal(t, "'"+s, Safe(s), "%q", s)
	}
	for _, s := range []string{"", "L1", "0-10 V", "a=b", "'already", "(−3)", "80 %", "–"} {
		assert.Equal(t, s, Safe(s))
	}
}

func TestWrite_onlyRealNumbersStayBare(t *testing.T) {
	negative := sheet.NumberCell(-5, 0)
	asText := negative
	asText.Text = "-5 or so"
	table := sheet.Table{Columns: []sheet.Column{{Title: "=T", Unit: "W", Kind: sheet.Number}, {Title: "Text"}}, Rows: []sheet.Row{
		{Cells: []sheet.Cell{negative, negative}}, {Cells: []sheet.Cell{asText, sheet.TextCell("=cmd")}},
	}}
	assert.Equal(t, "'=T (W),Text\r\n-5,'-5\r\n'-5 or so,'=cmd\r\n", written(t, table, Options{}))
}

func TestWrite_refusesCrookedRows(t *testing.T) {
	err := Write(&bytes.Buffer{}, sheet.Table{Caption: "Loads", Columns: []sheet.Column{{}}, Rows: []sheet.Row{{}}}, Options{})
	require.ErrorContains(t, err, "0 cells where 1 belong")
}

func TestGolden_loads(t *testing.T) {
	got := written(t, sheettest.AllBlocks().Tables()[1].Table, Options{})
	const file = "testdata/loads.csv"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run the test with -update once")
	assert.Equal(t, string(want), got)
}

func FuzzSafe(f *testing.F) {
	for _, s := range []string{"=1", " +1", "x", "\xff=", "＝"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := Safe(s)
		require.True(t, utf8.ValidString(got))
		first := strings.TrimLeft(got, " \u00A0\u200B\uFEFF")
		if first != "" {
			r, _ := utf8.DecodeRuneInString(first)
			require.NotContains(t, "=+-@\t\r\n\x00＝＋－＠", string(r))
		}
	})
}
