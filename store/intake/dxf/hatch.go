package dxf

import (
	"errors"
	"math"

	"scopewright/domain/geom"
)

// loop is one boundary of a hatch; outer ones have flag 1 or 16 in group 92.
type loop struct {
	v     []vertex
	outer bool
}

var errLoop = errors.New("its boundary cannot be read")

// cursor walks the groups of a hatch in order, for codes mean other things in
// each part of it.
type cursor struct {
	r  *record
	at int
}

// find moves behind the next group with the code; limit codes end the search.
func (c *cursor) find(code int) (float64, bool) {
	for ; c.at < len(c.r.pairs); c.at++ {
		if c.r.pairs[c.at].code == code {
			c.at++
			return c.r.value(c.r.pairs[c.at-1]), true
		}
	}
	return 0, false
}

// peek tells whether the next group has the code.
func (c *cursor) peek(code int) bool {
	return c.at < len(c.r.pairs) && c.r.pairs[c.at].code == code
}

func (c *cursor) point(code int) (geom.Point, bool) {
	x, ok := c.find(code)
	y, ok2 := c.find(code + 10)
	return geom.Point{X: x, Y: y}, ok && ok2
}

// readLoops reads 91 loops: each 92 flags, then a polyline (flag 2) or edges.
func readLoops(r *record) ([]loop, error) {
	c := &cursor{r: r}
	count, ok := c.find(91)
	if !ok || count < 0 || int(count) > len(r.pairs) {
		return nil, errLoop
	}
	var out []loop
	for range int(count) {
		flags, ok := c.find(92)
		if !ok {
			return nil, errLoop
		}
		l := loop{outer: int(flags)&(1|16) != 0}
		if int(flags)&2 != 0 {
			l.v, ok = c.polyline()
		} else {
			l.v, ok = c.edges()
		}
		if !ok {
			return nil, errLoop
		}
		if len(l.v) >= 2 {
			out = append(out, l)
		}
	}
	return out, nil
}

// polyline reads 72 bulges?, 73 closed, 93 count, then 10/20 and 42.
func (c *cursor) polyline() ([]vertex, bool) {
	count, ok := c.find(93)
	if !ok || count < 0 || int(count) > len(c.r.pairs) {
		return nil, false
	}
	var out []vertex
	for range int(count) {
		p, ok := c.point(10)
		if !ok {
			return nil, false
		}
		v := vertex{Point: p}
		if c.peek(42) {
			v.bulge, _ = c.find(42)
		}
		out = append(out, v)
	}
	return out, true
}

// edges reads 93 edges: 72 is 1 line, 2 circular arc, 3 elliptic arc, 4 spline.
func (c *cursor) edges() ([]vertex, bool) {
	count, ok := c.find(93)
	if !ok || count < 0 || int(count) > len(c.r.pairs) {
		return nil, false
	}
	var out []vertex
	for range int(count) {
		kind, ok := c.find(72)
		if !ok {
			return nil, false
		}
		var edge []vertex
		switch kind {
		case 1:
			a, ok1 := c.point(10)
			b, ok2 := c.point(11)
			edge, ok = straight([]geom.Point{a, b}), ok1 && ok2
		case 2, 3:
			edge, ok = c.arc(kind == 3)
		case 4:
			edge, ok = c.spline()
		default:
			ok = false
		}
		if !ok || len(out)+len(edge) > MaxOutlinePoints {
			return nil, false
		}
		out = join(out, edge)
	}
	return out, true
}

