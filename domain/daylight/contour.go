package daylight

import (
	"math"

	"scopewright/domain/geom"
)

// Contour gives where a grid's daylight factor is so many percent: the pieces of the
// line, between neighboring points as if the factor changed evenly from one to the
// next. Squares of four points of which one lies outside of the room have none; a
// square whose corners lie above and below crosswise is cut as its middle says.
// Source: the usual marching squares.
func (g Grid) Contour(percent float64) (out []geom.Segment) {
	if len(g.Cells) == 0 || g.Step <= 0 {
		return nil
	}
	at := map[[2]int]int{}
	first := g.Cells[0].At
	for i := range g.Cells {
		at[g.place(first, i)] = i
	}
	for i := range g.Cells {
		p := g.place(first, i)
		var corners [4]*Cell // counterclockwise from the lower left
		whole := true
		for k, d := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
			j, some := at[[2]int{p[0] + d[0], p[1] + d[1]}]
			if whole = whole && some; some {
				corners[k] = &g.Cells[j]
			}
		}
		if whole {
			out = append(out, cut(corners, percent)...)
		}
	}
	return out
}

// place gives a cell's column and row from those of the first.
func (g Grid) place(first geom.Point, i int) [2]int {
	d := g.Cells[i].At.Sub(first)
	return [2]int{int(math.Round(d.X / g.Step)), int(math.Round(d.Y / g.Step))}
}

// cut gives the pieces of a contour in one square.
func cut(corners [4]*Cell, percent float64) (out []geom.Segment) {
	var on []geom.Point // where it crosses the sides, in their order
	middle := 0.0
	for k, a := range corners {
		b := corners[(k+1)%4]
		u, v := a.Total()-percent, b.Total()-percent
		middle += u / 4
		if (u >= 0) != (v >= 0) {
			on = append(on, geom.Segment{A: a.At, B: b.At}.At(u/(u-v)))
		}
	}
	switch len(on) {
	case 2:
		out = append(out, geom.Segment{A: on[0], B: on[1]})
	case 4: // the crossings are those of the sides 0 to 3
		if (corners[0].Total() >= percent) == (middle >= 0) {
			out = append(out, geom.Segment{A: on[0], B: on[1]}, geom.Segment{A: on[2], B: on[3]})
		} else {
			out = append(out, geom.Segment{A: on[3], B: on[0]}, geom.Segment{A: on[1], B: on[2]})
		}
	}
	return out
}
