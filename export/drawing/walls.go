package drawing

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// defaultThickness draws a wall that states none, in meters.
const defaultThickness units.Metres = 0.1

func thickness(w *domain.Wall) units.Metres {
	if w.Thickness > 0 {
		return w.Thickness
	}
	return defaultThickness
}

// walls draws each wall cut between its openings, and the openings.
func (b *board) walls() {
	if !b.v.opt.shows(LayerWalls) {
		return
	}
	ends := b.wallEnds()
	for i := range b.v.plan.Walls {
		w := &b.v.plan.Walls[i]
		if w.A == w.B || !b.inSight(w) {
			continue
		}
		b.wall(w, ends)
		for j := range w.Openings {
			b.opening(w, &w.Openings[j])
		}
	}
}

func (b *board) inSight(w *domain.Wall) bool {
	if b.v.focus == nil {
		return true
	}
	box, _ := geom.BoundsOf(w.A, w.B)
	return box.Grow(float64(thickness(w))).Touches(b.window)
}

// wallEnds lists the walls that end in a place, to the centimeter.
func (b *board) wallEnds() map[[2]int64][]*domain.Wall {
	ends := map[[2]int64][]*domain.Wall{}
	for i := range b.v.plan.Walls {
		if w := &b.v.plan.Walls[i]; w.Kind != domain.Boundary && w.A != w.B {
			ends[centimeters(w.A)] = append(ends[centimeters(w.A)], w)
			ends[centimeters(w.B)] = append(ends[centimeters(w.B)], w)
		}
	}
	return ends
}

// reach is how far a wall goes on at one of its ends to fill the corner: half
// the thickness of the thickest wall that meets it there at an angle.
func reach(w *domain.Wall, meets []*domain.Wall) float64 {
	most, along := 0.0, w.B.Sub(w.A)
	for _, o := range meets {
		other := o.B.Sub(o.A)
		if o != w && math.Abs(along.Cross(other)) > 0.1*w.A.Distance(w.B)*o.A.Distance(o.B) {
			most = max(most, float64(thickness(o))/2)
		}
	}
	return most
}

func centimeters(p Point) [2]int64 {
	return [2]int64{int64(math.Round(p.X * 100)), int64(math.Round(p.Y * 100))}
}

// strip is a rectangle along a wall, between two distances from its A.
type strip struct {
	a, along, across Point
	half             float64
}

func stripOf(w *domain.Wall) strip {
	along := w.B.Sub(w.A).Times(1 / w.A.Distance(w.B))
	return strip{a: w.A, along: along, across: Point{X: -along.Y, Y: along.X}, half: float64(thickness(w)) / 2}
}

func (s strip) at(along, across float64) Point {
	return s.a.Add(s.along.Times(along)).Add(s.across.Times(across))
}

func (s strip) between(from, to float64) []Point {
	return []Point{s.at(from, -s.half), s.at(to, -s.half), s.at(to, s.half), s.at(from, s.half)}
}

func (b *board) wall(w *domain.Wall, ends map[[2]int64][]*domain.Wall) {
	item := Item{ID: "wall-" + string(w.ID), Ref: string(w.ID), Layer: LayerWalls, Class: "wall", Title: wallTitle(w)}
	if w.Kind == domain.Boundary {
		if a, c, ok := clipSegment(w.Line(), b.sight()); ok {
			item.Shapes = []Shape{Line{[]Point{b.paper(a), b.paper(c)}, StyleBoundary}}
			b.legend["boundary"] = true
			b.add(item)
		}
		return
	}
	style, name := StyleWall, "wall"
	if w.Kind == domain.Partition {
		style, name = StylePartition, "partition"
	}
	s := stripOf(w)
	for _, part := range b.parts(w, ends) {
		ring := clipRing(s.between(part[0], part[1]), b.sight())
		if len(ring) < 3 {
			continue
		}
		item.Shapes = append(item.Shapes, Area{[][]Point{b.ring(ring)}, style})
		b.taken.addLine(b.paper(s.at(part[0], 0)), b.paper(s.at(part[1], 0)), 2*s.half*b.pic.Scale.PerMeter(), weightWall)
	}
	if item.Shapes != nil {
		b.legend[name] = true
		b.add(item)
	}
}

