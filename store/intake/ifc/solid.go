package ifc

import (
	"math"
	"slices"

	"scopewright/domain/geom"
)

// prism is an outline that was extruded, in the world's meters.
type prism struct {
	rings [][]vec // outer first, holes behind it
	along vec
}

// body is what a product's representation shows of its shape.
type body struct {
	prisms  []prism
	faces   [][]vec // outer bounds of faces
	curves  [][]vec // of a footprint
	clipped bool    // cut by other solids, which was left out
	unread  string  // kind of the first item that is not read
	points  int
	items   int
}

// maxItems bounds the pieces of one product's shape, so that mappings within
// mappings cannot multiply without end.
const maxItems = 10_000

// shapeOf reads a product's representations: IfcProductDefinitionShape (Name,
// Description, Representations), IfcShapeRepresentation (Context, Identifier,
// Type, Items).
func (r *reader) shapeOf(placement, representation value) (solid, foot body) {
	at := r.placement(placement)
	for _, id := range r.f.args(representation.id).at(2).refs() {
		a := r.f.args(id)
		into := &solid
		switch a.at(1).string() {
		case "FootPrint":
			into = &foot
		case "Body", "":
		default:
			continue // Axis, Box, Plan, ...
		}
		for _, item := range a.at(3).refs() {
			r.item(item, at, into, 0)
		}
	}
	return solid, foot
}

// item adds one item of a representation.
func (r *reader) item(id int, at frame, b *body, depth int) {
	if b.items++; depth > maxDepth || b.items > maxItems || b.points > 10*MaxOutlinePoints {
		return
	}
	a := r.f.args(id)
	switch kind := r.f.kindOf(id); kind {
	case "IFCEXTRUDEDAREASOLID", "IFCEXTRUDEDAREASOLIDTAPERED":
		r.extruded(a, at, b)
	case "IFCBOOLEANCLIPPINGRESULT", "IFCBOOLEANRESULT": // Operator, First, Second
		b.clipped = true
		r.item(a.at(1).id, at, b, depth+1)
	case "IFCMAPPEDITEM": // MappingSource (MappingOrigin, MappedRepresentation), MappingTarget
		source := r.f.args(a.at(0).id)
		inner := at.in(r.operator(a.at(1).id))
		for _, item := range r.f.args(source.at(1).id).at(3).refs() {
			r.item(item, inner, b, depth+1)
		}
	case "IFCFACETEDBREP", "IFCFACETEDBREPWITHVOIDS", "IFCADVANCEDBREP":
		r.faces(a.at(0).id, at, b)
	case "IFCSHELLBASEDSURFACEMODEL", "IFCFACEBASEDSURFACEMODEL":
		for _, set := range a.at(0).refs() {
			r.faces(set, at, b)
		}
	case "IFCPOLYGONALFACESET", "IFCTRIANGULATEDFACESET":
		r.indexedFaces(a, kind == "IFCPOLYGONALFACESET", at, b)
	case "IFCGEOMETRICCURVESET", "IFCGEOMETRICSET":
		for _, e := range a.at(0).refs() {
			r.item(e, at, b, depth+1)
		}
	case "IFCPOLYLINE", "IFCINDEXEDPOLYCURVE", "IFCCOMPOSITECURVE", "IFCCIRCLE":
		if points, ok := r.curve(id, 0); ok {
			b.curves = append(b.curves, raised(points, at))
			b.points += len(points)
		}
	default:
		if b.unread == "" {
			b.unread = kind
		}
	}
}

func raised(points []geom.Point, at frame) []vec {
	out := make([]vec, len(points))
	for i, p := range points {
		out[i] = at.point(vec{p.X, p.Y, 0})
	}
	return out
}

// extruded reads IfcExtrudedAreaSolid: SweptArea, Position, ExtrudedDirection,
// Depth. The direction is stated in the position's axes.
func (r *reader) extruded(a value, at frame, b *body) {
	parts, ok := r.profile(a.at(0).id, 0)
	depth, ok2 := a.at(3).float()
	if !ok || !ok2 || depth == 0 {
		if b.unread == "" {
			b.unread = r.f.kindOf(a.at(0).id)
		}
		return
	}
	f := at
	if a.at(1).kind == ref {
		f = at.in(r.axes(a.at(1).id))
	}
	along := f.direction(r.toward(a.at(2), vec{z: 1})).times(depth * r.scale)
	for _, rings := range parts {
		p := prism{along: along}
		for _, ring := range rings {
			p.rings = append(p.rings, raised(ring, f))
			b.points += len(ring)
		}
		b.prisms = append(b.prisms, p)
	}
}

// faces reads the outer bounds of IfcClosedShell, IfcOpenShell or
// IfcConnectedFaceSet: CfsFaces, IfcFace (Bounds), IfcFaceBound (Bound,
// Orientation), IfcPolyLoop (Polygon).
func (r *reader) faces(set int, at frame, b *body) {
	for _, face := range r.f.args(set).at(0).refs() {
		bounds := r.f.args(face).at(0).refs()
		for _, bound := range bounds {
			if r.f.kindOf(bound) != "IFCFACEOUTERBOUND" && len(bounds) > 1 {
				continue
			}
			loop := r.f.args(bound).at(0).id
			if r.f.kindOf(loop) != "IFCPOLYLOOP" {
				continue
			}
			var ring []vec
			for _, p := range r.f.args(loop).at(0).refs() {
				if v, ok := r.at(p); ok {
					ring = append(ring, at.point(v))
				}
			}
			b.addFace(ring)
		}
	}
}

