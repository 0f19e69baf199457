package daylight

import (
	"math"

	"scopewright/domain/geom"
)

// glimpse is a stretch of a window that a point sees: from and to along the glass
// from the foot of the point's normal, above a height over the work plane.
type glimpse struct{ from, to, low float64 }

// eye keeps the room that looking takes, so that a grid asks for it once.
type eye struct{ seen, next []glimpse }

// strip is the most that a stretch behind a partition is wide before it is taken
// as of one height, meters. Strips of half the width change a factor by under 1 %.
const strip = 0.15

// nearest is how far off what stands between a point and the glass must be from
// either, meters.
const nearest = 1e-3

// look gives the stretches of a window between two heights over the work plane that
// are in sight of a point, given in the window's frame.
func (e *eye) look(l *Light, w *opening, at geom.Point, sill, head float64) []glimpse {
	e.seen = append(e.seen[:0], glimpse{-at.X, w.wide - at.X, 0})
	for _, s := range l.walls {
		if from, to, hides := shadowOn(w, s, at); hides {
			e.hide(from, to)
		}
	}
	for i := range l.low {
		b := &l.low[i]
		from, to, hides := shadowOn(w, b.Segment, at)
		if !hides {
			continue
		}
		switch least, most := b.between(w, at); {
		case most <= sill:
		case least >= head:
			e.hide(from, to)
		default:
			e.raise(from, to, func(x float64) float64 { return b.hides(w, at, x) })
		}
	}
	return e.seen
}

// towards gives a segment as seen from a point at the origin that looks at the
// glass: x along it, y towards it.
func towards(w *opening, s geom.Segment, at geom.Point) geom.Segment {
	s = w.segment(s)
	return geom.Segment{A: geom.Pt(s.A.X-at.X, at.Y-s.A.Y), B: geom.Pt(s.B.X-at.X, at.Y-s.B.Y)}
}

// shadowOn gives the stretch of the glass's line that a segment hides.
func shadowOn(w *opening, s geom.Segment, at geom.Point) (from, to float64, hides bool) {
	s = towards(w, s, at)
	if max(s.A.Y, s.B.Y) <= nearest || min(s.A.Y, s.B.Y) >= at.Y-nearest {
		return 0, 0, false
	}
	wide := math.Abs(s.A.X) + math.Abs(s.B.X) + 1
	s, some := clip(s, geom.Box{Min: geom.Pt(-wide, nearest), Max: geom.Pt(wide, max(2*nearest, at.Y-nearest))})
	if !some {
		return 0, 0, false
	}
	from, to = s.A.X*at.Y/s.A.Y, s.B.X*at.Y/s.B.Y
	if from > to {
		from, to = to, from
	}
	return from, to, to > -at.X && from < w.wide-at.X
}

// hides gives how high over the work plane a partition hides the glass at x.
func (b *blocker) hides(w *opening, at geom.Point, x float64) float64 {
	s := towards(w, b.Segment, at)
	d, k := s.B.Sub(s.A), x/at.Y
	turn := d.X - k*d.Y
	if math.Abs(turn) < 1e-12 {
		return b.above * at.Y / max(nearest, min(s.A.Y, s.B.Y))
	}
	y := s.A.Y + (k*s.A.Y-s.A.X)/turn*d.Y
	return b.above * at.Y / max(nearest, y)
}

// between gives the least and the most that a partition hides of the glass, over the
// work plane: what it does at its ends, where it is farthest and nearest.
func (b *blocker) between(w *opening, at geom.Point) (least, most float64) {
	s := towards(w, b.Segment, at)
	near, far := min(s.A.Y, s.B.Y), max(s.A.Y, s.B.Y)
	return b.above * at.Y / max(nearest, far), b.above * at.Y / max(nearest, near)
}

// hide takes what lies between from and to out of what is seen.
func (e *eye) hide(from, to float64) {
	out := e.next[:0]
	for _, g := range e.seen {
		if to <= g.from || from >= g.to {
			out = append(out, g)
			continue
		}
		if from > g.from {
			out = append(out, glimpse{g.from, from, g.low})
		}
		if to < g.to {
			out = append(out, glimpse{to, g.to, g.low})
		}
	}
	e.seen, e.next = out, e.seen
}

// raise cuts what lies between from and to into strips with a lower edge each.
func (e *eye) raise(from, to float64, low func(x float64) float64) {
	out := e.next[:0]
	for _, g := range e.seen {
		a, b := max(g.from, from), min(g.to, to)
		if a >= b {
			out = append(out, g)
			continue
		}
		if g.from < a {
			out = append(out, glimpse{g.from, a, g.low})
		}
		n := max(1, int(math.Ceil((b-a)/strip)))
		step := (b - a) / float64(n)
		for i := range n {
			x := a + float64(i)*step
			out = append(out, glimpse{x, x + step, max(g.low, low(x+step/2))})
		}
		if b < g.to {
			out = append(out, glimpse{b, g.to, g.low})
		}
	}
	e.seen, e.next = out, e.seen
}
