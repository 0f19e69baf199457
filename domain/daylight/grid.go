package daylight

import (
	"math"
	"slices"

	"scopewright/domain/geom"
)

// Grid is the daylight factor of a room on a net of points in its work plane.
type Grid struct {
	Step  float64 // m between points, along x and y
	Cells []Cell  // those whose middle is in the room, row by row from below
}

// Cell is one square of a grid by its middle.
type Cell struct {
	At geom.Point
	Factor
}

// mostCells bounds a grid; a finer step than that asks for is widened.
const mostCells = 40_000

// Grid gives the daylight factor in the middles of squares of a step in meters over
// the room's bounds.
func (l *Light) Grid(step float64) Grid {
	b := l.space.Outline.Bounds()
	if !(step >= 0.01) {
		step = 0.5
	}
	for b.Width()/step*(b.Height()/step) > mostCells {
		step *= 2
	}
	g, e := Grid{Step: step}, new(eye)
	columns, rows := int(math.Ceil(b.Width()/step-1e-9)), int(math.Ceil(b.Height()/step-1e-9))
	for r := range rows {
		for c := range columns {
			p := b.Min.Add(geom.Pt((float64(c)+0.5)*step, (float64(r)+0.5)*step))
			if l.space.Outline.Contains(p) {
				g.Cells = append(g.Cells, Cell{p, l.at(e, p)})
			}
		}
	}
	return g
}

// Spread is what a grid says in few numbers: percent, but for Uniformity, the least
// over the mean.
type Spread struct {
	Points                                int
	Least, Mean, Median, Most, Uniformity float64
}

// Spread sums up the whole grid.
func (g Grid) Spread() Spread { return spread(g.Cells) }

// In sums up the points that lie in any of some parts of the room, as a daylight
// zone's.
func (g Grid) In(parts []geom.Polygon) Spread {
	var in []Cell
	for _, c := range g.Cells {
		if slices.ContainsFunc(parts, func(p geom.Polygon) bool { return p.Contains(c.At) }) {
			in = append(in, c)
		}
	}
	return spread(in)
}

// ShareOver gives which part of the grid's points has a daylight factor of at least
// so many percent.
func (g Grid) ShareOver(percent float64) float64 {
	n := 0
	for i := range g.Cells {
		if g.Cells[i].Total() >= percent {
			n++
		}
	}
	return float64(n) / float64(max(1, len(g.Cells)))
}

func spread(cells []Cell) Spread {
	if len(cells) == 0 {
		return Spread{}
	}
	all, sum := make([]float64, len(cells)), 0.0
	for i := range cells {
		all[i] = cells[i].Total()
		sum += all[i]
	}
	slices.Sort(all)
	n := len(all)
	s := Spread{Points: n, Least: all[0], Most: all[n-1], Mean: sum / float64(n), Median: (all[(n-1)/2] + all[n/2]) / 2}
	if s.Mean > 0 {
		s.Uniformity = s.Least / s.Mean
	}
	return s
}
