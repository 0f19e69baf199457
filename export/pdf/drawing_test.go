package pdf

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/export/drawing"
	"scopewright/export/sheet"
	"scopewright/export/sheet/sheettest"
)

func TestDrawing_fillsOnePageOfEveryPaperWithoutLeavingIt(t *testing.T) {
	scales := map[Paper]string{}
	for _, paper := range Papers {
		book, err := layOut(sheettest.Hall(60), Options{Paper: paper})
		require.NoError(t, err)
		require.Len(t, book.pages, 1, paper)
		p := book.pages[0]
		inside := func(x, y float64) {
			assert.True(t, x >= marginSide-0.01 && x <= p.width-marginSide+0.01 && y >= marginTop && y <= p.height-marginBottom, "%s: %.1f, %.1f of %.0f x %.0f", paper, x, y, p.width, p.height)
		}
		for _, o := range p.ops {
			switch d := o.shape.(type) {
			case drawing.Area:
				for _, at := range d.Rings[0] {
					inside(o.x+at.X, o.y+at.Y)
				}
			case drawing.Text:
				inside(o.x+d.At.X, o.y+d.At.Y)
				if len(d.Text) > 6 && d.Text[:6] == "Scale " {
					scales[paper] = d.Text
				}
			}
		}
	}
	// 60 m are 120 mm at 1:500, 300 mm at 1:200, 600 mm at 1:100; the papers leave 24 mm
	// of margin and the drawing 10 mm.
	assert.Equal(t, map[Paper]string{Letter: "Scale 1:500", A4: "Scale 1:500", Tabloid: "Scale 1:200", A3: "Scale 1:200",
		ArchC: "Scale 1:200", A2: "Scale 1:200", ArchD: "Scale 1:100", A1: "Scale 1:100"}, scales)
}

// Styles of a drawing must not leak into the text after it, nor the other way round.
func TestDrawing_reprintsToTheSameBytes(t *testing.T) {
	doc := sheettest.Hall(20)
	doc.Sheets[0].Blocks = append(doc.Sheets[0].Blocks, sheet.Paragraph{Text: "After the drawing."}, sheettest.Matrix(3, 3))
	var first, second bytes.Buffer
	require.NoError(t, Render(&first, doc, Options{}))
	require.NoError(t, Render(&second, doc, Options{}))
	assert.Equal(t, first.Bytes(), second.Bytes())
	assert.True(t, bytes.HasPrefix(first.Bytes(), []byte("%PDF-")))
}

func TestPaper_sizesAreThoseOfTheStandards(t *testing.T) {
	// ISO 216: each size is half of the one before, to the millimeter (A0 is 841 x 1189).
	w, h := 841, 1189
	for _, p := range []Paper{A1, A2, A3, A4} {
		w, h = h/2, w
		got, high, err := p.Size()
		require.NoError(t, err)
		assert.Equal(t, []float64{float64(w), float64(h)}, []float64{got, high}, p)
	}
	for p, inches := range map[Paper][2]float64{Letter: {8.5, 11}, Tabloid: {11, 17}, ArchC: {18, 24}, ArchD: {24, 36}} {
		got, high, err := p.Size()
		require.NoError(t, err)
		assert.InDelta(t, inches[0]*25.4, got, 1e-9, p)
		assert.InDelta(t, inches[1]*25.4, high, 1e-9, p)
	}
}
