package ifc

import (
	"math"

	"scopewright/domain/geom"
)

// profile gives the outlines of an IfcProfileDef in its own plane, in meters:
// the outer ring first, holes behind it, one set for each part.
func (r *reader) profile(id, depth int) ([][][]geom.Point, bool) {
	if depth > maxDepth {
		return nil, false
	}
	a := r.f.args(id) // ProfileType, ProfileName, ...
	switch kind := r.f.kindOf(id); kind {
	case "IFCARBITRARYCLOSEDPROFILEDEF", "IFCARBITRARYPROFILEDEFWITHVOIDS":
		outer, ok := r.curve(a.at(2).id, 0)
		if !ok {
			return nil, false
		}
		rings := [][]geom.Point{outer}
		for _, hole := range a.at(3).refs() {
			if ring, ok := r.curve(hole, 0); ok {
				rings = append(rings, ring)
			}
		}
		return [][][]geom.Point{rings}, true
	case "IFCRECTANGLEPROFILEDEF", "IFCROUNDEDRECTANGLEPROFILEDEF", "IFCRECTANGLEHOLLOWPROFILEDEF":
		w, ok := a.at(3).float()
		h, ok2 := a.at(4).float()
		if !ok || !ok2 || !(w > 0 && h > 0) {
			return nil, false
		}
		w, h = w*r.scale/2, h*r.scale/2
		f := r.axes(a.at(2).id)
		var ring []geom.Point
		for _, c := range []vec{{-w, -h, 0}, {w, -h, 0}, {w, h, 0}, {-w, h, 0}} {
			ring = append(ring, f.point(c).plan())
		}
		return [][][]geom.Point{{ring}}, true
	case "IFCCIRCLEPROFILEDEF", "IFCELLIPSEPROFILEDEF", "IFCCIRCLEHOLLOWPROFILEDEF":
		return r.roundProfile(a, kind == "IFCELLIPSEPROFILEDEF")
	case "IFCDERIVEDPROFILEDEF", "IFCMIRROREDPROFILEDEF":
		parts, ok := r.profile(a.at(2).id, depth+1)
		f := r.operator(a.at(3).id)
		if kind == "IFCMIRROREDPROFILEDEF" { // about its own y axis
			f = world
			f.x = vec{x: -1}
		}
		for _, rings := range parts {
			for _, ring := range rings {
				for i, p := range ring {
					ring[i] = f.point(vec{p.X, p.Y, 0}).plan()
				}
			}
		}
		return parts, ok
	case "IFCCOMPOSITEPROFILEDEF":
		var all [][][]geom.Point
		for _, p := range a.at(2).refs() {
			parts, ok := r.profile(p, depth+1)
			if !ok || len(all) > 1000 {
				return nil, false
			}
			all = append(all, parts...)
		}
		return all, len(all) > 0
	}
	return nil, false
}

// roundProfile reads Position and Radius, or SemiAxis1 and SemiAxis2.
func (r *reader) roundProfile(a value, ellipse bool) ([][][]geom.Point, bool) {
	first, ok := a.at(3).float()
	second := first
	if ellipse {
		var ok2 bool
		second, ok2 = a.at(4).float()
		ok = ok && ok2
	}
	if !ok || !(first > 0 && second > 0) {
		return nil, false
	}
	f := r.axes(a.at(2).id)
	n := int(math.Round(2 * math.Pi / finestTurn))
	ring := make([]geom.Point, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring[i] = f.point(vec{first * r.scale * cos, second * r.scale * sin, 0}).plan()
	}
	return [][][]geom.Point{{ring}}, true
}
