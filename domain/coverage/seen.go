package coverage

import (
	"math"

	"scopewright/domain/geom"
)

// Sensor is a presence sensor at its place, with the radius that its pattern has
// on the plane of the target.
type Sensor struct {
	At     geom.Point
	Height float64 // m above the floor
	Radius float64 // m on the target's plane
	Facing float64 // degrees counterclockwise from x; of a wedge
	Span   float64 // degrees; 0 or 360 and more: all around
}

// halfPlane is where a x + b y + c >= 0. Along a row it grows or falls with x,
// also in floating point, so that the cells in it lie in one run.
type halfPlane struct{ a, b, c float64 }

func (h halfPlane) holds(x, by float64) bool { return h.a*x+by >= 0 }

// through gives the half-plane left of the line from p to q.
func through(p, q geom.Point) halfPlane {
	d := q.Sub(p)
	return halfPlane{-d.Y, d.X, d.Y*p.X - d.X*p.Y}
}

// region is where several half-planes hold: a shadow, or the pattern's wedge.
type region struct {
	planes [4]halfPlane
	n      int
}

func (g *region) add(h halfPlane) { g.planes[g.n] = h; g.n++ }

func (g *region) holds(x, y float64) bool {
	for _, h := range g.planes[:g.n] {
		if !h.holds(x, h.b*y+h.c) {
			return false
		}
	}
	return true
}

// shadow gives where a wall hides targets from a sensor. ok is false where it
// hides nothing: it is below the target, in line with the sensor or away from it.
func (s *Sensor) shadow(w Wall, target float64) (g region, ok bool) {
	k := ShadowFactor(s.Height, target, w.Top)
	a, b := w.A, w.B
	turn := a.Sub(s.At).Cross(b.Sub(s.At))
	if k <= 1 || math.Abs(turn) < 1e-12 {
		return g, false
	}
	if turn < 0 {
		a, b = b, a
	}
	g.add(through(s.At, a))      // between the rays to its ends
	g.add(through(b, s.At))      //
	g.add(beyond(through(b, a))) // behind it, not on it
	if !math.IsInf(k, 1) {       // and not farther than its shadow reaches
		far := func(p geom.Point) geom.Point { return s.At.Add(p.Sub(s.At).Times(k)) }
		g.add(through(far(a), far(b)))
	}
	return g, true
}

// beyond moves a half-plane off its line by a hair, so that what stands on a
// wall is not behind it.
func beyond(h halfPlane) halfPlane {
	h.c -= 1e-9 * math.Hypot(h.a, h.b)
	return h
}

// wedge gives the half-planes of a pattern that spans at most 180 degrees.
func (s *Sensor) wedge() (g region) {
	if s.Span <= 0 || s.Span >= 360 {
		return g
	}
	side := func(degrees float64) geom.Point {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return geom.Pt(s.At.X+cos, s.At.Y+sin)
	}
	g.add(through(s.At, side(s.Facing-s.Span/2)))
	g.add(through(side(s.Facing+s.Span/2), s.At))
	return g
}

// within tells whether a point is in the pattern's wedge: in both half-planes of
// a narrow one, in either of a wide one.
func (s *Sensor) within(g *region, x, y float64) bool {
	if g.n == 0 || g.holds(x, y) {
		return true
	}
	if s.Span <= 180 {
		return false
	}
	return g.planes[0].holds(x, g.planes[0].b*y+g.planes[0].c) || g.planes[1].holds(x, g.planes[1].b*y+g.planes[1].c)
}

// Sees tells whether a sensor sees a target at a point and height over walls.
func (s *Sensor) Sees(p geom.Point, target float64, walls []Wall) bool {
	if !s.inReach(p.X, p.Y) {
		return false
	}
	wedge := s.wedge()
	if !s.within(&wedge, p.X, p.Y) {
		return false
	}
	for _, w := range walls {
		if g, ok := s.shadow(w, target); ok && g.holds(p.X, p.Y) {
			return false
		}
	}
	return true
}

func (s *Sensor) inReach(x, y float64) bool {
	dx, dy := x-s.At.X, y-s.At.Y
	return dx*dx+dy*dy <= s.Radius*s.Radius
}

