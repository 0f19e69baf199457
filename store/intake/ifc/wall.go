package ifc

import (
	"math"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// wall is a wall's straight piece, with what openings need of it.
type wall struct {
	building.Wall
	storey *storey
	base   float64 // z of its foot, meters
}

var wallKinds = []string{"IFCWALL", "IFCWALLSTANDARDCASE", "IFCWALLELEMENTEDCASE"}

// readWalls reads the traces of walls: the Axis representation, or the middle
// of an extruded outline.
func (r *reader) readWalls() error {
	r.walls = map[int][]*wall{}
	said := r.bounded()
	r.said = said
	keys := map[int]string{}
	for _, s := range r.spaces {
		keys[s.id] = s.Key
	}
	missing, count := 0, 0
	for i, id := range r.f.all(wallKinds...) {
		if i%256 == 0 && r.ctx.Err() != nil {
			return r.ctx.Err()
		}
		a := r.f.args(id)
		solid, _ := r.shapeOf(a.at(5), a.at(6))
		axis := r.axis(a.at(5), a.at(6))
		if len(axis) < 2 {
			axis = middle(solid)
		}
		low, high := solid.height()
		if len(axis) < 2 || count > maxWalls {
			missing++
			continue
		}
		w := building.Wall{Kind: building.UnknownWall, Thickness: units.Metres(thickness(solid, axis))}
		if high > low && high-low < 1000 {
			w.Height = units.Metres(high - low)
		}
		if b := said[id]; b != nil {
			w.Kind = building.InteriorWall
			if b.external {
				w.Kind = building.ExteriorWall
			}
			// A long wall bounds many spaces: then it has no two to name.
			sides := 2
			if b.external {
				sides = 1
			}
			for k := 0; len(b.spaces) <= sides && k < len(b.spaces); k++ {
				w.Spaces[k] = keys[b.spaces[k]]
			}
		}
		if math.IsInf(low, 0) {
			low = axis[0].z
		}
		for k := 1; k < len(axis); k++ {
			w.A, w.B = axis[k-1].plan(), axis[k].plan()
			if axis[k-1].finite() && axis[k].finite() && !w.A.Near(w.B, geom.Coincident) {
				r.walls[id] = append(r.walls[id], &wall{Wall: w, storey: r.storeyOf(id), base: low})
				count++
			}
		}
	}
	if n := len(r.f.all("IFCCURTAINWALL")); n > 0 {
		r.note("%s not read: draw its glass as windows if daylight counts there.", were(n, "curtain wall"))
	}
	if missing > 0 {
		r.bad.Add("walls without a trace", "walls", "%s left out for having neither an axis nor a plain outline.", were(missing, "wall"))
	}
	return nil
}

// axis gives a wall's Axis representation in the world's meters.
func (r *reader) axis(placement, representation value) []vec {
	for _, id := range r.f.args(representation.id).at(2).refs() {
		a := r.f.args(id)
		if a.at(1).string() != "Axis" {
			continue
		}
		for _, item := range a.at(3).refs() {
			if points, ok := r.curve(item, 0); ok && len(points) >= 2 {
				return raised(points, r.placement(placement))
			}
		}
	}
	return nil
}

// middle gives the line between the middles of the short sides of a wall's
// plan, where that has four corners.
func middle(b body) []vec {
	if len(b.prisms) != 1 || !b.prisms[0].upright() {
		return nil
	}
	ring := b.prisms[0].outline().Outer
	if len(ring) != 4 {
		return nil
	}
	a, c := (geom.Segment{A: ring[0], B: ring[1]}), (geom.Segment{A: ring[1], B: ring[2]})
	first, second := a.Middle(), geom.Segment{A: ring[2], B: ring[3]}.Middle()
	if a.Length() > c.Length() {
		first, second = c.Middle(), geom.Segment{A: ring[3], B: ring[0]}.Middle()
	}
	z, _ := b.height()
	return []vec{{first.X, first.Y, z}, {second.X, second.Y, z}}
}

// thickness is how far a wall's plan reaches across its trace; 0 where the
// trace bends or the body is not upright.
func thickness(b body, axis []vec) float64 {
	if len(axis) != 2 || len(b.prisms) == 0 {
		return 0
	}
	along := axis[1].sub(axis[0])
	along.z = 0
	across := vec{-along.y, along.x, 0}.unit(vec{y: 1})
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range b.prisms {
		for _, q := range p.rings[0] {
			d := q.dot(across)
			low, high = min(low, d, d+p.along.dot(across)), max(high, d, d+p.along.dot(across))
		}
	}
	if t := high - low; t > 0 && t < 5 {
		return math.Round(t*1e4) / 1e4
	}
	return 0
}
