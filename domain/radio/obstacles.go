package radio

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Place is where an antenna is: a point of the plan and its height above the
// floor, in meters.
type Place struct {
	At geom.Point
	Z  float64
}

// Distance is the straight line between two places, m.
func (p Place) Distance(q Place) units.Metres {
	dx, dy, dz := p.At.X-q.At.X, p.At.Y-q.At.Y, p.Z-q.Z
	return units.Metres(math.Sqrt(dx*dx + dy*dy + dz*dz))
}

// Obstacle is an upright strip that a signal loses something in: a piece of a
// wall, the leaf of a door, a pane. It reaches from Bottom up to Top.
type Obstacle struct {
	A, B        geom.Point
	Bottom, Top float64
	Loss        float64 // dB a crossing
	Wall        domain.ID
	What        string // "stud wall", "door", ...
}

// everywhere is above any ceiling.
const everywhere = 1e6

// Assumed are losses of what a plan does not tell, dB a crossing: judgement,
// the designer may set them.
type Assumed struct {
	Wall float64 // of a wall whose material is not of the list
	Door float64 // of a door's leaf
	Pane float64 // of a window
}

// UsualLosses are those of a stud wall, a timber leaf and clear glazing.
func UsualLosses() Assumed {
	return Assumed{Wall: crossings[domain.StudWall].Design, Door: crossings[domain.TimberPanel].Design, Pane: crossings[domain.ClearGlazing].Design}
}

// Obstacles gives what a storey's walls put in a signal's way: wall pieces beside
// and above openings, and the openings with what fills them. Boundaries are no
// obstacle, nor is a gap.
func Obstacles(p *domain.Plan, assumed Assumed) []Obstacle {
	var out []Obstacle
	for i := range p.Walls {
		w := &p.Walls[i]
		if w.Kind == domain.Boundary || w.A == w.B {
			continue
		}
		out = wallObstacles(out, w, assumed)
	}
	return out
}

func wallObstacles(out []Obstacle, w *domain.Wall, assumed Assumed) []Obstacle {
	o := Obstacle{Top: everywhere, Loss: assumed.Wall, Wall: w.ID, What: "wall of unknown material"}
	if c, ok := CrossingOf(w.Material); ok {
		o.Loss, o.What = c.Design, w.Material
	}
	if w.Kind == domain.Partition {
		o.What = "partition, " + o.What
		if w.Height > 0 {
			o.Top = float64(w.Height)
		}
	}
	length, at := w.A.Distance(w.B), 0.0
	along := w.B.Sub(w.A).Times(1 / length)
	piece := func(from, to, bottom, top, loss float64, what string) {
		if to > from && top > bottom {
			part := o
			part.A, part.B = w.A.Add(along.Times(from)), w.A.Add(along.Times(to))
			part.Bottom, part.Top, part.Loss, part.What = bottom, top, loss, what
			out = append(out, part)
		}
	}
	for _, g := range inOrder(w.Openings) {
		from, to := math.Max(at, float64(g.At)), math.Min(length, float64(g.At+g.Width))
		if to <= from {
			continue // beside the wall, or covered by the one before
		}
		piece(at, from, 0, o.Top, o.Loss, o.What)
		head := o.Top
		if g.Head > 0 {
			head = math.Min(o.Top, float64(g.Head))
		}
		sill := math.Min(head, float64(g.Sill))
		piece(from, to, 0, sill, o.Loss, o.What)
		switch g.Kind {
		case domain.Window:
			piece(from, to, sill, head, assumed.Pane, "window")
		case domain.Door:
			piece(from, to, sill, head, assumed.Door, "door")
		}
		piece(from, to, head, o.Top, o.Loss, o.What)
		at = to
	}
	piece(at, length, 0, o.Top, o.Loss, o.What)
	return out
}

// inOrder gives openings as they follow along a wall.
func inOrder(list []domain.Opening) []domain.Opening {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b domain.Opening) int { return cmp.Compare(a.At, b.At) })
	return out
}