// Seen puts the cells that a sensor sees into a set that it clears first, or
// that it makes where it is nil: row by row, each wall's shadow takes one run of
// cells away. What it finds is what Sees finds for each cell.
func (g Grid) Seen(s Sensor, target float64, walls []Wall, into Cells) Cells {
	if into == nil {
		into = g.None()
	} else {
		clear(into)
	}
	first, last := max(0, g.rowFrom(s.At.Y-s.Radius)-1), min(g.Rows-1, g.rowFrom(s.At.Y+s.Radius)+1)
	words := g.words()
	for r := first; r <= last; r++ {
		g.chord(&s, r, into[r*words:(r+1)*words])
	}
	if wedge := s.wedge(); wedge.n > 0 {
		g.cutWedge(&s, &wedge, first, last, into)
	}
	for _, w := range walls {
		if !near(&s, w) {
			continue
		}
		shadow, ok := s.shadow(w, target)
		if !ok {
			continue
		}
		from, to := g.rowsOf(&s, w, first, last)
		for r := from; r <= to; r++ {
			if a, b, some := g.run(&shadow, r); some {
				fill(into[r*words:(r+1)*words], a, b, false)
			}
		}
	}
	return into
}

// near tells whether a wall comes into the sensor's reach.
func near(s *Sensor, w Wall) bool {
	return geom.Segment{A: w.A, B: w.B}.Distance(s.At) <= s.Radius
}

// rowsOf gives the rows that a wall's shadow can touch: a wall on one side of
// the sensor throws it to that side.
func (g Grid) rowsOf(s *Sensor, w Wall, first, last int) (from, to int) {
	from, to = first, last
	low, high := min(w.A.Y, w.B.Y), max(w.A.Y, w.B.Y)
	if low >= s.At.Y {
		from = max(from, g.rowFrom(low)-1)
	}
	if high <= s.At.Y {
		to = min(to, g.rowFrom(high)+1)
	}
	return from, to
}

func (g Grid) rowFrom(y float64) int {
	r := math.Ceil((y-g.Origin.Y)/g.Step - 0.5)
	return int(max(-1, min(float64(g.Rows+1), r)))
}

// chord sets the cells of a row that lie in the pattern's circle.
func (g Grid) chord(s *Sensor, r int, row Cells) {
	dy := g.Y(r) - s.At.Y
	half := s.Radius*s.Radius - dy*dy
	if half < 0 {
		half = 0
	}
	half = math.Sqrt(half)
	a, b := g.from(s.At.X-half), g.from(s.At.X+half)
	y := g.Y(r)
	a, b = g.trim(a, b, func(c int) bool { return s.inReach(g.X(c), y) })
	if a <= b {
		fill(row, a, b, true)
	}
}

// trim corrects the ends of a run by what holds for its cells: rounding puts an
// end one cell off at most.
func (g Grid) trim(a, b int, holds func(column int) bool) (int, int) {
	a, b = max(0, a-1), min(g.Columns-1, b+1)
	for a <= b && !holds(a) {
		a++
	}
	for b >= a && !holds(b) {
		b--
	}
	return a, b
}

// run gives the cells of a row that lie in a region.
func (g Grid) run(shape *region, r int) (from, to int, some bool) {
	y := g.Y(r)
	low, high := g.Origin.X, g.Origin.X+float64(g.Columns)*g.Step
	for _, h := range shape.planes[:shape.n] {
		by := h.b*y + h.c
		switch {
		case h.a > 0:
			low = max(low, -by/h.a)
		case h.a < 0:
			high = min(high, -by/h.a)
		case by < 0:
			return 0, 0, false
		}
	}
	if low > high+g.Step {
		return 0, 0, false
	}
	from, to = max(0, g.from(low)-1), min(g.Columns-1, g.from(high)+1)
	for from <= to && !shape.holds(g.X(from), y) {
		from++
	}
	for to >= from && !shape.holds(g.X(to), y) {
		to--
	}
	return from, to, from <= to
}

// cutWedge clears what a wedge-shaped pattern does not span.
func (g Grid) cutWedge(s *Sensor, wedge *region, first, last int, into Cells) {
	words := g.words()
	for r := first; r <= last; r++ {
		row := into[r*words : (r+1)*words]
		y := g.Y(r)
		a, b := g.from(s.At.X-s.Radius), g.from(s.At.X+s.Radius)
		for c := max(0, a-1); c <= min(g.Columns-1, b+1); c++ {
			if row[c/64]>>(c%64)&1 != 0 && !s.within(wedge, g.X(c), y) {
				row[c/64] &^= 1 << (c % 64)
			}
		}
	}
}
