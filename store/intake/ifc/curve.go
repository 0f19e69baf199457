package ifc

import (
	"math"

	"scopewright/domain/geom"
)

// finestTurn is the largest turn between chords of an arc; a circle so drawn
// has 0.011 % too little area (1 - sin t / t, by hand).
const finestTurn = 1.5 * math.Pi / 180

// curve gives the points of a curve in its own plane, in meters; false where
// its kind is not read or it has too many points.
func (r *reader) curve(id, depth int) ([]geom.Point, bool) {
	if depth > maxDepth {
		return nil, false
	}
	a := r.f.args(id)
	var out []geom.Point
	ok := true
	switch r.f.kindOf(id) {
	case "IFCPOLYLINE":
		refs := a.at(0).refs()
		if len(refs) > MaxOutlinePoints {
			return nil, false
		}
		for _, p := range refs {
			v, sound := r.at(p)
			if !sound {
				return nil, false
			}
			out = append(out, v.plan())
		}
	case "IFCINDEXEDPOLYCURVE":
		out, ok = r.indexed(a)
	case "IFCCOMPOSITECURVE", "IFC2DCOMPOSITECURVE":
		for _, s := range a.at(0).refs() {
			seg := r.f.args(s) // Transition, SameSense, ParentCurve
			part, sound := r.curve(seg.at(2).id, depth+1)
			if !sound || len(out)+len(part) > MaxOutlinePoints {
				return nil, false
			}
			if seg.at(1).words == "F" {
				reverse(part)
			}
			out = join(out, part)
		}
	case "IFCTRIMMEDCURVE":
		out, ok = r.trimmed(a)
	case "IFCCIRCLE", "IFCELLIPSE":
		out, ok = r.conic(id, 0, 2*math.Pi)
	default:
		ok = false
	}
	return out, ok && len(out) > 1 && len(out) <= MaxOutlinePoints
}

func reverse(points []geom.Point) {
	for i, j := 0, len(points)-1; i < j; i, j = i+1, j-1 {
		points[i], points[j] = points[j], points[i]
	}
}

// join adds a run of points, without its first where that repeats the last.
func join(out, part []geom.Point) []geom.Point {
	if len(out) > 0 && len(part) > 0 && out[len(out)-1].Near(part[0], geom.Coincident) {
		part = part[1:]
	}
	return append(out, part...)
}

// conic gives points of an IfcCircle (Position, Radius) or IfcEllipse
// (Position, SemiAxis1, SemiAxis2) from one angle to another.
func (r *reader) conic(id int, from, to float64) ([]geom.Point, bool) {
	a := r.f.args(id)
	f := r.axes(a.at(0).id)
	first, ok := a.at(1).float()
	second := first
	if r.f.kindOf(id) == "IFCELLIPSE" {
		var ok2 bool
		second, ok2 = a.at(2).float()
		ok = ok && ok2
	}
	if !ok || !(first > 0 && second > 0) {
		return nil, false
	}
	n := max(1, int(math.Ceil(math.Abs(to-from)/finestTurn)))
	if n > 1000 {
		return nil, false
	}
	out := make([]geom.Point, 0, n+1)
	for k := 0; k <= n; k++ {
		sin, cos := math.Sincos(from + (to-from)*float64(k)/float64(n))
		out = append(out, f.point(vec{first * r.scale * cos, second * r.scale * sin, 0}).plan())
	}
	return out, true
}

