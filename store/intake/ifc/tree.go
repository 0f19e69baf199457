package ifc

import (
	"math"
	"strings"

	"scopewright/store/intake/building"
)

// storey is a level with what its placement says of heights: base is the z of
// the world that the storey's own level lies at.
type storey struct {
	id          int
	name        string
	level, base float64 // meters
	derived     bool
	spaces      []*space
	walls       []building.Wall
}

// tree notes what is part of what: IfcRelAggregates (5th attribute the whole,
// 6th the parts) and IfcRelContainedInSpatialStructure (5th the elements, 6th
// the structure).
func (r *reader) tree() error {
	note := func(part, whole int) {
		if _, ok := r.parent[part]; !ok && part != whole {
			r.parent[part] = whole
		}
	}
	for _, id := range r.f.all("IFCRELAGGREGATES") {
		a := r.f.args(id)
		for _, part := range a.at(5).refs() {
			note(part, a.at(4).id)
		}
	}
	for _, id := range r.f.all("IFCRELCONTAINEDINSPATIALSTRUCTURE") {
		a := r.f.args(id)
		for _, part := range a.at(4).refs() {
			note(part, a.at(5).id)
		}
	}
	return r.ctx.Err()
}

// storeyOf climbs from an instance to the storey that holds it, nil for none.
func (r *reader) storeyOf(id int) *storey {
	for range maxDepth {
		if r.f.kindOf(id) == "IFCBUILDINGSTOREY" {
			return r.storeyAt[id]
		}
		up, ok := r.parent[id]
		if !ok {
			return nil
		}
		id = up
	}
	r.bad.Add("parts that contain themselves", ident(id), "#%d is part of itself through others: its storey is not known.", id)
	return nil
}

// readStoreys reads IfcBuildingStorey: Name (3rd attribute), ObjectPlacement
// (6th), LongName (8th), Elevation (10th).
func (r *reader) readStoreys() error {
	for _, id := range r.f.all("IFCBUILDINGSTOREY") {
		a := r.f.args(id)
		s := &storey{id: id, name: a.at(2).string(), base: r.placement(a.at(5)).o.z}
		if s.name == "" {
			s.name = a.at(7).string()
		}
		if s.name == "" {
			s.name = "Storey " + ident(id)
		}
		s.level = s.base
		if e, ok := a.at(9).float(); ok {
			s.level = tidy(e * r.scale)
		}
		if math.Abs(s.level) > 1e5 || math.Abs(s.base) > 1e7 {
			r.bad.Add("storeys out of reach", ident(id), "Storey '%s' lies at %.0f m, which no building reaches. It was put at 0.", cut(s.name, 60), s.level)
			s.level, s.base = 0, 0
		}
		r.storeys = append(r.storeys, s)
		r.storeyAt[id] = s
	}
	return nil
}

// tidy takes noise off a level: 3.100000000000378 is 3.1.
func tidy(metres float64) float64 { return math.Round(metres*1e6) / 1e6 }

// quantities gives the floor area that the file states for each product:
// IfcRelDefinesByProperties (5th attribute the objects, 6th the set),
// IfcElementQuantity (6th the quantities), IfcQuantityArea (1st its name, 4th
// the area). A net area goes before a gross one, and both before others.
func (r *reader) quantities() map[int]float64 {
	type stated struct {
		area float64
		rank int
	}
	best := map[int]stated{}
	for _, id := range r.f.all("IFCRELDEFINESBYPROPERTIES") {
		a := r.f.args(id)
		set := a.at(5).id
		if r.f.kindOf(set) != "IFCELEMENTQUANTITY" {
			continue
		}
		for _, q := range r.f.args(set).at(5).refs() {
			if r.f.kindOf(q) != "IFCQUANTITYAREA" {
				continue
			}
			v := r.f.args(q)
			area, ok := v.at(3).float()
			rank := areaRank(v.at(0).string())
			if !ok || area <= 0 || rank == 0 {
				continue
			}
			for _, of := range a.at(4).refs() {
				if rank > best[of].rank {
					best[of] = stated{area * r.area, rank}
				}
			}
		}
	}
	out := map[int]float64{}
	for id, s := range best {
		out[id] = s.area
	}
	return out
}

func areaRank(name string) int {
	switch n := strings.ToLower(strings.ReplaceAll(name, " ", "")); {
	case n == "netfloorarea":
		return 3
	case n == "grossfloorarea":
		return 2
	case strings.Contains(n, "wall"), strings.Contains(n, "ceiling"), strings.Contains(n, "side"):
		return 0
	case strings.Contains(n, "area"):
		return 1
	}
	return 0
}
