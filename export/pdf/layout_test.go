package pdf

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/export/sheet"
	"scopewright/export/sheet/sheettest"
)

// The layout is checked without a PDF reader too: every text lies between the margins
// and no text of the body reaches into the foot.
func TestLayOut_keepsTheMargins(t *testing.T) {
	fonts, err := faces()
	require.NoError(t, err)
	face := typeface{fonts}
	for _, paper := range Papers {
		book, err := layOut(sheettest.Hostile(), Options{Paper: paper})
		require.NoError(t, err)
		for n, p := range book.pages {
			for _, o := range p.ops {
				if o.kind != opText {
					continue
				}
				right := o.x + face.width(o.text, o.face, o.size)
				assert.GreaterOrEqual(t, o.x, marginSide-0.01, "page %d: %.40s", n+1, o.text)
				assert.LessOrEqual(t, right, p.width-marginSide+0.3, "page %d: %.40s", n+1, o.text)
				assert.LessOrEqual(t, o.y, p.height-marginBottom+0.01, "page %d: %.40s", n+1, o.text)
			}
		}
	}
}

func TestFlow_headingsStayWithWhatFollows(t *testing.T) {
	for filler := range 70 {
		doc := sheet.Document{Title: "x", Sheets: []sheet.Sheet{{ID: "a", Title: "t"}}}
		for range filler {
			doc.Sheets[0].Blocks = append(doc.Sheets[0].Blocks, sheet.Paragraph{Text: "filler"})
		}
		doc.Sheets[0].Blocks = append(doc.Sheets[0].Blocks, sheet.Heading{Level: 1, Text: "HEAD"}, sheettest.Matrix(2, 2))
		book, err := layOut(doc, Options{})
		require.NoError(t, err)
		heading, first := pageWith(book, "HEAD"), pageWith(book, "S1 button 1")
		require.Equal(t, first, heading, "after %d paragraphs", filler)
	}
}

func pageWith(b *book, text string) int {
	for i, p := range b.pages {
		for _, o := range p.ops {
			if o.text == text {
				return i + 1
			}
		}
	}
	return 0
}

func TestWrap_losesNothingAndFits(t *testing.T) {
	fonts, err := faces()
	require.NoError(t, err)
	face := typeface{fonts}
	rapid.Check(t, func(t *rapid.T) {
		text := clean(rapid.StringOf(rapid.RuneFrom([]rune(" abcWMäß-/.\n日→"))).Draw(t, "text"))
		width := rapid.Float64Range(1, 80).Draw(t, "width")
		lines := face.wrap(text, regular, 8, width)
		if squeeze(strings.Join(lines, "")) != squeeze(text) {
			t.Fatalf("%q became %q", text, lines)
		}
		for _, l := range lines {
			if w := face.width(l, regular, 8); w > width+0.01 && len([]rune(l)) > 1 {
				t.Fatalf("%q is %.2f mm wide, more than %.2f", l, w, width)
			}
		}
	})
}

// Whatever a table holds, it is laid out, ends, and stays between the margins.
func TestLayOut_anyTableFitsThePaper(t *testing.T) {
	fonts, err := faces()
	require.NoError(t, err)
	face := typeface{fonts}
	words := rapid.StringOfN(rapid.RuneFrom([]rune("abcdefghij  -/WÄ→\n")), 0, 120, -1)
	rapid.Check(t, func(t *rapid.T) {
		table := sheet.Table{Caption: words.Draw(t, "caption")}
		for range rapid.IntRange(1, 36).Draw(t, "columns") {
			table.Columns = append(table.Columns, sheet.Column{
				Title: words.Draw(t, "title"), Unit: rapid.SampledFrom([]string{"", "W", "cd/m²"}).Draw(t, "unit"),
				Align: sheet.Align(rapid.IntRange(0, 2).Draw(t, "align")), Width: rapid.SampledFrom([]float64{0, 0, 1, 5}).Draw(t, "width"),
			})
		}
		for range rapid.IntRange(1, 8).Draw(t, "rows") {
			row := sheet.Row{Cells: make([]sheet.Cell, len(table.Columns)), Changed: rapid.IntRange(0, 1).Draw(t, "changed")}
			for i := range row.Cells {
				row.Cells[i] = sheet.TextCell(words.Draw(t, "cell")).Marked(rapid.SampledFrom([]sheet.Mark{sheet.Plain, sheet.Error}).Draw(t, "mark"))
			}
			table.Rows = append(table.Rows, row)
		}
		doc := sheet.Document{Title: "x", Sheets: []sheet.Sheet{{ID: "a", Title: "t", Blocks: []sheet.Block{table}}}}
		book, err := layOut(doc, Options{Paper: rapid.SampledFrom(Papers).Draw(t, "paper")})
		if err != nil {
			t.Fatal(err)
		}
		for n, p := range book.pages {
			for _, o := range p.ops {
				right := o.x
				if o.kind == opText {
					right += face.width(o.text, o.face, o.size)
				}
				if o.x < marginSide-0.01 || right > p.width-marginSide+0.5 || o.y > p.height-marginBottom+0.01 || o.y < marginTop-0.01 {
					t.Fatalf("page %d: %q at %.1f to %.1f, %.1f", n+1, o.text, o.x, right, o.y)
				}
			}
		}
	})
}

func TestShare_givesAllWidthAndNoColumnLessThanItsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mins := rapid.SliceOfN(rapid.Float64Range(1, 20), 1, 12).Draw(t, "mins")
		sum := 0.0
		wants := make([]float64, len(mins))
		for i := range mins {
			sum += mins[i]
			wants[i] = rapid.Float64Range(0.1, 50).Draw(t, "want")
		}
		width := sum + rapid.Float64Range(0, 100).Draw(t, "slack")
		got := 0.0
		for i, w := range share(width, mins, wants) {
			if w < mins[i]-1e-6 {
				t.Fatalf("column %d got %.3f of at least %.3f", i, w, mins[i])
			}
			got += w
		}
		if math.Abs(got-width) > 1e-6 && len(mins) > 1 {
			t.Fatalf("%.4f dealt out of %.4f", got, width)
		}
	})
}

// The widths that we read must be those that fpdf writes, or text would run over.
func TestMetrics_agreeWithTheWriter(t *testing.T) {
	fonts, err := faces()
	require.NoError(t, err)
	out := newPDF(sheettest.AllBlocks())
	for f := range faceCount {
		out.SetFont(f.family(), "", 10)
		for r := rune(0x20); r < 0x2BFF; r++ {
			if fonts[f].has(r) && fonts[f].width[r] > 0 {
				require.InDelta(t, out.GetStringSymbolWidth(string(r)), float64(fonts[f].width[r]), 1, "%s %q", f.family(), r)
			}
		}
	}
	assert.True(t, fonts[regular].has('Ж') && fonts[bold].has('Ω') && fonts[symbols].has('✓') && fonts[regular].has(replacement))
}
