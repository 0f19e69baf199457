package gbxml

import (
	"math"
	"slices"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// outline is a floor shape that one of the sources of a space gives.
type outline struct {
	from  string
	parts []geom.Polygon // largest first
	floor float64
}

func (o outline) area() float64 { return geom.TotalArea(o.parts) }

// agreesWithin is how far an outline's area may lie from the declared one to
// count as the same: 1 % [files].
const agreesWithin = 0.01

func agrees(area, declared float64) bool {
	return math.Abs(area-declared) <= agreesWithin*declared
}

// outlineOf takes the first source that agrees with the declared area, else the
// first that exists. Rules and counts of how they fared [files]:
//
//  1. the space's own planar geometry (65 of 65)
//  2. the lowest horizontal loops of the closed shell (500 of 532)
//  3. the shadow of the closed shell: a room with a pit, a step or a duct at
//     its bottom
//  4. the lowest horizontal surfaces that name the space (102 of 102)
//
// Winding and wall lines differ between programs, so an outline is never turned
// or scaled to fit the declared area.
func (d *document) outlineOf(s *rawSpace, surfaces []loop) outline {
	var first outline
	for _, source := range []func() outline{
		func() outline { return d.lowest(s, building.FromPlanarGeometry, s.planar, false) },
		func() outline { return d.lowest(s, building.FromClosedShell, s.shell, true) },
		func() outline { return d.shadowOf(s) },
		func() outline { return d.lowest(s, building.FromSurfaces, surfaces, true) },
	} {
		o := source()
		if len(o.parts) == 0 {
			continue
		}
		if s.area == 0 || agrees(o.area(), s.area) {
			return o
		}
		if first.parts == nil {
			first = o
		}
	}
	return first
}

// lowest unites the loops on the lowest level, of the horizontal ones only
// where a shape also has others.
func (d *document) lowest(s *rawSpace, from string, loops []loop, horizontalOnly bool) outline {
	bottom := math.Inf(1)
	var floors []loop
	for _, l := range loops {
		if len(l) < 3 || horizontalOnly && !l.horizontal() || l.area() < geom.NoArea {
			continue
		}
		low, _ := l.heights()
		bottom = math.Min(bottom, low)
		floors = append(floors, l)
	}
	floors = slices.DeleteFunc(floors, func(l loop) bool {
		low, _ := l.heights()
		return low > bottom+levelWithin
	})
	return d.unite(s, outline{from: from, floor: bottom}, floors)
}

func (d *document) shadowOf(s *rawSpace) outline {
	bottom := math.Inf(1)
	for _, l := range s.shell {
		low, _ := l.heights()
		bottom = math.Min(bottom, low)
	}
	return d.unite(s, outline{from: building.FromPlanShadow, floor: bottom}, s.shell)
}

// unite gives the area that the loops cover on the plan.
func (d *document) unite(s *rawSpace, o outline, loops []loop) outline {
	points := 0
	var shadows []geom.Polygon
	for _, l := range loops {
		points += len(l)
		shadows = append(shadows, l.shadow())
	}
	if points == 0 {
		return o
	}
	if points > d.opt.Limits.LoopPoints {
		d.reportFlaw("Space", "space", s.label(), s.key, &flaw{line: s.line, many: points})
		return o
	}
	if len(shadows) == 1 && len(shadows[0].Validate()) == 0 { // most rooms: keep every digit
		o.parts = []geom.Polygon{shadows[0].Oriented()}
		return o
	}
	parts, err := geom.Union(shadows...)
	if err != nil {
		d.problems.Add("outlines that cross themselves", d.at("Space", s.key, s.line), "Outline of %s (%s) crosses itself too often to be worked out; draw it by hand.", s.label(), shown(s.key))
	}
	o.parts = parts
	d.reportCrossing(s, o, shadows)
	return o
}

// reportCrossing tells of a floor that crosses itself. A slit to a hole and a
// side that runs back on itself are none: they leave the area as it is.
func (d *document) reportCrossing(s *rawSpace, o outline, shadows []geom.Polygon) {
	if len(o.parts) == 0 || o.from == building.FromPlanShadow {
		return
	}
	for _, shape := range shadows {
		parts, err := geom.Union(shape)
		if err != nil || math.Abs(geom.TotalArea(parts)-shape.Area()) <= 0.001*shape.Area()+geom.NoArea {
			continue
		}
		for _, f := range shape.Validate() {
			if f.Kind == geom.SelfCrossing {
				d.problems.Add("outlines that cross themselves", d.at("Space", s.key, s.line),
					"Outline of %s crosses itself near (%.2f, %.2f) m. Import its largest part (%s), or skip the room.",
					shown(s.key), f.At.X, f.At.Y, building.SquareMeters(o.parts[0].Area()))
				return
			}
		}
	}
}
