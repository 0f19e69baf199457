package ifc

import "slices"

// boundaryKinds are the space boundaries of all schemas.
var boundaryKinds = []string{"IFCRELSPACEBOUNDARY", "IFCRELSPACEBOUNDARY1STLEVEL", "IFCRELSPACEBOUNDARY2NDLEVEL"}

// boundary is IfcRelSpaceBoundary: RelatingSpace (5th attribute),
// RelatedBuildingElement, ConnectionGeometry, PhysicalOrVirtual,
// InternalOrExternal.
type boundary struct {
	space, element, geometry int
	external                 bool
}

func (r *reader) boundaries() (out []boundary) {
	for _, id := range r.f.all(boundaryKinds...) {
		a := r.f.args(id)
		out = append(out, boundary{
			space: a.at(4).id, element: a.at(5).id, geometry: a.at(6).id,
			external: slices.Contains([]string{"EXTERNAL", "EXTERNAL_EARTH", "EXTERNAL_WATER", "EXTERNAL_FIRE"}, a.at(8).words),
		})
	}
	return out
}

// bounding is what boundaries say of an element: the spaces that it bounds and
// whether one of its sides is outside.
type bounding struct {
	spaces   []int
	external bool
}

func (r *reader) bounded() map[int]*bounding {
	out := map[int]*bounding{}
	for _, b := range r.boundaries() {
		if b.element == 0 {
			continue
		}
		e := out[b.element]
		if e == nil {
			e = &bounding{}
			out[b.element] = e
		}
		e.external = e.external || b.external
		if !slices.Contains(e.spaces, b.space) {
			e.spaces = append(e.spaces, b.space)
		}
	}
	return out
}

// boundaryFaces adds the flat boundaries of a space, for one that has no shape
// of its own: IfcConnectionSurfaceGeometry (1st attribute the surface),
// IfcCurveBoundedPlane (BasisSurface, OuterBoundary), in the space's placement.
func (r *reader) boundaryFaces(space int, at frame, b *body) {
	if r.facesOf == nil {
		r.facesOf = map[int][]int{}
		for _, e := range r.boundaries() {
			r.facesOf[e.space] = append(r.facesOf[e.space], e.geometry)
		}
	}
	for _, geometry := range r.facesOf[space] {
		surface := r.f.args(geometry).at(0).id
		if r.f.kindOf(surface) != "IFCCURVEBOUNDEDPLANE" {
			continue
		}
		a := r.f.args(surface)
		ring, ok := r.curve(a.at(1).id, 0)
		if !ok {
			continue
		}
		b.addFace(raised(ring, at.in(r.axes(r.f.args(a.at(0).id).at(0).id))))
	}
}
