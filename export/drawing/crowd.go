package drawing

import (
	"math"
	"unicode"

	"scopewright/domain/geom"
)

// crowd knows what stands where on paper, in cells, so that a label asks its
// neighborhood only.
type crowd struct {
	cells   map[[2]int][]occupant
	beneath *crowd // what stands there besides, shared
}

type occupant struct {
	box    geom.Box
	weight float64
}

// How bad it is to cover a square millimeter of something.
const (
	weightWall      = 8.0
	weightSymbol    = 5.0
	weightText      = 5.0
	weightLuminaire = 1.0 // luminaires and seats: many alike, a label may hide one
)

const cellMM = 8.0

func cellsOf(b geom.Box, visit func([2]int)) {
	for x := int(math.Floor(b.Min.X / cellMM)); x <= int(math.Floor(b.Max.X/cellMM)); x++ {
		for y := int(math.Floor(b.Min.Y / cellMM)); y <= int(math.Floor(b.Max.Y/cellMM)); y++ {
			visit([2]int{x, y})
		}
	}
}

func (c *crowd) add(b geom.Box, weight float64) {
	if c.cells == nil {
		c.cells = map[[2]int][]occupant{}
	}
	cellsOf(b, func(at [2]int) { c.cells[at] = append(c.cells[at], occupant{b, weight}) })
}

// addLine takes a thick line as a row of boxes.
func (c *crowd) addLine(a, b Point, thick, weight float64) {
	n := max(1, math.Ceil(a.Distance(b)/cellMM))
	if n > 5000 {
		return // beyond any paper
	}
	for i := range int(n) {
		box, _ := geom.BoundsOf(a.Add(b.Sub(a).Times(float64(i)/n)), a.Add(b.Sub(a).Times(float64(i+1)/n)))
		c.add(box.Grow(thick/2), weight)
	}
}

// cost weighs what a box would cover.
func (c *crowd) cost(b geom.Box) float64 {
	sum := 0.0
	cellsOf(b, func(at [2]int) {
		cell := geom.Box{Min: Point{X: float64(at[0]) * cellMM, Y: float64(at[1]) * cellMM}}
		cell.Max = cell.Min.Add(Point{X: cellMM, Y: cellMM})
		for _, o := range c.cells[at] {
			sum += o.weight * shared(shareBox(o.box, cell), b) // each cell its part: nothing counts twice
		}
	})
	if c.beneath != nil {
		sum += c.beneath.cost(b)
	}
	return sum
}

func shareBox(a, b geom.Box) geom.Box {
	return geom.Box{Min: Point{X: max(a.Min.X, b.Min.X), Y: max(a.Min.Y, b.Min.Y)}, Max: Point{X: min(a.Max.X, b.Max.X), Y: min(a.Max.Y, b.Max.Y)}}
}

func shared(a, b geom.Box) float64 {
	s := shareBox(a, b)
	return max(0, s.Width()) * max(0, s.Height())
}

func boxAround(at, size Point) geom.Box {
	half := size.Times(0.5)
	return geom.Box{Min: at.Sub(half), Max: at.Add(half)}
}

// textWidth reckons a text's width in millimeters from its letters: shares of
// the type size that hold for usual sans serif faces, on the wide side.
func textWidth(text string, size float64, bold bool) float64 {
	sum := 0.0
	for _, r := range text {
		switch {
		case r == ' ' || r == '.' || r == ',' || r == '-' || r == 'i' || r == 'l' || r == '1' && !bold:
			sum += 0.36
		case r == 'm' || r == 'w' || r == 'M' || r == 'W' || r > 0x2E80:
			sum += 0.88
		case unicode.IsUpper(r):
			sum += 0.66
		default:
			sum += 0.56
		}
	}
	if bold {
		sum *= 1.06
	}
	return sum * size
}
