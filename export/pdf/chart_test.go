package pdf

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/export/drawing"
	"scopewright/export/sheet/sheettest"
)

func TestChart_keepsWithinEveryPaper(t *testing.T) {
	for _, paper := range Papers {
		book, err := layOut(sheettest.Charts(), Options{Paper: paper})
		require.NoError(t, err)
		require.Len(t, book.pages, 1, paper)
		p, shapes, widest := book.pages[0], 0, 0.0
		for _, o := range p.ops {
			a, ok := o.shape.(drawing.Area)
			if !ok {
				continue
			}
			shapes++
			for _, at := range a.Rings[0] {
				x, y := o.x+at.X, o.y+at.Y
				widest = max(widest, x)
				assert.True(t, x >= marginSide-0.01 && x <= p.width-marginSide+0.01 && y >= marginTop && y <= p.height-marginBottom, "%s: %.1f, %.1f", paper, x, y)
			}
		}
		assert.Greater(t, shapes, 24, paper)
		assert.Greater(t, widest, p.width*0.7, "%s: a chart takes the page's width", paper)
	}
	var first, second bytes.Buffer
	require.NoError(t, Render(&first, sheettest.Charts(), Options{}))
	require.NoError(t, Render(&second, sheettest.Charts(), Options{}))
	assert.Equal(t, first.Bytes(), second.Bytes())
}
