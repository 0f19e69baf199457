package domain

import (
	"slices"

	"scopewright/domain/geom"
)

// around is how far from a room walls are regarded, meters: what a sensor of a
// room sees of its neighbors, or what a radio link that leaves it crosses, lies
// within.
const around = 10.0

// OnPlan gives the room with the walls around it and the rooflights over it, of its storey's plan, which
// may be nil. It gives the room itself where it has the same walls already, so
// that a change elsewhere on the storey leaves the room as it is.
func (r *Resolved) OnPlan(p *Plan) *Resolved {
	walls, lights := r.wallsAround(p), r.rooflightsOver(p)
	none := len(walls)+len(lights) == 0
	if r.Plan == nil && none || r.Plan != nil && r.Plan.North == p.northOr0() && slices.EqualFunc(r.Plan.Walls, walls, sameWall) && slices.Equal(r.Plan.Rooflights, lights) {
		return r
	}
	out := *r
	out.Plan = nil
	if !none {
		out.Plan = &Plan{ID: p.ID, North: p.North, Walls: walls, Rooflights: lights}
	}
	return &out
}

func (p *Plan) northOr0() float64 {
	if p == nil {
		return 0
	}
	return p.North
}

func (r *Resolved) wallsAround(p *Plan) []Wall {
	box, drawn := r.Extent()
	if p == nil || !drawn {
		return nil
	}
	box = box.Grow(around)
	var out []Wall
	for i := range p.Walls {
		if box.MayMeet(p.Walls[i].Line()) {
			out = append(out, p.Walls[i])
		}
	}
	return out
}

// rooflightsOver gives the rooflights whose middle is over the room.
func (r *Resolved) rooflightsOver(p *Plan) []Rooflight {
	if p == nil || len(p.Rooflights) == 0 || r.Outline.Empty() {
		return nil
	}
	var out []Rooflight
	for i := range p.Rooflights {
		if r.Outline.Contains(p.Rooflights[i].At) {
			out = append(out, p.Rooflights[i])
		}
	}
	return out
}

func sameWall(a, b Wall) bool {
	return a.ID == b.ID && a.Seq == b.Seq && a.A == b.A && a.B == b.B && a.Kind == b.Kind && a.Thickness == b.Thickness &&
		a.Height == b.Height && a.Material == b.Material && slices.Equal(a.Openings, b.Openings)
}

// Extent gives the box around the room's outline and the places of its devices;
// drawn is false where it has neither.
func (r *Resolved) Extent() (box geom.Box, drawn bool) {
	box, drawn = geom.BoundsOf(r.Outline.Outer...)
	for i := range r.Design.Devices {
		at := r.Design.Devices[i].At
		switch {
		case at == nil:
		case drawn:
			box = box.With(*at)
		default:
			box, drawn = geom.Box{Min: *at, Max: *at}, true
		}
	}
	return box, drawn
}
