package pdf

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/export/sheet/sheettest"
)

// Aim: 200 sheets of one or two pages within a second on one core.
func BenchmarkSetOf200Sheets(b *testing.B) {
	doc := sheettest.Set(200)
	pages := 0
	b.ReportAllocs()
	for b.Loop() {
		book, err := layOut(doc, Options{})
		require.NoError(b, err)
		pages = len(book.pages)
		require.NoError(b, paint(&bytes.Buffer{}, doc, book))
	}
	b.ReportMetric(float64(pages*b.N)/b.Elapsed().Seconds(), "pages/s")
	b.ReportMetric(float64(pages), "pages")
}

// One sheet shows what fonts and the fixed parts of a file cost.
func BenchmarkOneSheet(b *testing.B) {
	doc := sheettest.AllBlocks()
	for b.Loop() {
		require.NoError(b, Render(&bytes.Buffer{}, doc, Options{}))
	}
}
