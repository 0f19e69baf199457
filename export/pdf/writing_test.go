package pdf

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/export/sheet"
)

// Rows to write in are as high as ruled paper at least, on any paper; others stay as high
// as their text.
func TestTable_rowsToWriteInHaveRoom(t *testing.T) {
	table := sheet.Table{Columns: []sheet.Column{{Title: "What"}, {Title: "Measured"}}, Writing: true}
	for _, name := range []string{"first", "second", "third"} {
		table.Rows = append(table.Rows, sheet.Row{Cells: []sheet.Cell{sheet.TextCell(name), sheet.TextCell("______")}})
	}
	apart := func(table sheet.Table, paper Paper) float64 {
		book, err := layOut(sheet.Document{Title: "x", Sheets: []sheet.Sheet{{ID: "a", Title: "t", Blocks: []sheet.Block{table}}}}, Options{Paper: paper})
		require.NoError(t, err)
		at := map[string]float64{}
		for _, o := range book.pages[0].ops {
			at[o.text] = o.y
		}
		return min(at["second"]-at["first"], at["third"]-at["second"])
	}
	for _, paper := range []Paper{Letter, A4} {
		assert.GreaterOrEqual(t, apart(table, paper), 8.9, "%s: 9 mm as ruled paper has, common practice", paper)
	}
	table.Writing = false
	assert.Less(t, apart(table, Letter), 6.0)
}