// trimmed reads IfcTrimmedCurve: BasisCurve, Trim1, Trim2, SenseAgreement. A
// trim is a parameter (for conics an angle), a point, or both.
func (r *reader) trimmed(a value) ([]geom.Point, bool) {
	basis := a.at(0).id
	same := a.at(3).words != "F"
	b := r.f.args(basis)
	switch r.f.kindOf(basis) {
	case "IFCLINE":
		// Pnt, Dir: a vector (Orientation, Magnitude).
		start, ok := r.at(b.at(0).id)
		v := r.f.args(b.at(1).id)
		step, ok2 := v.at(1).float()
		along := r.toward(v.at(0), vec{x: 1}).times(step * r.scale)
		var ends [2]geom.Point
		for i := range ends {
			p, t, hasPoint, hasNumber := r.trim(a.at(1 + i))
			switch {
			case hasPoint:
				ends[i] = p
			case hasNumber && ok && ok2:
				ends[i] = start.add(along.times(t)).plan()
			default:
				return nil, false
			}
		}
		return ends[:], true
	case "IFCCIRCLE", "IFCELLIPSE":
		f := r.axes(b.at(0).id)
		var angles [2]float64
		for i := range angles {
			p, t, hasPoint, hasNumber := r.trim(a.at(1 + i))
			switch {
			case hasNumber:
				angles[i] = t * r.angle
			case hasPoint:
				d := vec{p.X, p.Y, 0}.sub(f.o)
				first, _ := b.at(1).float()
				second := first
				if r.f.kindOf(basis) == "IFCELLIPSE" {
					second, _ = b.at(2).float()
				}
				angles[i] = math.Atan2(d.dot(f.y)*first, d.dot(f.x)*second)
			default:
				return nil, false
			}
		}
		from, to := angles[0], angles[1]
		if !same {
			from, to = to, from
		}
		if to = from + math.Mod(math.Mod(to-from, 2*math.Pi)+2*math.Pi, 2*math.Pi); to-from < 1e-9 {
			to = from + 2*math.Pi
		}
		out, ok := r.conic(basis, from, to)
		if !same {
			reverse(out)
		}
		return out, ok
	}
	return nil, false
}

func (r *reader) trim(v value) (p geom.Point, t float64, hasPoint, hasNumber bool) {
	for _, e := range v.list {
		if e.kind == ref {
			if at, ok := r.at(e.id); ok {
				p, hasPoint = at.plan(), true
			}
		} else if n, ok := e.float(); ok {
			t, hasNumber = n, true
		}
	}
	return p, t, hasPoint, hasNumber
}

// indexed reads IfcIndexedPolyCurve: Points (a list of coordinates), Segments
// (IfcLineIndex, IfcArcIndex by three points; none means all in order).
func (r *reader) indexed(a value) ([]geom.Point, bool) {
	coords := r.f.args(a.at(0).id).at(0).list
	at := func(v value) (geom.Point, bool) {
		n, ok := v.float()
		if !ok || n < 1 || int(n) > len(coords) {
			return geom.Point{}, false
		}
		p, ok := triple(coords[int(n)-1])
		return p.times(r.scale).plan(), ok
	}
	var out []geom.Point
	if len(a.at(1).list) == 0 {
		for i := range coords {
			p, ok := at(value{kind: number, num: float64(i + 1)})
			if !ok || i > MaxOutlinePoints {
				return nil, false
			}
			out = append(out, p)
		}
		return out, true
	}
	for _, s := range a.at(1).list {
		var part []geom.Point
		for _, n := range s.at(0).list {
			p, ok := at(n)
			if !ok {
				return nil, false
			}
			part = append(part, p)
		}
		if s.words == "IFCARCINDEX" && len(part) == 3 {
			part = through(part[0], part[1], part[2])
		}
		if out = join(out, part); len(out) > MaxOutlinePoints {
			return nil, false
		}
	}
	return out, true
}

// through gives the chords of the arc from a over b to c.
func through(a, b, c geom.Point) []geom.Point {
	u, v := b.Sub(a), c.Sub(a)
	turn := 2 * u.Cross(v)
	if math.Abs(turn) < 1e-12*u.Dot(u)+1e-18 {
		return []geom.Point{a, b, c}
	}
	// The center is as far from a as from b and from c.
	uu, vv := u.Dot(u), v.Dot(v)
	center := a.Add(geom.Point{X: v.Y*uu - u.Y*vv, Y: u.X*vv - v.X*uu}.Times(1 / turn))
	radius := center.Distance(a)
	start := math.Atan2(a.Y-center.Y, a.X-center.X)
	sweep := math.Mod(math.Atan2(c.Y-center.Y, c.X-center.X)-start, 2*math.Pi)
	if turn > 0 && sweep < 0 {
		sweep += 2 * math.Pi
	}
	if turn < 0 && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	n := max(1, int(math.Ceil(math.Abs(sweep)/finestTurn)))
	out := []geom.Point{a}
	for k := 1; k < n; k++ {
		sin, cos := math.Sincos(start + sweep*float64(k)/float64(n))
		out = append(out, center.Add(geom.Point{X: radius * cos, Y: radius * sin}))
	}
	return append(out, c)
}
