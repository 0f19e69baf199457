package radio

import (
	"math"

	"scopewright/domain/units"
)

// Field answers what stands between two places of a storey. Its obstacles lie in
// a grid of square cells, and a line looks only at those of the cells that it
// runs through: reckoning a pair costs what is near the line, not the storey.
type Field struct {
	obstacles []Obstacle
	x0, y0    float64
	cell      float64
	nx, ny    int
	first     []int32 // of a cell in items; one more at the end
	items     []int32 // indices of obstacles
	strips    []strip
}

// strip is what a test of a line reads of an obstacle, in one cache line.
type strip struct {
	ax, ay, bx, by, bottom, top, loss float64
}

// cellSize in meters: rooms have walls a few meters apart, and smaller cells
// cost more steps than they save tests.
const cellSize = 2.0

// NewField files the obstacles of a storey.
func NewField(obstacles []Obstacle) *Field {
	f := &Field{obstacles: obstacles, cell: cellSize}
	minX, minY, maxX, maxY := 0.0, 0.0, 0.0, 0.0
	for i := range obstacles {
		o := &obstacles[i]
		f.strips = append(f.strips, strip{o.A.X, o.A.Y, o.B.X, o.B.Y, o.Bottom, o.Top, o.Loss})
		if i == 0 {
			minX, minY, maxX, maxY = o.A.X, o.A.Y, o.A.X, o.A.Y
		}
		minX, maxX = math.Min(minX, math.Min(o.A.X, o.B.X)), math.Max(maxX, math.Max(o.A.X, o.B.X))
		minY, maxY = math.Min(minY, math.Min(o.A.Y, o.B.Y)), math.Max(maxY, math.Max(o.A.Y, o.B.Y))
	}
	const most = 1 << 20 // cells; a storey of stray coordinates gets larger ones
	for (maxX-minX)/f.cell*((maxY-minY)/f.cell) > most {
		f.cell *= 2
	}
	f.x0, f.y0 = minX, minY
	f.nx, f.ny = int((maxX-minX)/f.cell)+1, int((maxY-minY)/f.cell)+1
	f.file()
	return f
}

// file counts the obstacles of each cell, then lists them.
func (f *Field) file() {
	count := make([]int32, f.nx*f.ny+1)
	each := func(put func(cell int, obstacle int32)) {
		for i := range f.strips {
			w := &f.strips[i]
			f.walk(w.ax, w.ay, w.bx, w.by, func(row, from, to int) {
				for c := from; c <= to; c++ {
					put(row*f.nx+c, int32(i))
				}
			})
		}
	}
	each(func(cell int, _ int32) { count[cell+1]++ })
	for c := 1; c < len(count); c++ {
		count[c] += count[c-1]
	}
	f.first = count
	next := append([]int32(nil), count...)
	f.items = make([]int32, count[len(count)-1])
	each(func(cell int, i int32) {
		f.items[next[cell]] = i
		next[cell]++
	})
}

// walk visits the cells that a line touches, with those that it only grazes by
// less than a hair: row by row, all cells between where the line enters and
// leaves.
func (f *Field) walk(ax, ay, bx, by float64, visit func(row, from, to int)) {
	if ay > by {
		ax, ay, bx, by = bx, by, ax, ay
	}
	const hair = 1e-9
	slope := 0.0
	if by > ay {
		slope = (bx - ax) / (by - ay)
	}
	for r, last := f.row(ay-hair), f.row(by+hair); r <= last; r++ {
		x1, x2 := ax, bx
		if by > ay {
			low, high := f.y0+float64(r)*f.cell, f.y0+float64(r+1)*f.cell
			x1, x2 = ax+slope*(max(low, ay)-ay), ax+slope*(min(high, by)-ay)
		}
		if x1 > x2 {
			x1, x2 = x2, x1
		}
		visit(r, f.column(x1-hair), f.column(x2+hair))
	}
}

func (f *Field) column(x float64) int { return clamp((x-f.x0)/f.cell, f.nx) }
func (f *Field) row(y float64) int    { return clamp((y-f.y0)/f.cell, f.ny) }

