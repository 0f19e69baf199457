package gbxml

import (
	"fmt"
	"math"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// point3 is a point of the model in meters, z up.
type point3 struct{ X, Y, Z float64 }

// loop is a PolyLoop: its last point does not repeat the first (0 of 24,485 did
// [files]; one that does is mended).
type loop []point3

// flaw says why a loop cannot be used.
type flaw struct {
	line int
	what string // completes "Space 'x' (id, line n): "
	many int    // points, where they are too many
}

// Heights within which points are level, in meters [files].
const (
	flatWithin  = 0.020 // a loop whose heights differ by less is horizontal
	levelWithin = 0.015 // loops that lie this close are on one level
)

// planarGeometry reads the PolyLoops that are children of the geometry just
// opened, never those deeper down: RectangularGeometry holds loops in the plane
// of its surface.
func (d *document) planarGeometry(e element, metres float64, keep func(loop)) (*flaw, error) {
	metres = d.ownUnit(e, metres)
	var bad *flaw
	err := d.scan.each(func(c element) error {
		if c.Name.Local != "PolyLoop" {
			return d.scan.skip()
		}
		l, flawed, err := d.polyLoop(c, metres)
		if err != nil {
			return err
		}
		if flawed != nil && bad == nil {
			bad = flawed
		}
		if flawed == nil {
			keep(l)
		}
		return nil
	})
	return bad, err
}

// ownUnit lets a geometry that names its own unit win over the file's.
func (d *document) ownUnit(e element, metres float64) float64 {
	word := e.attr("unit")
	if word == "" {
		return metres
	}
	u, ok := lengthUnit(word)
	if !ok {
		d.problems.Add("unknown units", d.at(e.Name.Local, e.attr("id"), e.line), "The unit %q is not known; %s are used.", shown(word), d.unit.Name)
		return metres
	}
	if u.Metres != d.unit.Metres {
		d.problems.Add("shapes in another unit than the file", d.at(e.Name.Local, e.attr("id"), e.line),
			"%s is in %s while the file is in %s: converted.", e.Name.Local, u.Name, d.unit.Name)
	}
	return u.Metres
}

func (d *document) polyLoop(e element, metres float64) (loop, *flaw, error) {
	var l loop
	var bad *flaw
	count := 0
	err := d.scan.each(func(c element) error {
		if c.Name.Local != "CartesianPoint" {
			return d.scan.skip()
		}
		p, flawed, err := d.cartesianPoint(c, metres)
		if err != nil {
			return err
		}
		count++
		switch {
		case bad != nil:
		case flawed != nil:
			bad, l = flawed, nil
		case count > d.opt.Limits.LoopPoints:
			bad, l = &flaw{line: e.line}, nil
		default:
			if d.points++; d.points > d.opt.Limits.Points {
				return building.Refuse("The file has more than %s points (stopped at line %s). Export one storey at a time.",
					building.Count(d.opt.Limits.Points), building.Count(d.scan.line()))
			}
			l = append(l, p)
		}
		return nil
	})
	switch {
	case err != nil:
		return nil, nil, err
	case bad != nil && count > d.opt.Limits.LoopPoints:
		bad.many = count
	}
	if n := len(l); n > 1 && l[0] == l[n-1] {
		l = l[:n-1]
	}
	return l, bad, nil
}

func (d *document) cartesianPoint(e element, metres float64) (point3, *flaw, error) {
	var c [3]float64
	var bad *flaw
	n := 0
	err := d.scan.each(func(coord element) error {
		if coord.Name.Local != "Coordinate" {
			return d.scan.skip()
		}
		text, err := d.scan.text()
		if err != nil {
			return err
		}
		if n < 3 {
			v, wrong := coordinate(text, metres)
			if wrong != nil && bad == nil {
				bad = &flaw{line: coord.line, what: fmt.Sprintf("coordinate '%s' %s", shown(text), wrong)}
			}
			c[n] = v
		}
		n++
		return nil
	})
	if n != 3 && bad == nil {
		bad = &flaw{line: e.line, what: fmt.Sprintf("a point has %d coordinates instead of 3", n)}
	}
	return point3{c[0], c[1], c[2]}, bad, err
}

func (l loop) heights() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range l {
		low, high = math.Min(low, p.Z), math.Max(high, p.Z)
	}
	return low, high
}

// normal gives the loop's normal, as long as its area, by Newell's method; its
// direction depends on winding, which files do not agree on.
func (l loop) normal() (n point3) {
	if len(l) == 0 {
		return n
	}
	o := l[0]
	for i := range l {
		a, b := l[i], l[(i+1)%len(l)]
		ax, ay, az, bx, by, bz := a.X-o.X, a.Y-o.Y, a.Z-o.Z, b.X-o.X, b.Y-o.Y, b.Z-o.Z
		n.X += (ay - by) * (az + bz) / 2
		n.Y += (az - bz) * (ax + bx) / 2
		n.Z += (ax - bx) * (ay + by) / 2
	}
	return n
}

func (l loop) area() float64 {
	n := l.normal()
	return math.Sqrt(n.X*n.X + n.Y*n.Y + n.Z*n.Z)
}

func (l loop) horizontal() bool {
	low, high := l.heights()
	return len(l) >= 3 && high-low < flatWithin
}

// vertical tells whether the loop has no shadow on the plan: less than 1 % of
// its area.
func (l loop) vertical() bool {
	n := l.normal()
	return math.Abs(n.Z) <= 0.01*l.area()
}

// steep tells walls from floors and roofs: more than 45 degrees.
func (l loop) steep() bool {
	n := l.normal()
	return math.Hypot(n.X, n.Y) > math.Abs(n.Z)
}

// shadow is the loop seen from above.
func (l loop) shadow() geom.Polygon {
	ring := make([]geom.Point, len(l))
	for i, p := range l {
		ring[i] = geom.Pt(p.X, p.Y)
	}
	return geom.Polygon{Outer: ring}
}

// trace gives the ends of a wall or an opening on the plan: its extent along
// its own plane, or for what lies flat along the longer side of its bounds.
func (l loop) trace() (a, b geom.Point) {
	n := l.normal()
	across := math.Hypot(n.X, n.Y)
	if across <= 0.01*l.area() {
		box := l.shadow().Bounds()
		middle := box.Center()
		if box.Width() >= box.Height() {
			return geom.Pt(box.Min.X, middle.Y), geom.Pt(box.Max.X, middle.Y)
		}
		return geom.Pt(middle.X, box.Min.Y), geom.Pt(middle.X, box.Max.Y)
	}
	along := geom.Pt(-n.Y/across, n.X/across)
	origin := geom.Pt(l[0].X, l[0].Y)
	low, high, off := 0.0, 0.0, 0.0
	for _, p := range l {
		v := geom.Pt(p.X, p.Y).Sub(origin)
		low, high = math.Min(low, v.Dot(along)), math.Max(high, v.Dot(along))
		off += along.Cross(v)
	}
	// A wall that leans is drawn along the middle of its shadow.
	side := geom.Pt(-along.Y, along.X).Times(off / float64(len(l)))
	return origin.Add(along.Times(low)).Add(side), origin.Add(along.Times(high)).Add(side)
}
