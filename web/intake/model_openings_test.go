package intake

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

// gappedWall draws, in meters, a wall of two lines 0.2 m apart and 10 m long with
// a window of 1.5 m in its gap, on layers with names of the trade.
func gappedWall() string {
	var b strings.Builder
	b.WriteString("0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1024\n9\n$INSUNITS\n70\n6\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n")
	line := func(layer string, x1, y1, x2, y2 float64) {
		fmt.Fprintf(&b, "0\nLINE\n8\n%s\n10\n%g\n20\n%g\n11\n%g\n21\n%g\n", layer, x1, y1, x2, y2)
	}
	for _, y := range []float64{0, 0.2} {
		line("A-WALL", 0, y, 4, y)
		line("A-WALL", 10, y, 5.5, y)
	}
	line("A-GLAZ", 4, 0.1, 5.5, 0.1)
	b.WriteString("0\nENDSEC\n0\nEOF\n")
	return b.String()
}

func TestModel_windowsOfADrawingComeInTheirWalls(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("level.dxf", gappedWall())
	assert.Contains(t, body, `<option value="windows" selected>windows</option>`)
	assert.Contains(t, body, "1 window and 0 doors found in walls.")
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body)).Code)
	scope, err := a.Store.Load(t.Context(), "p1")
	require.NoError(t, err)
	var walls []domain.Wall
	for _, p := range scope.Plans {
		walls = append(walls, p.Walls...)
	}
	require.Len(t, walls, 1)
	assert.InDelta(t, 10, walls[0].A.Distance(walls[0].B), 1e-6)
	assert.InDelta(t, 0.2, float64(walls[0].Thickness), 1e-6)
	require.Len(t, walls[0].Openings, 1)
	assert.Equal(t, domain.Window, walls[0].Openings[0].Kind)
	assert.InDelta(t, 1.5, float64(walls[0].Openings[0].Width), 1e-6)

	// Each line a wall: two could hold it, so none does, and the page says so.
	address, _ = a.preview("level.dxf", gappedWall())
	require.Equal(t, 303, a.Plain(address+"/read", "layers", "yes", "layer-0", "walls", "layer-1", "windows", "enclose", "0", "faces", "each").Code)
	assert.Contains(t, a.Get(address).Body.String(), "more than one wall could hold it")
}
