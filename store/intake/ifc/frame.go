package ifc

import (
	"math"

	"scopewright/domain/geom"
)

// vec is a point or direction in space, meters once scaled.
type vec struct{ x, y, z float64 }

func (a vec) add(b vec) vec       { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec       { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(k float64) vec { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) length() float64     { return math.Sqrt(a.dot(a)) }
func (a vec) plan() geom.Point    { return geom.Point{X: a.x, Y: a.y} }
func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// unit gives the direction of a, or fallback where a has none.
func (a vec) unit(fallback vec) vec {
	if l := a.length(); l > 1e-12 && !math.IsInf(l, 0) {
		return a.times(1 / l)
	}
	return fallback
}

// frame is a coordinate system: where it lies and its three axes, which need
// not have length 1 after a scaled mapping.
type frame struct{ o, x, y, z vec }

var world = frame{x: vec{x: 1}, y: vec{y: 1}, z: vec{z: 1}}

func (f frame) direction(v vec) vec {
	return f.x.times(v.x).add(f.y.times(v.y)).add(f.z.times(v.z))
}

func (f frame) point(v vec) vec { return f.o.add(f.direction(v)) }

// in gives a frame that is stated in f's coordinates in the world's.
func (f frame) in(g frame) frame {
	return frame{f.point(g.o), f.direction(g.x), f.direction(g.y), f.direction(g.z)}
}

// triple reads the numbers of a point or direction; a missing z is 0.
func triple(v value) (vec, bool) {
	x, okX := v.at(0).float()
	y, okY := v.at(1).float()
	z, okZ := v.at(2).float()
	if len(v.list) == 2 {
		okZ = true
	}
	return vec{x, y, z}, okX && okY && okZ && len(v.list) <= 3
}

// at gives an IfcCartesianPoint in meters.
func (r *reader) at(id int) (vec, bool) {
	v, ok := triple(r.f.args(id).at(0))
	return v.times(r.scale), ok && r.f.kindOf(id) == "IFCCARTESIANPOINT"
}

// toward gives an IfcDirection, or fallback.
func (r *reader) toward(v value, fallback vec) vec {
	if v.kind != ref {
		return fallback
	}
	d, ok := triple(r.f.args(v.id).at(0))
	if !ok {
		return fallback
	}
	return d.unit(fallback)
}

// axes reads IfcAxis2Placement3D (Location, Axis, RefDirection), ...2D
// (Location, RefDirection) and IfcAxis2PlacementLinear's like as the world's.
func (r *reader) axes(id int) frame {
	a := r.f.args(id)
	f := world
	if o, ok := r.at(a.at(0).id); ok {
		f.o = o
	}
	switch r.f.kindOf(id) {
	case "IFCAXIS2PLACEMENT2D":
		f.x = r.toward(a.at(1), f.x)
		f.x.z = 0
		f.x = f.x.unit(vec{x: 1})
		f.y = vec{-f.x.y, f.x.x, 0}
	case "IFCAXIS2PLACEMENT3D":
		f.z = r.toward(a.at(1), f.z)
		along := r.toward(a.at(2), vec{x: 1})
		across := along.sub(f.z.times(along.dot(f.z)))
		if across.length() < 1e-9 { // parallel to the axis: any other will do
			along = vec{y: 1}
			across = along.sub(f.z.times(along.dot(f.z)))
			if across.length() < 1e-9 {
				across = vec{x: 1}
			}
		}
		f.x = across.unit(vec{x: 1})
		f.y = f.z.cross(f.x)
	}
	return f
}

// placement follows IfcLocalPlacement (PlacementRelTo, RelativePlacement) up to
// the world. Chains that close on themselves or are too long end in the world.
func (r *reader) placement(v value) frame {
	return r.placed(v, 0, map[int]bool{})
}

func (r *reader) placed(v value, depth int, open map[int]bool) frame {
	if v.kind != ref || r.f.kindOf(v.id) != "IFCLOCALPLACEMENT" {
		return world
	}
	if f, ok := r.frames[v.id]; ok {
		return f
	}
	if open[v.id] || depth > maxDepth {
		r.bad.Add("placements that lead back to themselves", ident(v.id), "The placement #%d leads back to itself: what it places may lie elsewhere.", v.id)
		return world
	}
	open[v.id] = true
	a := r.f.args(v.id)
	f := r.placed(a.at(0), depth+1, open).in(r.axes(a.at(1).id))
	r.frames[v.id] = f
	return f
}

// operator reads IfcCartesianTransformationOperator2D and 3D: Axis1, Axis2,
// LocalOrigin, Scale, Axis3.
func (r *reader) operator(id int) frame {
	a := r.f.args(id)
	f := world
	if o, ok := r.at(a.at(2).id); ok {
		f.o = o
	}
	k := 1.0
	if s, ok := a.at(3).float(); ok && s != 0 {
		k = s
	}
	f.x = r.toward(a.at(0), vec{x: 1})
	f.y = r.toward(a.at(1), vec{-f.x.y, f.x.x, 0}.unit(vec{y: 1}))
	f.z = r.toward(a.at(4), f.x.cross(f.y).unit(vec{z: 1}))
	f.x, f.y, f.z = f.x.times(k), f.y.times(k), f.z.times(k)
	return f
}

// finite tells whether a point is on a plan that anyone draws.
func (a vec) finite() bool {
	return a.plan().Finite() && math.Abs(a.z) <= geom.MaxCoordinate
}