func (b *body) addFace(ring []vec) {
	if b.points += len(ring); len(ring) >= 3 && b.points <= 10*MaxOutlinePoints {
		b.faces = append(b.faces, ring)
	}
}

// indexedFaces reads IfcPolygonalFaceSet (Coordinates, Closed, Faces) whose
// faces are IfcIndexedPolygonalFace (CoordIndex), and IfcTriangulatedFaceSet
// (Coordinates, Normals, Closed, CoordIndex).
func (r *reader) indexedFaces(a value, polygonal bool, at frame, b *body) {
	coords := r.f.args(a.at(0).id).at(0).list
	add := func(index []value) {
		var ring []vec
		for _, v := range index {
			n, ok := v.float()
			if !ok || n < 1 || int(n) > len(coords) {
				return
			}
			p, ok := triple(coords[int(n)-1])
			if !ok {
				return
			}
			ring = append(ring, at.point(p.times(r.scale)))
		}
		b.addFace(ring)
	}
	if polygonal {
		for _, face := range a.at(2).refs() {
			add(r.f.args(face).at(0).list)
		}
		return
	}
	for _, triangle := range a.at(3).list {
		add(triangle.list)
	}
}

// upright tells whether a prism was extruded straight up or down from a level
// outline, so that its outline is its plan.
func (p prism) upright() bool {
	if math.Hypot(p.along.x, p.along.y) > 1e-4*p.along.length() {
		return false
	}
	low, high := levels(p.rings[0])
	return high-low < levelRange
}

// levelRange is the range of z in meters within which an outline is level, and
// sameLevel within which two are at one level (as found over real models).
const (
	levelRange = 0.020
	sameLevel  = 0.015
)

func levels(points []vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = min(low, p.z), max(high, p.z)
	}
	return low, high
}

// height gives the range of z of a body.
func (b body) height() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range b.prisms {
		l, h := levels(p.rings[0])
		low, high = min(low, l, l+p.along.z), max(high, h, h+p.along.z)
	}
	for _, f := range b.faces {
		l, h := levels(f)
		low, high = min(low, l), max(high, h)
	}
	return low, high
}

func plan(points []vec) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = p.plan()
	}
	return out
}

// outline gives an upright prism's plan.
func (p prism) outline() geom.Polygon {
	poly := geom.Polygon{Outer: plan(p.rings[0])}
	for _, hole := range p.rings[1:] {
		poly.Holes = append(poly.Holes, plan(hole))
	}
	return poly.Simplify(geom.Coincident)
}

// maxShadow bounds the corners of solids that are seen from above side by side.
const maxShadow = 5000

// shadow gives what a body covers seen from above: ends and sides of its
// prisms, and its faces that do not stand upright. False where it is too much.
func (b body) shadow() ([]geom.Polygon, bool) {
	var pieces []geom.Polygon
	add := func(ring []geom.Point) {
		poly := geom.Polygon{Outer: ring}.Simplify(geom.Coincident)
		if !poly.Empty() && poly.Area() > geom.NoArea {
			pieces = append(pieces, poly)
		}
	}
	corners := 0
	for _, p := range b.prisms {
		base := plan(p.rings[0])
		add(slices.Clone(base))
		if p.upright() {
			continue
		}
		if corners += len(base); corners > maxShadow {
			return nil, false
		}
		by := p.along.plan()
		far := make([]geom.Point, len(base))
		for i, q := range base {
			far[i] = q.Add(by)
		}
		add(far)
		for i, q := range base {
			next := base[(i+1)%len(base)]
			add([]geom.Point{q, next, next.Add(by), q.Add(by)})
		}
	}
	for _, f := range b.faces {
		if corners += len(f); corners > maxShadow {
			return nil, false
		}
		add(plan(f))
	}
	parts, err := geom.Union(pieces...)
	return parts, err == nil && len(parts) > 0
}

// floorFaces gives the union of the level faces at the lowest level.
func (b body) floorFaces() ([]geom.Polygon, bool) {
	lowest := math.Inf(1)
	for _, f := range b.faces {
		if low, high := levels(f); high-low < levelRange {
			lowest = min(lowest, low)
		}
	}
	var pieces []geom.Polygon
	corners := 0
	for _, f := range b.faces {
		low, high := levels(f)
		if high-low >= levelRange || low > lowest+sameLevel {
			continue
		}
		if corners += len(f); corners > maxShadow {
			return nil, false
		}
		if poly := (geom.Polygon{Outer: plan(f)}).Simplify(geom.Coincident); !poly.Empty() {
			pieces = append(pieces, poly)
		}
	}
	parts, err := geom.Union(pieces...)
	return parts, err == nil && len(parts) > 0
}
