package dxf

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// entity reads one entity into the current content. Those that a plan does not
// need (points, solids, leaders, viewports) are passed over.
func (p *parser) entity(r *record) error {
	switch r.name {
	case "VERTEX":
		return p.vertex(r)
	case "SEQEND":
		p.endPolyline()
		p.stamp = nil
		return nil
	}
	p.endPolyline()
	if r.name != "ATTRIB" {
		p.stamp = nil
	}
	// 67 = 1 is paper space, 60 = 1 invisible. A hidden polyline still has to
	// swallow the vertices that follow it.
	if r.flags(67) == 1 || r.flags(60) == 1 {
		if r.name == "POLYLINE" {
			p.poly, p.discard = &path{}, true
		}
		return nil
	}
	var err error
	switch r.name {
	case "LINE":
		err = p.add(&path{v: straight([]geom.Point{r.point(10), r.point(11)})}, r)
	case "LWPOLYLINE":
		err = p.lightPolyline(r)
	case "POLYLINE":
		p.polyline(r)
	case "ARC":
		start, end := r.num(50, 0)*math.Pi/180, r.num(51, 0)*math.Pi/180
		err = p.add(&path{v: arc(r.point(10), r.num(40, 0), start, sweep(start, end)), m: r.plane()}, r)
	case "CIRCLE":
		err = p.add(&path{v: circle(r.point(10), r.num(40, 0)), m: r.plane(), closed: true}, r)
	case "ELLIPSE":
		err = p.ellipse(r)
	case "SPLINE":
		err = p.splineCurve(r)
	case "HATCH":
		err = p.hatch(r)
	case "INSERT":
		p.insert(r)
	case "TEXT", "MTEXT", "ATTRIB", "ATTDEF":
		p.label(r)
	case "DIMENSION":
		if kind := r.flags(70) & 7; kind <= 1 { // linear and aligned
			if v := r.num(42, 0); v > 0 {
				p.into.dims = append(p.into.dims, v)
			}
		}
	}
	return err
}

// sweep gives the counterclockwise angle from start to end, a whole turn where
// they are equal.
func sweep(start, end float64) float64 {
	s := math.Mod(end-start, 2*math.Pi)
	if s <= 1e-12 {
		s += 2 * math.Pi
	}
	return s
}

// layer gives the layer that an entity names with group 8.
func (p *parser) layer(r *record) int {
	raw, _ := r.raw(8)
	return p.d.layerOf(p.d.decoder.text(raw))
}

// sound tells whether all numbers of an entity could be read, and says so if not.
func (p *parser) sound(r *record) bool {
	if r.bad == nil {
		return true
	}
	p.d.problems.Add("coordinates that are no numbers", p.src.place(r.badLine), "%s on layer '%s' (%s): coordinate %v. It was left out.",
		r.name, cut(p.d.layers[p.layer(r)].name, 60), p.src.place(r.badLine), r.bad)
	r.bad = nil
	return false
}

func (p *parser) add(q *path, r *record) error {
	q.kind, q.layer, q.line, q.handle = r.name, p.layer(r), r.line, r.handle()
	if !p.sound(r) || len(q.v) == 0 {
		return nil
	}
	q.close()
	p.into.paths = append(p.into.paths, q)
	n := len(q.v)
	for _, hole := range q.holes {
		n += len(hole)
	}
	return p.count(n)
}

func (p *parser) tooLong(r *record, n int) {
	p.d.problems.Add("lines with too many points", p.src.place(r.line), "%s on layer '%s' (%s) has %s points; at most %s are read. It was left out: simplify it in the program that made it.",
		r.name, cut(p.d.layers[p.layer(r)].name, 60), p.src.place(r.line), building.Count(n), building.Count(MaxOutlinePoints))
}

func (p *parser) lightPolyline(r *record) error {
	if r.tooLong || r.tens > MaxOutlinePoints {
		p.tooLong(r, r.tens)
		return nil
	}
	q := &path{closed: r.flags(70)&1 != 0, m: r.plane(), z: r.num(38, 0), v: make([]vertex, 0, r.tens)}
	for _, g := range r.pairs {
		switch n := len(q.v); {
		case g.code == 10:
			q.v = append(q.v, vertex{Point: geom.Point{X: r.value(g)}})
		case n > 0 && g.code == 20:
			q.v[n-1].Y = r.value(g)
		case n > 0 && g.code == 42:
			q.v[n-1].bulge = r.value(g)
		}
	}
	return p.add(q, r)
}

// polyline begins a POLYLINE: 70 has 1 closed, 8 in space, 16 mesh, 64 faces.
func (p *parser) polyline(r *record) {
	flags := r.flags(70)
	p.poly = &path{kind: r.name, layer: p.layer(r), line: r.line, handle: r.handle(), z: r.num(30, 0), closed: flags&1 != 0}
	if flags&8 == 0 {
		p.poly.m = r.plane()
	}
	p.discard = flags&(16|64) != 0
}

