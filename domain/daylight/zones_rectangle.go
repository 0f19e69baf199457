package daylight

import (
	"math"
	"slices"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Measured gives the zones of Zones in parts that may be cut up otherwise: the same
// floor, for sums and for counting luminaires. In a rectangular room in which nothing
// stands that cuts them and over which no rooflight lies, all is rectangles, which
// takes a small part of the time.
func (r *ZoneRules) Measured(s *Space) (Zones, error) {
	if z, ok := r.ofRectangle(s); ok {
		return z, nil
	}
	return r.Zones(s)
}

// ofRectangle gives the zones of a rectangular room in which nothing cuts them.
func (r *ZoneRules) ofRectangle(s *Space) (z Zones, ok bool) {
	f, room, ok := rectangleOf(s.Outline)
	if !ok || len(s.Rooflights) > 0 || slices.ContainsFunc(s.Obstructions, func(o Obstruction) bool { return r.cuts(&o, s.Ceiling) }) {
		return z, false
	}
	var primary, deep []geom.Box
	for i := range s.Windows {
		w := &s.Windows[i]
		h := float64(w.head(s.Ceiling))
		if h <= float64(w.Sill) || w.A.Distance(w.B) < geom.Coincident {
			continue
		}
		near, ok := r.reach(s, w, r.Depth*h, f, room)
		if !ok {
			return z, false
		}
		primary = append(primary, near)
		if r.Secondary > 0 {
			far, _ := r.reach(s, w, (r.Depth+r.Secondary)*h, f, room)
			deep = append(deep, far)
		}
	}
	z.Primary.take(f, primary, nil)
	z.Secondary.take(f, deep, primary)
	return z, true
}

// square is how far from a right angle a corner may be, as its cosine.
const square = 1e-9

// rectangleOf gives the frame of a rectangular outline, and the outline in it.
func rectangleOf(p geom.Polygon) (f frame, room geom.Box, ok bool) {
	if len(p.Holes) > 0 || len(p.Outer) != 4 || geom.SignedArea(p.Outer) <= geom.NoArea {
		return f, room, false
	}
	a, b, c, d := p.Outer[0], p.Outer[1], p.Outer[2], p.Outer[3]
	along, up := b.Sub(a), d.Sub(a)
	wide, deep := a.Distance(b), a.Distance(d)
	if wide < geom.Coincident || deep < geom.Coincident || math.Abs(along.Dot(up)) > square*wide*deep || !a.Add(along).Add(up).Near(c, square*(wide+deep)) {
		return f, room, false
	}
	return frame{a, along.Times(1 / wide)}, geom.Box{Max: geom.Pt(wide, deep)}, true
}

// reach gives a window's rectangle of a depth in the frame of the room, clipped to
// it; false where the window is not in line with the room.
func (r *ZoneRules) reach(s *Space, w *Window, depth float64, f frame, room geom.Box) (geom.Box, bool) {
	g, beyond := w.frame(), r.Side*float64(w.head(s.Ceiling))+float64(r.SideFixed)
	if across := math.Abs(g.along.Cross(f.along)); across > square && across < 1-square {
		return geom.Box{}, false
	}
	box, _ := geom.BoundsOf(f.in(g.out(geom.Pt(-beyond, 0))), f.in(g.out(geom.Pt(float64(w.Width())+beyond, depth))))
	box.Min = geom.Pt(max(box.Min.X, room.Min.X), max(box.Min.Y, room.Min.Y))
	box.Max = geom.Pt(min(box.Max.X, room.Max.X), min(box.Max.Y, room.Max.Y))
	return box, true
}

// span is a stretch of one axis.
type span struct{ from, to float64 }

// take gives the zone the floor that some rectangles cover and others do not. The
// floor is cut into strips at every side of a rectangle; within a strip the same
// rectangles hold all along.
func (z *Zone) take(f frame, with, without []geom.Box) {
	var cuts []float64
	for _, list := range [][]geom.Box{with, without} {
		for _, b := range list {
			cuts = append(cuts, b.Min.X, b.Max.X)
		}
	}
	slices.Sort(cuts)
	var on, off, left []span
	for i := 0; i+1 < len(cuts); i++ {
		from, to := cuts[i], cuts[i+1]
		if to-from < geom.Coincident {
			continue
		}
		on, off = covered(on[:0], with, (from+to)/2), covered(off[:0], without, (from+to)/2)
		left = less(left[:0], on, off)
		for _, s := range left {
			z.Area += units.SquareMetres((to - from) * (s.to - s.from))
			z.Parts = append(z.Parts, f.box(geom.Box{Min: geom.Pt(from, s.from), Max: geom.Pt(to, s.to)}))
		}
	}
}

// covered gives the stretches of y that rectangles cover at an x, in order and none
// touching the next.
func covered(out []span, boxes []geom.Box, x float64) []span {
	for _, b := range boxes {
		if b.Min.X < x && x < b.Max.X && b.Max.Y > b.Min.Y {
			out = append(out, span{b.Min.Y, b.Max.Y})
		}
	}
	slices.SortFunc(out, func(a, b span) int {
		if a.from < b.from {
			return -1
		}
		return 1
	})
	n := 0
	for _, s := range out {
		if n > 0 && s.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out[n] = s
		n++
	}
	return out[:n]
}

// less takes stretches away from others; both come in order.
func less(out, on, off []span) []span {
	for _, s := range on {
		for _, gone := range off {
			if gone.to <= s.from || gone.from >= s.to {
				continue
			}
			if gone.from-s.from > geom.Coincident {
				out = append(out, span{s.from, gone.from})
			}
			s.from = max(s.from, gone.to)
		}
		if s.to-s.from > geom.Coincident {
			out = append(out, s)
		}
	}
	return out
}
