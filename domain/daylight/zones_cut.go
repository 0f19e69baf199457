package daylight

import (
	"math"

	"scopewright/domain/geom"
)

// flush is how far into the room something may stand, along the wall of a window,
// without ending its zone: a pilaster or a column in the wall's line, meters.
const flush = 0.3

// beyondAll is farther than any zone reaches past its rectangle, meters.
const beyondAll = 1.0

// innerEdges gives the edges of an outline that can stand before a window: those
// of a room with an inner corner or a hole.
func innerEdges(p geom.Polygon) []geom.Segment {
	if p.Convex() {
		return nil
	}
	return p.Edges()
}

// sideShadows gives what a line takes from a window's rectangle, all in the
// window's frame, where the window runs from 0 to wide: what lies behind it, seen
// along v,
//
//	      behind
//	    o-------o
//	====window====
//
// and, of a line beside the window that runs into the room rather than along the
// glass, all that lies beyond it from where it begins.
func sideShadows(line geom.Segment, reach geom.Box, wide float64) (out []geom.Polygon) {
	s, some := clip(line, reach)
	if !some || max(s.A.Y, s.B.Y) <= flush {
		return nil
	}
	back := reach.Max.Y + beyondAll
	if math.Abs(s.B.X-s.A.X) > geom.Coincident {
		out = append(out, upright(s, back))
	}
	if math.Abs(s.B.Y-s.A.Y) < math.Abs(s.B.X-s.A.X) {
		return out
	}
	if s.A.Y > s.B.Y {
		s.A, s.B = s.B, s.A
	}
	jamb := geom.Coincident
	for _, side := range []struct {
		part geom.Box
		far  float64
	}{
		{geom.Box{Min: geom.Pt(reach.Min.X, 0), Max: geom.Pt(jamb, back)}, reach.Min.X - beyondAll},
		{geom.Box{Min: geom.Pt(wide-jamb, 0), Max: geom.Pt(reach.Max.X, back)}, reach.Max.X + beyondAll},
	} {
		if t, some := clip(s, side.part); some {
			out = append(out, geom.Polygon{Outer: []geom.Point{t.A, t.B, {X: t.B.X, Y: back}, {X: side.far, Y: back}, {X: side.far, Y: t.A.Y}}})
		}
	}
	return out
}

// top adds one rooflight's rectangle, clipped and cut.
func (r *ZoneRules) top(s *Space, l *Rooflight, corners []geom.Segment, out *[]geom.Polygon, cut *bool) error {
	if r.Toplit <= 0 || l.Area() <= 0 {
		return nil
	}
	ceiling := float64(s.Ceiling)
	half := geom.Pt(float64(l.Width)/2, float64(l.Length)/2)
	opening := geom.Box{Min: half.Times(-1), Max: half}
	f, reach := l.frame(), opening.Grow(r.Toplit*ceiling)
	var gone []geom.Polygon
	for _, e := range corners {
		gone = append(gone, topShadows(f.segment(e), opening, reach, 0)...)
	}
	for i := range s.Obstructions {
		o := &s.Obstructions[i]
		if gap, cuts := r.topCut(o, ceiling); cuts {
			gone = append(gone, topShadows(f.segment(o.Line), opening, reach, gap)...)
		}
	}
	return place(s.Outline, f, reach, gone, out, cut)
}

// topCut tells whether an obstruction ends a toplit zone, and how far from the
// opening it must stand for that, meters.
func (r *ZoneRules) topCut(o *Obstruction, ceiling float64) (gap float64, cuts bool) {
	height := min(float64(o.Height), ceiling)
	if o.Clear && !r.ClearCuts || o.Movable && !r.MovableCuts {
		return 0, false
	}
	if r.ToplitGap > 0 {
		return r.ToplitGap * (ceiling - height), true
	}
	return 0, r.ToplitFrom > 0 && height > r.ToplitFrom*ceiling+geom.Coincident
}

// topShadows gives what a line takes from a rooflight's rectangle: of the parts of
// it that are farther than gap from the opening, all that lies beyond.
func topShadows(line geom.Segment, opening, reach geom.Box, gap float64) (out []geom.Polygon) {
	s, some := clip(line, reach)
	if !some {
		return nil
	}
	near, far := opening.Grow(gap+geom.Coincident), reach.Grow(beyondAll)
	for _, side := range []struct {
		part    geom.Box
		upright bool
		to      float64
	}{
		{geom.Box{Min: geom.Pt(far.Min.X, near.Max.Y), Max: far.Max}, true, far.Max.Y},
		{geom.Box{Min: far.Min, Max: geom.Pt(far.Max.X, near.Min.Y)}, true, far.Min.Y},
		{geom.Box{Min: geom.Pt(near.Max.X, far.Min.Y), Max: far.Max}, false, far.Max.X},
		{geom.Box{Min: far.Min, Max: geom.Pt(near.Min.X, far.Max.Y)}, false, far.Min.X},
	} {
		t, some := clip(s, side.part)
		switch {
		case !some:
		case side.upright && math.Abs(t.B.X-t.A.X) > geom.Coincident:
			out = append(out, upright(t, side.to))
		case !side.upright && math.Abs(t.B.Y-t.A.Y) > geom.Coincident:
			out = append(out, level(t, side.to))
		}
	}
	return out
}

// upright gives what lies between a line and a y, level between it and an x.
func upright(s geom.Segment, y float64) geom.Polygon {
	return geom.Polygon{Outer: []geom.Point{s.A, s.B, {X: s.B.X, Y: y}, {X: s.A.X, Y: y}}}
}

func level(s geom.Segment, x float64) geom.Polygon {
	return geom.Polygon{Outer: []geom.Point{s.A, s.B, {X: x, Y: s.B.Y}, {X: x, Y: s.A.Y}}}
}