func (p *parser) vertex(r *record) error {
	// 16 is a control point of a fitted curve, not on it.
	if p.poly == nil || p.discard || r.flags(70)&16 != 0 {
		return nil
	}
	v := vertex{r.point(10), r.num(42, 0)}
	if r.bad != nil {
		p.sound(r)
		p.discard = true
		return nil
	}
	p.poly.v = append(p.poly.v, v)
	if n := len(p.poly.v); n > MaxOutlinePoints {
		p.d.problems.Add("lines with too many points", p.src.place(p.poly.line), "POLYLINE on layer '%s' (%s) has more than %s points. It was left out: simplify it in the program that made it.",
			cut(p.d.layers[p.poly.layer].name, 60), p.src.place(p.poly.line), building.Count(MaxOutlinePoints))
		p.discard, p.poly.v = true, nil
	}
	return p.count(1)
}

func (p *parser) endPolyline() {
	if p.poly != nil && !p.discard && len(p.poly.v) > 0 {
		p.poly.close()
		p.into.paths = append(p.into.paths, p.poly)
	}
	p.poly, p.discard = nil, false
}

// ellipse is a circle of radius 1 seen through a map: 11 the half axis, 40 the
// ratio of the other, 41 and 42 where it starts and ends.
func (p *parser) ellipse(r *record) error {
	center, major, ratio := r.point(10), r.point(11), r.num(40, 1)
	start, end := r.num(41, 0), r.num(42, 2*math.Pi)
	if r.num(230, 1) < 0 {
		ratio = -ratio
	}
	m := affine{a: major.X, b: major.Y, c: -major.Y * ratio, d: major.X * ratio, e: center.X, f: center.Y}
	q := &path{m: &m}
	if s := sweep(start, end); s > 2*math.Pi-1e-6 {
		q.v, q.closed = circle(geom.Point{}, 1), true
	} else {
		q.v = arc(geom.Point{}, 1, start, s)
	}
	return p.add(q, r)
}

// splineCurve flattens a SPLINE; one with fit points only becomes the line
// through them.
func (p *parser) splineCurve(r *record) error {
	if r.tooLong {
		p.tooLong(r, r.tens)
		return nil
	}
	s := spline{degree: r.flags(71)}
	var fit []geom.Point
	for _, g := range r.pairs {
		switch n, f := len(s.control), len(fit); {
		case g.code == 40:
			s.knots = append(s.knots, r.value(g))
		case g.code == 41:
			s.weights = append(s.weights, r.value(g))
		case g.code == 10:
			s.control = append(s.control, geom.Point{X: r.value(g)})
		case g.code == 20 && n > 0:
			s.control[n-1].Y = r.value(g)
		case g.code == 11:
			fit = append(fit, geom.Point{X: r.value(g)})
		case g.code == 21 && f > 0:
			fit[f-1].Y = r.value(g)
		}
	}
	q := &path{}
	switch {
	case s.usable():
		q.v = straight(s.points())
	case len(fit) > 1 && len(fit) <= MaxOutlinePoints:
		q.v = straight(fit)
	default:
		p.d.problems.Add("splines that fit no curve", p.src.place(r.line), "SPLINE on layer '%s' (%s) has %s knots for %s control points of degree %d, which fits no curve. It was left out.",
			cut(p.d.layers[p.layer(r)].name, 60), p.src.place(r.line), building.Count(len(s.knots)), building.Count(len(s.control)), s.degree)
		return nil
	}
	return p.add(q, r)
}

// insert reads INSERT: 41 and 42 scale, 50 turns, 70 x 71 copies 44 and 45 apart.
func (p *parser) insert(r *record) {
	raw, ok := r.raw(2)
	at := r.point(10)
	in := &placing{
		layer: p.layer(r), line: r.line,
		frame: moved(at.X, at.Y).after(turned(r.num(50, 0))),
		sx:    r.num(41, 1), sy: r.num(42, 1),
		cols: max(1, int(r.num(70, 1))), rows: max(1, int(r.num(71, 1))),
		dx: r.num(44, 0), dy: r.num(45, 0),
	}
	if m := r.plane(); m != nil {
		in.frame = m.after(in.frame)
	}
	p.stamp = in // attributes may follow even where the block is of no use
	if !ok || !p.sound(r) {
		return
	}
	in.block = strings.ToUpper(p.d.decoder.text(raw))
	p.into.placings = append(p.into.placings, in)
}

// hatch reads the boundary of a HATCH as an outline with holes.
func (p *parser) hatch(r *record) error {
	if r.tooLong || r.tens > MaxOutlinePoints {
		p.tooLong(r, r.tens)
		return nil
	}
	loops, err := readLoops(r)
	if err != nil {
		p.d.problems.Add("hatches that cannot be read", p.src.place(r.line), "HATCH on layer '%s' (%s): %v. It was left out.",
			cut(p.d.layers[p.layer(r)].name, 60), p.src.place(r.line), err)
		return nil
	}
	for _, q := range nest(loops) {
		q.m = r.plane()
		if err := p.add(q, r); err != nil {
			return fmt.Errorf("hatch: %w", err)
		}
	}
	return nil
}
