package domain

import (
	"fmt"

	"scopewright/domain/geom"
)

// maxExtent is the longest that a wall or a picture may be, in meters: more
// than any building.
const maxExtent = 1e5

// drawings checks the plans against the project. Whether what they show makes
// sense, such as a wall of no length, is for the rules to find.
func (c *checker) drawings(s *Scope) {
	if len(s.Plans) > MaxPlans {
		c.add("/plans", "%d plans are more than the %d that a project may have", len(s.Plans), MaxPlans)
	}
	for i := range s.Plans {
		p, path := &s.Plans[i], fmt.Sprintf("/plans/%d", i)
		if _, storey := s.Project.FindStorey(p.ID); storey == nil {
			c.add(path+"/id", "this is the plan of storey %q, which no building of the project has: add the storey or take the plan out", shortText(string(p.ID)))
		}
		if len(p.Walls) > MaxWalls {
			c.add(path+"/walls", "the plan has %d walls; at most %d can be read", len(p.Walls), MaxWalls)
		}
		for j := range p.Walls {
			if c.full() {
				return
			}
			c.wall(fmt.Sprintf("%s/walls/%d", path, j), &p.Walls[j])
		}
		if len(p.Rooflights) > MaxRooflights {
			c.add(path+"/rooflights", "the plan has %d rooflights; at most %d can be read", len(p.Rooflights), MaxRooflights)
		}
		if p.Underlay != nil {
			c.need(path+"/underlay/picture", p.Underlay.Picture, "the picture's SHA-256")
		}
	}
}

func (c *checker) wall(path string, w *Wall) {
	c.need(path+"/kind", string(w.Kind), "the wall's kind, wall, partition or boundary,")
	if len(w.Openings) > MaxOpenings {
		c.add(path+"/openings", "the wall has %d openings; at most %d can be read", len(w.Openings), MaxOpenings)
	}
	for i := range w.Openings {
		c.need(fmt.Sprintf("%s/openings/%d/kind", path, i), string(w.Openings[i].Kind), "the opening's kind, window, door or opening,")
	}
}

// places checks how much stands in a room on the plan.
func (c *checker) places(path string, r *Room) {
	if len(r.Fixtures) > MaxPlaces {
		c.add(path+"/fixtures", "room %s has %d luminaires on the plan; at most %d can be read", r.Number, len(r.Fixtures), MaxPlaces)
	}
	if len(r.Sitting) > MaxPlaces {
		c.add(path+"/sitting", "room %s has %d seats on the plan; at most %d can be read", r.Number, len(r.Sitting), MaxPlaces)
	}
}

// point checks the point at which the walk is.
func (c *checker) point(p geom.Point) {
	if !p.Finite() {
		c.here("a coordinate is no number or lies more than 10,000 km out: move the plan nearer to its origin")
	}
}

// outline checks the outline at which the walk is.
func (c *checker) outline(p geom.Polygon) {
	n := 0
	for i, ring := range p.Rings() {
		n += len(ring)
		if len(ring) < 3 && !p.IsZero() {
			c.here("ring %d has %s; an outline needs at least 3", i, Count(len(ring), "corner", "corners"))
			return
		}
		for _, q := range ring {
			if !q.Finite() {
				c.point(q)
				return
			}
		}
	}
	if n > MaxPoints {
		c.here("the outline has %d corners; at most %d can be read: simplify it", n, MaxPoints)
	}
}
