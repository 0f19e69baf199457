package radio

import (
	"math"

	"scopewright/domain/geom"
)

// caster reckons what a router gives to all cells of a map at once. What lies
// behind an obstacle, seen from the router, is one stretch of each row of cells,
// so that an obstacle costs its rows and not its cells.
type caster struct {
	m      *Map
	strips []strip
	loss   []float64 // by row, one more than the columns: changes of loss from cell to cell
}

func newCaster(m *Map) *caster {
	c := &caster{m: m, strips: make([]strip, len(m.obstacles)), loss: make([]float64, (m.Columns+1)*m.Rows)}
	for i := range m.obstacles {
		o := &m.obstacles[i]
		c.strips[i] = strip{o.A.X, o.A.Y, o.B.X, o.B.Y, o.Bottom, o.Top, o.Loss}
	}
	return c
}

// layer gives the margins between a router and the cells, dB.
func (c *caster) layer(s *Source) []float32 {
	clear(c.loss)
	for i := range c.strips {
		c.shade(&c.strips[i], s.Place)
	}
	m := c.m
	out := make([]float32, m.Columns*m.Rows)
	// What the link has at 1 m in the open, less 10 lg of the squared distance.
	start := Margin(s.Radio, m.Child, FreeSpace(nearest, MeshMHz)+s.Ceiling)
	dz := s.Z - m.Z
	for row := range m.Rows {
		dy, walls := m.Y(row)-s.At.Y, 0.0
		for column := range m.Columns {
			walls += c.loss[row*(m.Columns+1)+column]
			dx := m.X(column) - s.At.X
			out[row*m.Columns+column] = float32(start - 10*math.Log10(math.Max(nearest, dx*dx+dy*dy+dz*dz)) - walls)
		}
	}
	return out
}

// halfPlane is where x X + y Y + c >= 0.
type halfPlane struct{ x, y, c float64 }

// shade adds an obstacle's loss to the cells behind it: those in the wedge
// between the lines of sight past its ends, beyond its line, and not so far or so
// near that the line of sight passes over or under it.
func (c *caster) shade(w *strip, from Place) {
	side := w.side(from.At)
	if side == 0 {
		return // seen edge on
	}
	way := math.Copysign(1, side)
	beyond := halfPlane{way * (w.by - w.ay), -way * (w.bx - w.ax), way * ((w.bx-w.ax)*w.ay - (w.by-w.ay)*w.ax)}
	limits := [4]halfPlane{beyond, edge(from, w.ax, w.ay, way), edge(from, w.bx, w.by, -way)}
	n := 3
	// The line of sight is at height z after a share t of its way, and crosses
	// the strip after |side|/(|side|+beyond).
	near, far := 0.0, 1.0
	if dz := c.m.Z - from.Z; dz == 0 {
		if from.Z < w.bottom || from.Z >= w.top {
			return
		}
	} else {
		low, high := (w.bottom-from.Z)/dz, (w.top-from.Z)/dz
		near, far = math.Max(near, math.Min(low, high)), math.Min(far, math.Max(low, high))
	}
	if near >= far {
		return
	}
	depth := math.Abs(side)
	if far < 1 {
		limits[0].c -= depth * (1/far - 1)
	}
	if near > 0 {
		limits[n] = halfPlane{-beyond.x, -beyond.y, depth*(1/near-1) - beyond.c}
		n++
	}
	c.stretch(w, from, limits[:n])
}

// edge gives the side of a line of sight past an end of a strip on which the
// strip lies.
func edge(from Place, x, y, way float64) halfPlane {
	dx, dy := x-from.At.X, y-from.At.Y
	return halfPlane{-way * dy, way * dx, way * (dy*from.At.X - dx*from.At.Y)}
}

// stretch adds the loss to the cells of each row that lie within all limits. The
// ends are settled by the very test that a single link takes.
func (c *caster) stretch(w *strip, from Place, limits []halfPlane) {
	m := c.m
	for row := range m.Rows {
		y := m.Y(row)
		low, high := m.Origin.X, m.Origin.X+float64(m.Columns)*m.Step
		for _, h := range limits {
			rest := h.y*y + h.c
			switch {
			case h.x > 0:
				low = math.Max(low, -rest/h.x)
			case h.x < 0:
				high = math.Min(high, -rest/h.x)
			case rest < 0:
				high = math.Inf(-1)
			}
		}
		if low > high {
			continue
		}
		first := max(0, int(math.Ceil((low-m.Origin.X)/m.Step-0.5)))
		last := min(m.Columns-1, int(math.Floor((high-m.Origin.X)/m.Step-0.5)))
		at := func(column int) bool { return w.crosses(from, Place{geom.Pt(m.X(column), y), m.Z}) }
		for first > 0 && at(first-1) {
			first--
		}
		for first <= last && !at(first) {
			first++
		}
		for last+1 < m.Columns && at(last+1) {
			last++
		}
		for last >= first && !at(last) {
			last--
		}
		if first <= last {
			c.loss[row*(m.Columns+1)+first] += w.loss
			c.loss[row*(m.Columns+1)+last+1] -= w.loss
		}
	}
}
