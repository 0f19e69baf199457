package ifc

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// Where an outline came from, besides the ways that building names.
const (
	FromExtrusion  = "extruded outline"
	FromFootprint  = "footprint"
	FromBoundaries = "space boundaries"
)

// space is an IfcSpace on its way to the model.
type space struct {
	building.Space
	id        int
	storey    *storey
	low, high float64 // z of the world, meters
	measured  bool    // low and high are known
	bounds    geom.Box
}

// readSpaces reads IfcSpace: GlobalId, Name (3rd, the number), ObjectType (5th),
// ObjectPlacement, Representation, LongName (8th, the name).
func (r *reader) readSpaces() error {
	ids := r.f.all("IFCSPACE")
	if len(ids) > MaxSpaces {
		return fmt.Errorf("the model has more than %s spaces: export one storey at a time", building.Count(MaxSpaces))
	}
	areas := r.quantities()
	keys := map[string]int{}
	for _, id := range ids {
		if r.ctx.Err() != nil {
			return r.ctx.Err()
		}
		a := r.f.args(id)
		s := &space{id: id, storey: r.storeyOf(id)}
		s.Number, s.Name, s.Kind = a.at(2).string(), a.at(7).string(), a.at(4).string()
		if s.Name == "" && !strings.ContainsAny(s.Number, "0123456789") {
			s.Number, s.Name = "", s.Number
		}
		s.Key = a.at(0).string()
		if s.Key == "" {
			s.Key = ident(id)
		}
		if keys[s.Key]++; keys[s.Key] > 1 {
			again := fmt.Sprintf("%s-%d", s.Key, keys[s.Key])
			r.bad.Add("repeated ids of spaces", ident(id), "Two spaces have the id %s: the second got the id %s.", cut(s.Key, 40), cut(again, 44))
			s.Key = again
		}
		s.DeclaredArea = units.SquareMetres(areas[id])
		r.outline(s, a.at(5), a.at(6))
		r.spaces = append(r.spaces, s)
		r.spaceOf[id] = s
	}
	return nil
}

// called names a space in a message.
func (s *space) called() string {
	return cut(strings.TrimSpace(s.Number+" "+s.Name+" "), 60)
}

// outline finds the space's shape in the order that its doc names: extrusion,
// faces, footprint, boundaries.
func (r *reader) outline(s *space, placement, representation value) {
	solid, foot := r.shapeOf(placement, representation)
	if len(solid.prisms)+len(solid.faces) == 0 && len(foot.curves) == 0 {
		r.boundaryFaces(s.id, r.placement(placement), &solid)
		s.OutlineFrom = FromBoundaries
	}
	parts, from := plans(solid, foot)
	if s.OutlineFrom == "" {
		s.OutlineFrom = from
	}
	if low, high := solid.height(); low < high && math.Abs(low) < 1e7 && math.Abs(high) < 1e7 {
		s.low, s.high, s.measured = low, high, true
	}
	where := ident(s.id)
	poly, ok := r.sound(parts, s)
	if !ok {
		s.OutlineFrom = ""
		reason := "no shape"
		if solid.unread != "" {
			reason = "a shape of the kind " + solid.unread + ", which is not read"
		}
		r.bad.Add("spaces without an outline", where, "'%s' has %s: it comes with its area only (%s).", s.called(), reason, building.SquareMeters(float64(s.DeclaredArea)))
		return
	}
	s.Outline, s.Area, s.bounds = poly, units.SquareMetres(poly.Area()), poly.Bounds()
	if solid.items > maxItems {
		r.bad.Add("shapes of too many pieces", where, "The shape of '%s' has more than %s pieces: only these were looked at.", s.called(), building.Count(maxItems))
	}
	if solid.clipped {
		r.bad.Add("spaces cut by other solids", where, "'%s' is cut by other solids, often a sloping roof. Its outline is that before the cut.", s.called())
	}
}

// plans gives the parts of a space's plan and the way they were found.
func plans(solid, foot body) ([]geom.Polygon, string) {
	upright := len(solid.prisms) > 0 && len(solid.faces) == 0
	for _, p := range solid.prisms {
		upright = upright && p.upright()
	}
	switch {
	case upright && len(solid.prisms) == 1:
		return []geom.Polygon{solid.prisms[0].outline()}, FromExtrusion
	case upright:
		var all []geom.Polygon
		for _, p := range solid.prisms {
			if o := p.outline(); !o.Empty() {
				all = append(all, o)
			}
		}
		if parts, err := geom.Union(all...); err == nil && len(all) > 0 {
			return parts, FromExtrusion
		}
	case len(solid.prisms) == 0 && len(solid.faces) > 0:
		shadow, seen := solid.shadow()
		floor, ok := solid.floorFaces()
		// A pit or a step at the bottom is not the room's floor.
		if ok && (!seen || geom.TotalArea(floor) >= 0.5*geom.TotalArea(shadow)) {
			return floor, building.FromClosedShell
		}
		if seen {
			return shadow, building.FromPlanShadow
		}
	case len(solid.prisms) > 0:
		if parts, ok := solid.shadow(); ok {
			return parts, building.FromPlanShadow
		}
	}
	var rings []geom.Polygon
	for _, c := range foot.curves {
		if o := (geom.Polygon{Outer: plan(c)}).Simplify(geom.Coincident); !o.Empty() {
			rings = append(rings, o)
		}
	}
	parts, err := geom.Union(rings...)
	if err != nil || len(rings) == 0 {
		return nil, ""
	}
	return parts, FromFootprint
}

// sound takes the largest part of a plan, mended where it crosses itself.
func (r *reader) sound(parts []geom.Polygon, s *space) (geom.Polygon, bool) {
	if len(parts) == 0 {
		return geom.Polygon{}, false
	}
	poly := parts[0]
	for _, ring := range poly.Rings() {
		for _, p := range ring {
			if !p.Finite() {
				r.bad.Add("spaces out of reach", ident(s.id), "'%s' lies farther out than 10,000 km.", s.called())
				return poly, false
			}
		}
	}
	if len(poly.Outer) > MaxOutlinePoints {
		r.bad.Add("outlines with too many points", ident(s.id), "Outline of '%s' has %s points; at most %s. Simplify it in the program that made it.", s.called(), building.Count(len(poly.Outer)), building.Count(MaxOutlinePoints))
		return poly, false
	}
	if len(parts) > 1 {
		r.bad.Add("spaces in several parts", ident(s.id), "'%s' lies in %d separate parts. The largest (%s of %s) is taken.",
			s.called(), len(parts), building.SquareMeters(poly.Area()), building.SquareMeters(geom.TotalArea(parts)))
	}
	faults := poly.Validate()
	if len(faults) == 0 {
		return poly.Oriented(), true
	}
	if faults[0].Kind == geom.SelfCrossing {
		if mended, err := geom.Repair(poly.Outer); err == nil && len(mended) > 0 {
			r.bad.Add("outlines that cross themselves", ident(s.id), "Outline of '%s' crosses itself near (%.2f, %.2f) m. Its largest part (%s) is taken.",
				s.called(), faults[0].At.X, faults[0].At.Y, building.SquareMeters(mended[0].Area()))
			return mended[0], true
		}
	}
	if faults[0].Kind == geom.HoleOutside {
		poly.Holes = nil
		return poly.Oriented(), true
	}
	r.bad.Add("outlines that cannot be used", ident(s.id), "Outline of '%s': %s.", s.called(), faults[0].Message())
	return poly, false
}
