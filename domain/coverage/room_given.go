package coverage

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// given is what of a room and its surroundings sight depends on beside the
// sensors.
type given struct {
	plan             []domain.Wall // around the room
	outline          geom.Polygon
	seated, standing float64
	cell, partition  float64 // m: side of the cells, height of a partition that states none

	walls []Wall // what can stand between two points of the room: full walls, then partitions
	full  int    // how many of them are full
	ways  []way
}

func newGiven(p *domain.Project, r *domain.Resolved) given {
	g := given{outline: r.Outline, seated: p.Limits.Value(domain.SeatedHeight), standing: p.Limits.Value(domain.StandingHeight),
		cell: p.Limits.Value(domain.SightCell), partition: p.Limits.Value(domain.PartitionHeight)}
	if r.Plan != nil {
		g.plan = r.Plan.Walls
	}
	return g
}

// sameScene tells that the two differ in nothing that a sensor's sight depends
// on.
func (g *given) sameScene(o *given) bool {
	return g.seated == o.seated && g.standing == o.standing && g.cell == o.cell && g.partition == o.partition &&
		slices.EqualFunc(g.plan, o.plan, sameSight)
}

func sameSight(a, b domain.Wall) bool {
	return a.ID == b.ID && a.A == b.A && a.B == b.B && a.Kind == b.Kind && a.Height == b.Height && a.Thickness == b.Thickness && slices.Equal(a.Openings, b.Openings)
}

// build finds the walls that can stand between two points of the room: those
// that come into the box around it.
func (g *given) build(r *domain.Resolved) {
	box := r.Outline.Bounds().Grow(geom.Coincident)
	var low []Wall
	for i := range g.plan {
		w := &g.plan[i]
		if w.Kind == domain.Boundary || w.A == w.B || !box.MayMeet(w.Line()) {
			continue
		}
		top := g.top(w)
		parts := pieces(w, top, false)
		if math.IsInf(top, 1) {
			g.walls = append(g.walls, parts...)
		} else {
			low = append(low, parts...)
		}
	}
	for _, s := range g.unwalled() {
		g.walls = append(g.walls, Wall{s.A, s.B, math.Inf(1)})
	}
	g.full = len(g.walls)
	g.walls = append(g.walls, low...)
	g.ways = g.findWays()
}

// top gives how high a wall of the plan reaches, +Inf for the ceiling.
func (g *given) top(w *domain.Wall) float64 {
	switch {
	case w.Kind != domain.Partition:
		return math.Inf(1)
	case w.Height > 0:
		return float64(w.Height)
	}
	return g.partition
}

// reaching gives the partitions that end no lower than a height, as walls to
// the ceiling.
func reaching(low []Wall, height float64) []Wall {
	var out []Wall
	for _, w := range low {
		if w.Top >= height {
			out = append(out, Wall{w.A, w.B, math.Inf(1)})
		}
	}
	return out
}

// along is how far from an outline's edge a wall that bounds it may run, beside
// half of its thickness: outlines are traced along faces or middles, meters.
const along = 0.25

// unwalled gives the stretches of the outline along which nothing is drawn, no
// boundary either: they count as walls. A room whose outline has no corner
// turned inwards needs none: its outline never stands between two of its points.
func (g *given) unwalled() []geom.Segment {
	if g.outline.Convex() {
		return nil
	}
	var out []geom.Segment
	for _, edge := range g.outline.Edges() {
		parts := []geom.Segment{edge}
		for i := range g.plan {
			if s, ok := runsAlong(edge, &g.plan[i]); ok {
				parts = cut(parts, edge, s)
			}
		}
		for _, s := range parts {
			if s.Length() > along {
				out = append(out, s)
			}
		}
	}
	return out
}

// runsAlong gives the stretch of an edge that a wall runs along, with what the
// depth of walls hides at its ends.
func runsAlong(edge geom.Segment, w *domain.Wall) (geom.Segment, bool) {
	length, depth := edge.Length(), along+float64(w.Thickness)/2
	if length < geom.Coincident || w.A == w.B {
		return geom.Segment{}, false
	}
	unit := edge.B.Sub(edge.A).Times(1 / length)
	a, b := w.A.Sub(edge.A), w.B.Sub(edge.A)
	if math.Abs(unit.Cross(a)) > depth || math.Abs(unit.Cross(b)) > depth || math.Abs(unit.Cross(w.B.Sub(w.A))) > 0.1*w.A.Distance(w.B) {
		return geom.Segment{}, false
	}
	from, to := unit.Dot(a), unit.Dot(b)
	if from > to {
		from, to = to, from
	}
	from, to = max(0, from-depth), min(length, to+depth)
	if from >= to {
		return geom.Segment{}, false
	}
	return geom.Segment{A: edge.At(from / length), B: edge.At(to / length)}, true
}

// lens is how far in front of a wall a sensor on it looks from; one drawn nearer
// than against hangs on it, where its kind does; meters.
const (
	lens    = 0.02
	against = 0.15
)

// drawnIn gives where a sensor looks from. One that is drawn on the outline, in
// a corner of it or in the wall along it looks from just inside, and so does one
// that hangs on walls and is drawn beside one; one in another room looks from
// there.
func drawnIn(outline geom.Polygon, at geom.Point, onWall bool) geom.Point {
	near, away := outline.NearestOnBoundary(at)
	inside := outline.Contains(at)
	switch {
	case inside && away >= lens/2 && (!onWall || away > against), !inside && away > 2*along:
		return at
	case onWall: // into a corner, if one is as near
		for _, p := range outline.Outer {
			if p.Distance(at) <= against*math.Sqrt2 {
				near = p
			}
		}
	}
	const ways = 16
	best, clear := at, 0.0
	for i := range ways {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / ways)
		p := near.Add(geom.Pt(lens*cos, lens*sin))
		if !outline.Contains(p) {
			continue
		}
		if _, d := outline.NearestOnBoundary(p); d > clear {
			best, clear = p, d
		}
	}
	return best
}