// clamp gives the whole part of v within 0 and n-1.
func clamp(v float64, n int) int {
	if v <= 0 {
		return 0
	}
	return min(n-1, int(v))
}

// Prober asks a field; it remembers which obstacles it has tested for the line
// at hand, so each goroutine takes its own.
type Prober struct {
	field *Field
	seen  []uint32
	line  uint32
}

// Prober gives a fresh one.
func (f *Field) Prober() *Prober { return &Prober{field: f, seen: make([]uint32, len(f.strips))} }

// Loss gives the sum of the losses of all obstacles between two places, dB.
// A line through the joint of two walls that follow each other crosses one.
func (p *Prober) Loss(a, b Place) float64 {
	sum := 0.0
	p.crossed(a, b, func(i int32) { sum += p.field.strips[i].loss })
	return sum
}

// Crossed lists the obstacles between two places.
func (p *Prober) Crossed(a, b Place) []Obstacle {
	var out []Obstacle
	p.crossed(a, b, func(i int32) { out = append(out, p.field.obstacles[i]) })
	return out
}

func (p *Prober) crossed(a, b Place, found func(i int32)) {
	f := p.field
	if len(f.strips) == 0 {
		return
	}
	p.line++
	if p.line == 0 { // after four billion lines the marks start anew
		clear(p.seen)
		p.line = 1
	}
	f.walk(a.At.X, a.At.Y, b.At.X, b.At.Y, func(row, from, to int) {
		// The cells of a row lie side by side, and so do their lists.
		for _, i := range f.items[f.first[row*f.nx+from]:f.first[row*f.nx+to+1]] {
			if p.seen[i] == p.line {
				continue
			}
			p.seen[i] = p.line
			if f.strips[i].crosses(a, b) {
				found(i)
			}
		}
	})
}

// crosses tells whether the line between two places meets an obstacle: its ends
// lie on different sides of the obstacle, and the obstacle's on different sides
// of it, a point on the line counting to one side; and at a height in between.
func (w *strip) crosses(a, b Place) bool {
	dx, dy := b.At.X-a.At.X, b.At.Y-a.At.Y
	if (dx*(w.ay-a.At.Y)-dy*(w.ax-a.At.X) >= 0) == (dx*(w.by-a.At.Y)-dy*(w.bx-a.At.X) >= 0) {
		return false
	}
	wx, wy := w.bx-w.ax, w.by-w.ay
	from, to := wx*(a.At.Y-w.ay)-wy*(a.At.X-w.ax), wx*(b.At.Y-w.ay)-wy*(b.At.X-w.ax)
	if (from >= 0) == (to >= 0) {
		return false
	}
	z := a.Z + (b.Z-a.Z)*from/(from-to)
	return z >= w.bottom && z < w.top
}

// Pair is a link between two of a list of places.
type Pair struct {
	A, B int32
	Loss float64 // of free space and walls, dB
}

// Pairs gives the loss of every pair of places that are no farther apart than
// most meters (0: all), FreeSpace and walls, appended to out.
func (f *Field) Pairs(places []Place, mhz float64, most units.Metres, out []Pair) []Pair {
	p := f.Prober()
	for i := range places {
		for j := i + 1; j < len(places); j++ {
			out = p.pair(places, i, j, mhz, most, out)
		}
	}
	return out
}

// PairsOf gives the loss of every pair that one place is part of, as when one
// device was moved.
func (p *Prober) PairsOf(places []Place, moved int, mhz float64, most units.Metres, out []Pair) []Pair {
	for j := range places {
		if j != moved {
			out = p.pair(places, min(moved, j), max(moved, j), mhz, most, out)
		}
	}
	return out
}

func (p *Prober) pair(places []Place, i, j int, mhz float64, most units.Metres, out []Pair) []Pair {
	d := places[i].Distance(places[j])
	if most > 0 && d > most {
		return out
	}
	return append(out, Pair{int32(i), int32(j), FreeSpace(d, mhz) + p.Loss(places[i], places[j])})
}
