package gbxml

import (
	"strings"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// shortestWall is the length in meters under which a wall surface is left out:
// the sides of jambs and rounding.
const shortestWall = 0.01

// addWalls puts walls on the storey of the first space that they name, and
// glazing to the outside into its space.
func (d *document) addWalls(storeys []building.Storey, all []*placed) {
	byKey := map[string]*placed{}
	for _, p := range all {
		byKey[p.raw.key] = p
	}
	for _, s := range d.surfaces {
		home := d.home(s, byKey)
		if home == nil {
			continue
		}
		var openings []building.Opening
		for _, o := range s.openings {
			openings = append(openings, d.openingIn(home, s, o))
		}
		if len(s.adjacent) == 1 {
			home.addWindows(openings)
			d.addRooflights(&storeys[home.storey], home, s)
		}
		if !s.wall && len(s.adjacent) == 2 {
			d.countVoids(openings)
		}
		if !s.wall || strings.HasSuffix(s.kind, "Column") || s.a.Near(s.b, shortestWall) {
			continue
		}
		w := building.Wall{A: s.a, B: s.b, Height: units.Metres(s.high - s.low), Kind: s.wallKind(), Thickness: d.wallThickness(s.construction), Openings: openings}
		copy(w.Spaces[:], s.adjacent)
		storey := &storeys[home.storey]
		storey.Walls = append(storey.Walls, w)
	}
}

// countVoids counts holes in floors between two spaces.
func (d *document) countVoids(openings []building.Opening) {
	for _, o := range openings {
		if o.Kind == building.AirOpening {
			d.voids++
		}
	}
}

// home gives the first space that the surface names and that came in.
func (d *document) home(s *rawSurface, byKey map[string]*placed) *placed {
	for _, key := range s.adjacent {
		if p := byKey[key]; p != nil {
			return p
		}
		if d.spaceByID[key] == nil {
			d.problems.Add("surfaces of a space that is missing", d.at("Surface", s.id, s.line), "The surface refers to the space %s, which the file lacks.", shown(key))
		}
	}
	return nil
}

// addWindows keeps what lets daylight in.
func (p *placed) addWindows(openings []building.Opening) {
	for _, o := range openings {
		if lets(o.Kind) {
			p.space.Windows = append(p.space.Windows, o)
		}
	}
}

// openingIn measures heights from the space's own floor, which can lie off its
// storey's level.
func (d *document) openingIn(home *placed, s *rawSurface, o rawOpening) building.Opening {
	floor := float64(home.space.Floor)
	if !home.known {
		floor = s.low
	}
	if home.space.Ceiling > home.space.Floor && o.low != o.high && o.high > float64(home.space.Ceiling)+geom.OnEdge && o.kind == building.Window {
		d.problems.Add("windows that reach above their room", d.at("Opening of surface", s.id, o.line), "A window of %s reaches %.2f m above the top of the room: its head may lie above a ceiling.",
			home.raw.label(), o.high-float64(home.space.Ceiling))
	}
	out := building.Opening{Kind: o.kind, A: o.a, B: o.b, Sill: units.Metres(o.low - floor), Head: units.Metres(o.high - floor), Area: units.SquareMetres(o.area)}
	if o.kind == building.Window {
		out.Glass, out.Indoors = d.diffuse(o), len(s.adjacent) == 2
	}
	return out
}

func (s *rawSurface) wallKind() building.WallKind {
	switch {
	case s.kind == "Air":
		return building.AirWall
	case len(s.adjacent) == 2 && s.adjacent[0] == s.adjacent[1]:
		return building.PartitionWall
	case len(s.adjacent) == 2:
		return building.InteriorWall
	case s.kind == "InteriorWall":
		return building.InteriorWall
	case s.kind == "ExteriorWall" || s.kind == "UndergroundWall" || s.kind == "Roof": // a steep roof is drawn as one
		return building.ExteriorWall
	}
	return building.UnknownWall
}