// arc reads a circular or elliptic edge as straight chords of finestTurn.
// Clockwise edges (73 = 0) give their angles mirrored.
func (c *cursor) arc(elliptic bool) ([]vertex, bool) {
	center, ok := c.point(10)
	m := moved(center.X, center.Y)
	if elliptic {
		major, ok2 := c.point(11)
		ratio, ok3 := c.find(40)
		ok = ok && ok2 && ok3
		m = m.after(affine{a: major.X, b: major.Y, c: -major.Y * ratio, d: major.X * ratio})
	} else {
		radius, ok2 := c.find(40)
		ok = ok && ok2
		m = m.after(scaled(radius, radius))
	}
	start, ok1 := c.find(50)
	end, ok2 := c.find(51)
	ccw, ok3 := c.find(73)
	if !ok || !ok1 || !ok2 || !ok3 {
		return nil, false
	}
	start, end = start*math.Pi/180, end*math.Pi/180
	v := arc(geom.Point{}, 1, start, sweep(start, end))
	if ccw == 0 {
		m = m.after(scaled(1, -1))
	}
	points := flatten(v, false, finestTurn)
	for i := range points {
		points[i] = m.apply(points[i])
	}
	return straight(points), true
}

// spline reads 94 degree, 95 knots, 96 control points and their values.
func (c *cursor) spline() ([]vertex, bool) {
	degree, ok1 := c.find(94)
	rational, ok2 := c.find(73)
	knots, ok3 := c.find(95)
	controls, ok4 := c.find(96)
	if !ok1 || !ok2 || !ok3 || !ok4 || knots < 0 || controls < 0 || int(knots) > len(c.r.pairs) || int(controls) > maxSplineSize {
		return nil, false
	}
	s := spline{degree: int(degree)}
	for range int(knots) {
		k, ok := c.find(40)
		if !ok {
			return nil, false
		}
		s.knots = append(s.knots, k)
	}
	for range int(controls) {
		p, ok := c.point(10)
		if !ok {
			return nil, false
		}
		s.control = append(s.control, p)
		if rational != 0 && c.peek(42) {
			w, _ := c.find(42)
			s.weights = append(s.weights, w)
		}
	}
	if !s.usable() {
		return nil, false
	}
	return straight(s.points()), true
}

// join adds an edge to a run, turned round where its far end meets the run.
func join(run, edge []vertex) []vertex {
	if len(run) == 0 || len(edge) == 0 {
		return append(run, edge...)
	}
	last := run[len(run)-1].Point
	first, far := edge[0].Point, edge[len(edge)-1].Point
	if last.Distance(far) < last.Distance(first) {
		for i, j := 0, len(edge)-1; i < j; i, j = i+1, j-1 {
			edge[i], edge[j] = edge[j], edge[i]
		}
		first = edge[0].Point
	}
	if last.Distance(first) <= 1e-9*(math.Abs(last.X)+math.Abs(last.Y)+1) {
		edge = edge[1:]
	}
	return append(run, edge...)
}

// nest makes outlines of a hatch's loops: an inner loop is a hole of the outer
// one that holds its first point. Without any outer loop, the largest is it.
func nest(loops []loop) []*path {
	var outers []*path
	var rings [][]geom.Point
	largest, most := -1, -1.0
	for i, l := range loops {
		if a := math.Abs(geom.SignedArea(flatten(l.v, true, coarseTurn))); a > most {
			largest, most = i, a
		}
	}
	some := false
	for _, l := range loops {
		some = some || l.outer
	}
	for i, l := range loops {
		if l.outer || !some && i == largest {
			outers = append(outers, &path{v: l.v, closed: true})
			rings = append(rings, flatten(l.v, true, coarseTurn))
		}
	}
	// Holes are tested against few outlines only; a pattern of thousands of
	// islands is no room.
	if len(outers) > 64 {
		return outers
	}
	for i, l := range loops {
		if l.outer || !some && i == largest {
			continue
		}
		for k, ring := range rings {
			if within(l.v[0].Point, ring) {
				outers[k].holes = append(outers[k].holes, l.v)
				break
			}
		}
	}
	return outers
}

// within is the even-odd test, without a tolerance: for drawing units of
// unknown size.
func within(p geom.Point, ring []geom.Point) bool {
	in := false
	for i, j := 0, len(ring)-1; i < len(ring); j, i = i, i+1 {
		a, b := ring[i], ring[j]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}
