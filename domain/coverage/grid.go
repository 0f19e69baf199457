package coverage

import (
	"math"
	"math/bits"
	"slices"

	"scopewright/domain/geom"
)

// Grid lays square cells over a floor; a cell counts as what its center is.
type Grid struct {
	Origin        geom.Point // lower left corner of the first cell
	Step          float64    // m
	Columns, Rows int
}

// MostCells bounds a grid: a storey of 500 by 500 m at 0.25 m.
const MostCells = 4_000_000

// NewGrid covers a box with cells of a step in meters, coarser where the box
// would take more than MostCells.
func NewGrid(b geom.Box, step float64) Grid {
	for b.Width()/step*(b.Height()/step) > MostCells {
		step *= 2
	}
	return Grid{b.Min, step, max(1, int(math.Ceil(b.Width()/step-1e-9))), max(1, int(math.Ceil(b.Height()/step-1e-9)))}
}

// Cells is a set of a grid's cells: rows of whole words, a bit a cell.
type Cells []uint64

func (g Grid) words() int { return (g.Columns + 63) / 64 }

// None gives an empty set.
func (g Grid) None() Cells { return make(Cells, g.words()*g.Rows) }

// X gives the center of a column's cells, Y that of a row's.
func (g Grid) X(column int) float64 { return g.Origin.X + (float64(column)+0.5)*g.Step }

// Y gives the center of a row's cells.
func (g Grid) Y(row int) float64 { return g.Origin.Y + (float64(row)+0.5)*g.Step }

// At tells whether a cell is in the set.
func (g Grid) At(c Cells, column, row int) bool {
	return c[row*g.words()+column/64]>>(column%64)&1 != 0
}

// Count gives how many cells a set has.
func (c Cells) Count() (n int) {
	for _, w := range c {
		n += bits.OnesCount64(w)
	}
	return n
}

// CountIn gives how many cells of a set are also in another.
func (c Cells) CountIn(other Cells) (n int) {
	for i, w := range c {
		n += bits.OnesCount64(w & other[i])
	}
	return n
}

// Add puts another set's cells in.
func (c Cells) Add(other Cells) {
	for i, w := range other {
		c[i] |= w
	}
}

// fill sets or clears the cells of a row from one column to another, both
// included.
func fill(row Cells, from, to int, on bool) {
	for w := from / 64; w <= to/64; w++ {
		mask := ^uint64(0)
		if w == from/64 {
			mask &= ^uint64(0) << (from % 64)
		}
		if w == to/64 {
			mask &= ^uint64(0) >> (63 - to%64)
		}
		if on {
			row[w] |= mask
		} else {
			row[w] &^= mask
		}
	}
}

// Inside gives the cells whose centers lie in a polygon, on its edge counting
// to the right and above.
func (g Grid) Inside(p geom.Polygon) Cells {
	out, edges := g.None(), p.Edges()
	var cuts []float64
	for r := range g.Rows {
		y := g.Y(r)
		cuts = cuts[:0]
		for _, e := range edges {
			if (e.A.Y <= y) != (e.B.Y <= y) {
				cuts = append(cuts, e.A.X+(y-e.A.Y)/(e.B.Y-e.A.Y)*(e.B.X-e.A.X))
			}
		}
		slices.Sort(cuts)
		row := out[r*g.words() : (r+1)*g.words()]
		for i := 0; i+1 < len(cuts); i += 2 {
			from, to := g.from(cuts[i]), g.from(cuts[i+1])-1
			if from, to = max(0, from), min(g.Columns-1, to); from <= to {
				fill(row, from, to, true)
			}
		}
	}
	return out
}

// from gives the first column whose center is not left of x.
func (g Grid) from(x float64) int {
	c := math.Ceil((x-g.Origin.X)/g.Step - 0.5)
	return int(max(-1, min(float64(g.Columns+1), c)))
}
