package gbxml

import (
	"fmt"
	"slices"
	"sort"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// placed is a space with its outline and storey.
type placed struct {
	raw    *rawSpace
	space  building.Space
	storey int  // index into the model's storeys
	known  bool // its floor level is
}

const (
	// newStorey is the step in meters between floors from which another storey
	// starts where the file names none. Half levels and stages stay below.
	newStorey = 1.5
	// aboveFloor is how far a floor may lie under its storey's level: 0.58 m
	// was seen [files].
	aboveFloor = 0.6
)

// assignStoreys makes the model's storeys and gives each space its own: by
// reference, or by level where that is missing or dangles.
func (d *document) assignStoreys(all []*placed) []building.Storey {
	if len(d.storeys) == 0 {
		return d.deriveStoreys(all)
	}
	order := make([]int, len(d.storeys))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return d.storeys[order[i]].level < d.storeys[order[j]].level })
	var storeys []building.Storey
	position := map[int]int{} // in the file -> in the model
	for i, n := range order {
		raw := d.storeys[n]
		position[n] = i
		name := raw.name
		if name == "" {
			name = fmt.Sprintf("Storey %d", i+1)
		}
		if !raw.hasLevel {
			d.problems.Add("storeys without a level", d.at("BuildingStorey", raw.id, raw.line), "The storey '%s' states no level; 0 is used.", shown(name))
		}
		storeys = append(storeys, building.Storey{Name: name, Level: units.Metres(raw.level)})
	}
	for _, p := range all {
		n, ok := d.storeyIDs[p.raw.storeyRef]
		if ok && p.raw.storeyRef != "" {
			p.storey = position[n]
			continue
		}
		p.storey = byLevel(storeys, p.space.Floor)
		if p.raw.storeyRef != "" {
			d.problems.Add("spaces on a storey that is missing", d.at("Space", p.raw.key, p.raw.line),
				"%s refers to the storey %s, which the file lacks; by its floor it was put on %s.", p.raw.label(), shown(p.raw.storeyRef), storeys[p.storey].Name)
		}
	}
	return storeys
}

// byLevel gives the highest storey that a floor does not lie below.
func byLevel(storeys []building.Storey, floor units.Metres) int {
	best := 0
	for i, s := range storeys {
		if s.Level <= floor+aboveFloor {
			best = i
		}
	}
	return best
}

// deriveStoreys clusters floor levels, from the lowest up. A storey's level is
// the one that most of its area lies on.
func (d *document) deriveStoreys(all []*placed) []building.Storey {
	sorted := slices.DeleteFunc(slices.Clone(all), func(p *placed) bool { return !p.known })
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].space.Floor < sorted[j].space.Floor })
	var storeys []building.Storey
	var lowest units.Metres
	var cluster []*placed
	finish := func() {
		if len(cluster) > 0 {
			storeys = append(storeys, building.Storey{Name: fmt.Sprintf("Storey %d", len(storeys)+1), Level: mainLevel(cluster), Derived: true})
			cluster = nil
		}
	}
	for _, p := range sorted {
		if len(cluster) > 0 && p.space.Floor-lowest >= newStorey {
			finish()
		}
		if len(cluster) == 0 {
			lowest = p.space.Floor
		}
		cluster = append(cluster, p)
		p.storey = len(storeys)
	}
	finish()
	if len(storeys) == 0 && len(all) > 0 {
		storeys = []building.Storey{{Name: "Storey 1", Derived: true}}
	}
	if len(storeys) > 0 {
		d.notes = append(d.notes, fmt.Sprintf("The file names no storeys: %d derived from the levels of floors.", len(storeys)))
	}
	return storeys
}

// mainLevel gives the floor level with the most area, to the millimeter.
func mainLevel(cluster []*placed) units.Metres {
	byMillimeter := map[int64]float64{}
	var best int64
	for i, p := range cluster {
		mm := int64(roundTo(float64(p.space.Floor), 0.001) * 1000)
		byMillimeter[mm] += float64(p.space.Area)
		if i == 0 || byMillimeter[mm] > byMillimeter[best] {
			best = mm
		}
	}
	return units.Metres(float64(best) / 1000)
}
