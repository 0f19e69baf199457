package ifc

import (
	"math"
	"slices"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// beyond is how far beyond a wall's face a space is looked for, in meters:
// finishes and linings lie between (common practice, no published source).
const beyond = 0.3

// hole is a window or door in place, z of the world.
type hole struct {
	id        int
	kind      building.OpeningKind
	a, b      geom.Point
	low, high float64
	depth     float64 // through the wall
	area      float64
	name      string
	ring      []geom.Point // seen from above, of a skylight
	glass     float64      // diffuse transmittance
	indoors   bool
}

// readOpenings reads IfcWindow and IfcDoor: OverallHeight (9th attribute),
// OverallWidth (10th); IfcRelFillsElement (5th the opening, 6th the filling) and
// IfcRelVoidsElement (5th the wall, 6th the opening) tell their place.
func (r *reader) readOpenings() error {
	openingOf, hostOf := map[int]int{}, map[int]int{}
	for _, id := range r.f.all("IFCRELFILLSELEMENT") {
		a := r.f.args(id)
		openingOf[a.at(5).id] = a.at(4).id
	}
	for _, id := range r.f.all("IFCRELVOIDSELEMENT") {
		a := r.f.args(id)
		hostOf[a.at(5).id] = a.at(4).id
	}
	glass := r.glazing()
	inner, lost, glazed := 0, 0, 0
	for i, id := range r.f.all("IFCWINDOW", "IFCWINDOWSTANDARDCASE", "IFCDOOR", "IFCDOORSTANDARDCASE") {
		if i%64 == 0 && r.ctx.Err() != nil {
			return r.ctx.Err()
		}
		host := hostOf[openingOf[id]]
		h, ok := r.hole(id, openingOf[id], host)
		if !ok {
			lost++
			continue
		}
		if h.kind == building.Door {
			r.cut(h, host)
			continue
		}
		if h.glass = building.Diffuse(glass[id]); h.glass > 0 {
			glazed++
		}
		spaces := r.spacesOf(h)
		h.indoors = len(spaces) > 1
		r.cut(h, host)
		switch {
		case len(spaces) == 0:
			lost++
		case h.indoors:
			inner++
		default:
			spaces[0].Windows = append(spaces[0].Windows, h.above(spaces[0].low))
			if h.kind == building.Skylight {
				r.addRooflight(h, spaces[0])
			}
		}
	}
	r.openingNotes(inner, glazed)
	if lost > 0 {
		r.note("%s left out for belonging to no space or having no size.", were(lost, "opening"))
	}
	return nil
}

func (r *reader) openingNotes(inner, glazed int) {
	if inner > 0 {
		r.note("%s left out of daylight for lying between two spaces.", were(inner, "window"))
	}
	if glazed > 0 {
		r.note("The glass of %s taken from the file: its visible transmittance at normal incidence gives the diffuse one, 86 %% of it.", were(glazed, "opening"))
	}
	if n := r.oddLights; n > 0 {
		r.note("%s drawn as a rectangle of the same area.", were(n, "rooflight"))
	}
}

// hole finds a window's or door's trace and heights: from the opening that it
// fills, or else from its own placement and overall size.
func (r *reader) hole(id, opening, host int) (hole, bool) {
	a := r.f.args(id)
	kind := r.f.kindOf(id)
	h := hole{id: id, kind: building.Window, name: a.at(2).string()}
	if kind == "IFCDOOR" || kind == "IFCDOORSTANDARDCASE" {
		h.kind = building.Door
	}
	height, okH := a.at(8).float()
	width, okW := a.at(9).float()
	height, width = height*r.scale, width*r.scale
	if okH && okW && height > 0 && width > 0 && height < 1000 && width < 1000 {
		h.area = height * width
	}
	at := r.placement(a.at(5))
	o := r.f.args(opening)
	solid, _ := r.shapeOf(o.at(5), o.at(6))
	switch {
	case r.spread(&h, solid, host):
	case h.area > 0:
		// The placement of a window lies at its lower left corner, x along the
		// wall (IFC documentation of IfcWindow, from memory).
		along := vec{at.x.x, at.x.y, 0}.unit(vec{x: 1})
		h.a, h.b = at.o.plan(), at.o.add(along.times(width)).plan()
		h.low, h.high = at.o.z, at.o.z+height
	default:
		return h, false
	}
	if h.kind == building.Window && len(r.walls[host]) == 0 && r.lies(solid) {
		// It lies where the roof or floor begins that it goes through; mapped
		// shapes put a skylight's own placement anywhere.
		z := (h.low + h.high) / 2
		roof := r.f.args(host)
		slab, _ := r.shapeOf(roof.at(5), roof.at(6))
		if low, high := slab.height(); low <= high {
			z = min(max(low, h.low), h.high)
		}
		h.kind, h.low, h.high, h.ring = building.Skylight, z, z, plan(solid.prisms[0].rings[0])
	}
	if h.area == 0 {
		h.area = h.a.Distance(h.b) * (h.high - h.low)
	}
	return h, h.a.Finite() && h.b.Finite() && math.Abs(h.low) < 1e7 && math.Abs(h.high) < 1e7
}

// lies tells whether an opening goes through a floor or roof: extruded upright.
func (r *reader) lies(b body) bool {
	return len(b.prisms) > 0 && b.prisms[0].upright()
}

// spread takes trace and heights from the opening's solid, along the wall that
// it cuts, or else across the direction that it was extruded in.
func (r *reader) spread(h *hole, b body, host int) bool {
	var points []vec
	for _, p := range b.prisms {
		for _, q := range p.rings[0] {
			points = append(points, q, q.add(p.along))
		}
	}
	for _, f := range b.faces {
		points = append(points, f...)
	}
	if len(points) == 0 {
		return false
	}
	along := vec{}
	if walls := r.walls[host]; len(walls) > 0 {
		d := walls[0].B.Sub(walls[0].A)
		along = vec{d.X, d.Y, 0}
	} else if len(b.prisms) > 0 && !b.prisms[0].upright() {
		along = vec{-b.prisms[0].along.y, b.prisms[0].along.x, 0}
	} else {
		longest := 0.0
		for i := 1; i < len(points); i++ {
			if d := points[i].sub(points[i-1]); math.Hypot(d.x, d.y) > longest {
				longest, along = math.Hypot(d.x, d.y), vec{d.x, d.y, 0}
			}
		}
	}
	along = along.unit(vec{x: 1})
	across := vec{-along.y, along.x, 0}
	var s, d [2]float64
	s[0], d[0], h.low = math.Inf(1), math.Inf(1), math.Inf(1)
	s[1], d[1], h.high = math.Inf(-1), math.Inf(-1), math.Inf(-1)
	for _, p := range points {
		s[0], s[1] = min(s[0], p.dot(along)), max(s[1], p.dot(along))
		d[0], d[1] = min(d[0], p.dot(across)), max(d[1], p.dot(across))
		h.low, h.high = min(h.low, p.z), max(h.high, p.z)
	}
	middle := across.times((d[0] + d[1]) / 2)
	h.a, h.b = along.times(s[0]).add(middle).plan(), along.times(s[1]).add(middle).plan()
	h.depth = d[1] - d[0]
	return s[1] > s[0] && h.high > h.low
}

// above gives the opening with heights over a floor.
func (h hole) above(floor float64) building.Opening {
	return building.Opening{
		Kind: h.kind, A: h.a, B: h.b, Area: units.SquareMetres(h.area), Indoors: h.indoors, Glass: h.glass,
		Sill: units.Metres(tidy(h.low - floor)), Head: units.Metres(tidy(h.high - floor)),
	}
}

// cut notes an opening in the piece of its wall that it lies in, with heights
// over the wall's storey.
func (r *reader) cut(h hole, host int) {
	var best *wall
	nearest := math.Inf(1)
	middle := geom.Segment{A: h.a, B: h.b}.Middle()
	for _, w := range r.walls[host] {
		if d := (geom.Segment{A: w.A, B: w.B}).Distance(middle); d < nearest {
			best, nearest = w, d
		}
	}
	if best == nil {
		return
	}
	floor := best.base
	if best.storey != nil {
		floor = best.storey.base
	}
	best.Openings = append(best.Openings, h.above(floor))
}

// spacesOf gives the spaces that a window belongs to: those that boundaries
// name, or else those that lie on its sides. Where boundaries name several for
// an outer window, the one that lies beside it has it.
func (r *reader) spacesOf(h hole) (out []*space) {
	b := r.said[h.id]
	if b != nil {
		for _, id := range b.spaces {
			if s := r.spaceOf[id]; s != nil {
				out = append(out, s)
			}
		}
	}
	if len(out) == 1 || len(out) > 1 && !b.external {
		return out
	}
	near := r.beside(h)
	if len(out) > 1 && len(near) != 1 {
		return out[:1]
	}
	return near
}

// beside gives the spaces on the two sides of an opening, or below a skylight.
func (r *reader) beside(h hole) (out []*space) {
	middle := geom.Segment{A: h.a, B: h.b}.Middle()
	d := h.b.Sub(h.a)
	length := math.Hypot(d.X, d.Y)
	probes := []geom.Point{middle}
	if h.kind != building.Skylight && length > 0 {
		off := geom.Point{X: -d.Y, Y: d.X}.Times((h.depth/2 + beyond) / length)
		probes = []geom.Point{middle.Add(off), middle.Sub(off)}
	}
	for _, p := range probes {
		if s := r.spaceAt(p, h); s != nil && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// spaceAt finds the space at a point beside an opening: of those whose height
// the opening's middle falls in, or for a skylight the highest below it.
func (r *reader) spaceAt(p geom.Point, h hole) (best *space) {
	middle := (h.low + h.high) / 2
	for _, s := range r.spaces {
		if !s.measured || !s.bounds.Contains(p) || !s.Outline.Contains(p) {
			continue
		}
		if h.kind == building.Skylight {
			if s.low < middle-1 && s.high > middle-3 && (best == nil || s.low > best.low) {
				best = s
			}
		} else if s.low <= middle && middle <= s.high {
			return s
		}
	}
	return best
}
