package coverage

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// stepIn is how far inside of an entrance a person who comes in is to be seen,
// meters: one step.
const stepIn = 0.5

// way is a door or a gap through the room's outline.
type way struct {
	wall    *domain.Wall
	opening *domain.Opening
	inside  geom.Point // where a person stands who came in
}

// findWays gives the doors and gaps through which one comes into the room: those
// that lie along the outline, in its wall.
func (g *given) findWays() []way {
	var out []way
	box := g.outline.Bounds().Grow(2 * along)
	for i := range g.plan {
		w := &g.plan[i]
		if w.Kind == domain.Boundary || w.A == w.B || len(w.Openings) == 0 || !box.MayMeet(w.Line()) {
			continue
		}
		for j := range w.Openings {
			o := &w.Openings[j]
			if o.Kind != domain.Door && o.Kind != domain.Gap {
				continue
			}
			if in, ok := g.inside(w, w.Span(o).Middle()); ok {
				out = append(out, way{w, o, in})
			}
		}
	}
	return out
}

// inside gives the place a step inside of an opening; ok is false for one that
// does not lead into the room.
func (g *given) inside(w *domain.Wall, middle geom.Point) (in geom.Point, ok bool) {
	length, depth := w.A.Distance(w.B), along+float64(w.Thickness)/2
	unit := w.B.Sub(w.A).Times(1 / length)
	for _, ring := range g.outline.Rings() {
		for e := range geom.Edges(ring) {
			near, _ := e.Nearest(middle)
			if near.Distance(middle) > depth || math.Abs(unit.Cross(e.B.Sub(e.A))) > 0.2*e.Length() {
				continue
			}
			for _, step := range []float64{stepIn, -stepIn} {
				p := near.Add(geom.Pt(-unit.Y, unit.X).Times(step))
				if g.outline.Contains(p) {
					return p, true
				}
			}
		}
	}
	return in, false
}

// entrances gives the places at which people who come in are to be seen.
func (g *given) entrances() []Target {
	var out []Target
	for _, w := range g.ways {
		out = append(out, Target{ID: w.opening.ID, Wall: w.wall.ID, At: w.inside})
	}
	return out
}