// sight is what of the plan is drawn: the storey as a whole, or the window.
func (b *board) sight() geom.Box {
	if b.v.focus == nil {
		return b.window.Grow(1)
	}
	return b.window
}

// parts gives the stretches of a wall between its openings, from A on. Corners
// of full walls are filled.
func (b *board) parts(w *domain.Wall, ends map[[2]int64][]*domain.Wall) [][2]float64 {
	from, to := 0.0, w.A.Distance(w.B)
	if w.Kind == domain.FullWall {
		from, to = -reach(w, ends[centimeters(w.A)]), to+reach(w, ends[centimeters(w.B)])
	}
	return between(w, from, to)
}

// between gives what the openings leave of a wall that reaches from one
// distance from its A to another.
func between(w *domain.Wall, from, to float64) [][2]float64 {
	holes := slices.Clone(w.Openings)
	slices.SortFunc(holes, func(x, y domain.Opening) int { return cmp.Compare(x.At, y.At) })
	length := w.A.Distance(w.B)
	var out [][2]float64
	for _, o := range holes {
		if start := min(max(0, float64(o.At)), length); start > from {
			out = append(out, [2]float64{from, start})
		}
		from = max(from, min(float64(o.At+o.Width), length))
	}
	if to > from {
		out = append(out, [2]float64{from, to})
	}
	return out
}

// opening draws glass as two lines with one between, a door and a gap by their
// jambs. Which way a door swings is not known, so none is shown.
func (b *board) opening(w *domain.Wall, o *domain.Opening) {
	length := w.A.Distance(w.B)
	from, to := min(max(0, float64(o.At)), length), min(float64(o.At+o.Width), length)
	if to <= from || w.Kind == domain.Boundary {
		return
	}
	s := stripOf(w)
	item := Item{ID: "opening-" + string(w.ID) + "-" + string(o.ID), Of: string(w.ID), Ref: string(o.ID), Layer: LayerWalls, Class: string(o.Kind), Title: openingTitle(o, b.v.project.Units)}
	ring := clipRing(s.between(from, to), b.sight())
	if len(ring) < 3 {
		return
	}
	line := func(x1, y1, x2, y2 float64, style Style) {
		if a, c, ok := clipSegment(geom.Segment{A: s.at(x1, y1), B: s.at(x2, y2)}, b.sight()); ok {
			item.Shapes = append(item.Shapes, Line{[]Point{b.paper(a), b.paper(c)}, style})
		}
	}
	if o.Kind == domain.Window {
		item.Shapes = append(item.Shapes, Area{[][]Point{b.ring(ring)}, StyleGlass})
		line(from, 0, to, 0, StyleGlass)
	} else {
		line(from, -s.half, from, s.half, StyleJamb)
		line(to, -s.half, to, s.half, StyleJamb)
		if o.Kind == domain.Door {
			line(from, 0, to, 0, StyleDoor)
		}
	}
	b.legend[string(o.Kind)] = true
	b.add(item)
}

// clipRing cuts a convex ring at the sides of a box (Sutherland and Hodgman's way).
func clipRing(ring []Point, box geom.Box) []Point {
	sides := []func(Point) float64{
		func(p Point) float64 { return p.X - box.Min.X }, func(p Point) float64 { return box.Max.X - p.X },
		func(p Point) float64 { return p.Y - box.Min.Y }, func(p Point) float64 { return box.Max.Y - p.Y },
	}
	for _, in := range sides {
		var kept []Point
		for i, p := range ring {
			before := ring[(i+len(ring)-1)%len(ring)]
			a, c := in(before), in(p)
			if (a < 0) != (c < 0) {
				kept = append(kept, before.Add(p.Sub(before).Times(a/(a-c))))
			}
			if c >= 0 {
				kept = append(kept, p)
			}
		}
		ring = kept
	}
	return ring
}

func wallTitle(w *domain.Wall) string {
	title := "Wall"
	switch w.Kind {
	case domain.Partition:
		title = "Partition"
	case domain.Boundary:
		return "Boundary between rooms"
	}
	if w.Material != "" {
		title += ", " + w.Material
	}
	return title
}

func openingTitle(o *domain.Opening, sys units.System) string {
	title := map[domain.OpeningKind]string{domain.Window: "Window", domain.Door: "Door", domain.Gap: "Opening"}[o.Kind]
	return title + ", " + units.Length(o.Width, sys) + " wide"
}
