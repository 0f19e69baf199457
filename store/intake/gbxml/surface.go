package gbxml

import (
	"slices"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// rawSurface is a Surface that names a space.
type rawSurface struct {
	id, kind     string
	line         int
	adjacent     []string // one or two ids, as written
	construction string
	wall         bool // steep; then a and b are its trace
	a, b         geom.Point
	low, high    float64
	flat         []loop // of what is not a wall: floors, ceilings, roofs
	openings     []rawOpening
}

type rawOpening struct {
	kind      string
	a, b      geom.Point
	low, high float64
	area      float64
	line      int
	ring      []geom.Point // seen from above, of a rooflight
	glass     string       // id of its window type
}

func (d *document) surface(e element) error {
	s := &rawSurface{id: e.attr("id"), kind: e.attr("surfaceType"), construction: e.attr("constructionIdRef"), line: e.line}
	var loops []loop
	var flaws []*flaw
	err := d.scan.each(func(c element) error {
		switch c.Name.Local {
		case "AdjacentSpaceId":
			if ref := c.attr("spaceIdRef"); ref != "" && len(s.adjacent) < 2 {
				key, _ := building.CleanText(ref)
				s.adjacent = append(s.adjacent, key)
			}
			return d.scan.skip()
		case "PlanarGeometry":
			bad, err := d.planarGeometry(c, d.unit.Metres, func(l loop) { loops = append(loops, l) })
			if bad != nil {
				flaws = append(flaws, bad)
			}
			return err
		case "Opening":
			return d.opening(s, c)
		}
		return d.scan.skip()
	})
	if err != nil {
		return err
	}
	for _, f := range flaws {
		d.reportFlaw("Surface", "surface", shown(s.id), s.id, f)
	}
	if len(s.adjacent) == 0 || s.kind == "Shade" {
		return nil // nothing that bounds a room
	}
	s.takeShape(loops)
	d.surfaces = append(d.surfaces, s)
	return nil
}

func (s *rawSurface) takeShape(loops []loop) {
	loops = slices.DeleteFunc(loops, func(l loop) bool { return len(l) < 3 })
	if len(loops) == 0 {
		return
	}
	s.low, s.high = loops[0].heights()
	for _, l := range loops[1:] {
		low, high := l.heights()
		s.low, s.high = min(s.low, low), max(s.high, high)
	}
	if s.wall = loops[0].steep(); s.wall {
		s.a, s.b = loops[0].trace()
		return
	}
	s.flat = loops
}

// openingKinds are the schema's words.
var openingKinds = map[string]building.OpeningKind{
	"FixedWindow": building.Window, "OperableWindow": building.Window,
	"FixedSkylight": building.Skylight, "OperableSkylight": building.Skylight,
	"SlidingDoor": building.Door, "NonSlidingDoor": building.Door, "Air": building.AirOpening,
}

func (d *document) opening(s *rawSurface, e element) error {
	id := e.attr("id")
	kind, known := openingKinds[e.attr("openingType")]
	var loops []loop
	var bad *flaw
	err := d.scan.each(func(c element) (err error) {
		if c.Name.Local != "PlanarGeometry" {
			return d.scan.skip()
		}
		bad, err = d.planarGeometry(c, d.unit.Metres, func(l loop) { loops = append(loops, l) })
		return err
	})
	switch {
	case err != nil:
		return err
	case bad != nil:
		d.reportFlaw("Opening", "opening", shown(id), id, bad)
	case !known:
		d.problems.Add("openings of an unknown type", d.at("Opening", id, e.line), "The opening's type '%s' is not one of the schema's; it was left out.", shown(e.attr("openingType")))
	case len(loops) == 0 || len(loops[0]) < 3:
		d.problems.Add("openings without a shape", d.at("Opening", id, e.line), "The opening has no planar shape and was left out.")
	default:
		o := rawOpening{kind: kind, area: loops[0].area(), line: e.line, glass: e.attr("windowTypeIdRef")}
		if lets(kind) && !loops[0].steep() {
			o.ring = loops[0].shadow().Outer
		}
		o.a, o.b = loops[0].trace()
		o.low, o.high = loops[0].heights()
		s.openings = append(s.openings, o)
	}
	return nil
}
