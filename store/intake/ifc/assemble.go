package ifc

import (
	"math"
	"slices"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// apart is the gap in meters between floor levels above which they are of two
// storeys, where the file names none.
const apart = 1.5

// assemble puts spaces and walls on their storeys, in order of level.
func (r *reader) assemble() error {
	if len(r.storeys) == 0 {
		r.derive()
	}
	byLevel := func(a, b *storey) int {
		switch {
		case a.level < b.level:
			return -1
		case a.level > b.level:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(r.storeys, byLevel)
	for _, s := range r.spaces {
		if s.storey == nil && len(r.storeys) > 0 {
			s.storey = r.nearest(s)
			r.bad.Add("spaces on no storey", ident(s.id), "'%s' is on no storey of the file: it was put on '%s' by its level.", s.called(), cut(s.storey.name, 60))
		}
		if s.storey == nil {
			continue
		}
		if s.measured { // heights of the world become heights over the project's zero
			shift := s.storey.level - s.storey.base
			s.Floor, s.Ceiling = units.Metres(tidy(s.low+shift)), units.Metres(tidy(s.high+shift))
		} else {
			s.Floor, s.Ceiling = units.Metres(s.storey.level), units.Metres(s.storey.level)
		}
		s.storey.spaces = append(s.storey.spaces, s)
	}
	for _, id := range r.f.all(wallKinds...) {
		for _, w := range r.walls[id] {
			if w.storey == nil && len(r.storeys) > 0 {
				w.storey = r.below(w.base)
			}
			if w.storey != nil {
				w.storey.walls = append(w.storey.walls, w.Wall)
			}
		}
	}
	for _, s := range r.storeys {
		out := building.Storey{Name: s.name, Level: units.Metres(s.level), Derived: s.derived, Walls: s.walls}
		for _, sp := range s.spaces {
			out.Spaces = append(out.Spaces, sp.Space)
		}
		for _, l := range r.lights {
			if l.over.storey == s {
				out.Rooflights = append(out.Rooflights, l.Rooflight)
			}
		}
		r.m.Storeys = append(r.m.Storeys, out)
	}
	if len(r.spaces) == 0 {
		r.bad.Add("models without spaces", "spaces", "The model holds no spaces (IfcSpace). Export it again with rooms, or draw the rooms over its walls.")
	}
	return nil
}

// derive makes storeys of the floor levels of spaces, or of walls where the
// model has no spaces.
func (r *reader) derive() {
	var floors []float64
	for _, s := range r.spaces {
		if s.measured {
			floors = append(floors, s.low)
		}
	}
	if len(r.spaces) == 0 {
		for _, pieces := range r.walls {
			for _, w := range pieces {
				floors = append(floors, w.base)
			}
		}
	}
	if len(floors) == 0 && len(r.spaces) > 0 {
		floors = []float64{0}
	}
	slices.Sort(floors)
	for i, z := range floors {
		if i > 0 && z-floors[i-1] <= apart {
			continue
		}
		n := len(r.storeys) + 1
		r.storeys = append(r.storeys, &storey{name: "Level " + building.Count(n), level: tidy(z), base: tidy(z), derived: true})
	}
	if len(floors) > 0 {
		r.m.Notes = append(r.m.Notes, "The file names no storeys: they were derived from the levels of floors.")
	}
}

func (r *reader) nearest(s *space) *storey {
	if !s.measured {
		return r.storeys[0]
	}
	return r.below(s.low)
}

// below gives the highest storey whose level a floor reaches.
func (r *reader) below(z float64) *storey {
	best := r.storeys[0]
	for _, s := range r.storeys {
		if s.base <= z+0.5 && (s.base > best.base || math.IsInf(best.base, 0)) {
			best = s
		}
	}
	return best
}
