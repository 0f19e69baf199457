package dxf

import (
	"math"

	"scopewright/domain/geom"
)

// Flattening: an arc becomes chords that turn by at most finestTurn each. The
// area of a circle so drawn is 0.011 % too small, its chords leave the arc by
// 0.0086 % of the radius (both by hand: 1 - sin t / t and 1 - cos(t/2)).
const (
	finestTurn = 1.5 * math.Pi / 180
	coarseTurn = 22.5 * math.Pi / 180 // for extents: 2 % of a radius
)

// vertex is a point in drawing units and the bulge of the edge that leaves it:
// the tangent of a quarter of the arc's angle, positive counterclockwise.
type vertex struct {
	geom.Point
	bulge float64
}

// path is an entity made of edges, in its own plane; m leads to the plan.
type path struct {
	kind   string
	layer  int
	line   int
	handle uint64  // group 5, 0 for none
	z      float64 // height of a polyline, drawing units
	v      []vertex
	holes  [][]vertex // of a hatch
	m      *affine    // nil: already on the plan
	closed bool
	byEnds bool // closed only because its last point equals its first
}

// ring gives the path's points on the plan, arcs as chords, through the map of
// the insertion that placed it.
func (p *path) ring(placed *affine, turn float64) []geom.Point {
	return p.through(p.v, placed, turn)
}

func (p *path) through(v []vertex, placed *affine, turn float64) []geom.Point {
	out := flatten(v, p.closed, turn)
	for _, m := range []*affine{p.m, placed} {
		if m == nil {
			continue
		}
		for i := range out {
			out[i] = m.apply(out[i])
		}
	}
	return out
}

// flatten gives the points of a run of vertices. A closed run does not repeat
// its first point.
func flatten(v []vertex, closed bool, turn float64) []geom.Point {
	out := make([]geom.Point, 0, len(v))
	for i, from := range v {
		out = append(out, from.Point)
		if from.bulge == 0 || i == len(v)-1 && !closed {
			continue
		}
		out = appendArc(out, from, v[(i+1)%len(v)].Point, turn)
	}
	return out
}

// appendArc adds the points strictly between the ends of a bulged edge.
//
//	      . arc .
//	   .           .
//	from ----------- to     the center lies left of the chord for 0 < bulge < 1
func appendArc(out []geom.Point, from vertex, to geom.Point, turn float64) []geom.Point {
	b := from.bulge
	angle := 4 * math.Atan(b)
	n := int(math.Ceil(math.Abs(angle) / turn))
	chord := to.Sub(from.Point)
	if n < 2 || chord == (geom.Point{}) || math.Abs(b) < 1e-9 {
		return out
	}
	left := geom.Point{X: -chord.Y, Y: chord.X}
	center := from.Add(chord.Times(0.5)).Add(left.Times((1 - b*b) / (4 * b)))
	spoke := from.Sub(center)
	for k := 1; k < n; k++ {
		sin, cos := math.Sincos(angle * float64(k) / float64(n))
		out = append(out, center.Add(geom.Point{X: spoke.X*cos - spoke.Y*sin, Y: spoke.X*sin + spoke.Y*cos}))
	}
	return out
}

// arc gives the vertices of an arc of a circle, angles in radians, turning
// counterclockwise by sweep. Each edge turns by at most a quarter.
func arc(center geom.Point, radius, start, sweep float64) []vertex {
	n := max(1, int(math.Ceil(math.Abs(sweep)/(math.Pi/2)-1e-9)))
	bulge := math.Tan(sweep / float64(n) / 4)
	out := make([]vertex, 0, n+1)
	for k := 0; k <= n; k++ {
		sin, cos := math.Sincos(start + sweep*float64(k)/float64(n))
		out = append(out, vertex{center.Add(geom.Point{X: radius * cos, Y: radius * sin}), bulge})
	}
	out[n].bulge = 0
	return out
}

// circle gives the vertices of a whole circle, to be closed.
func circle(center geom.Point, radius float64) []vertex {
	return arc(center, radius, 0, 2*math.Pi)[:4]
}

// close marks a path whose ends meet as closed, and drops the repeated point.
func (p *path) close() {
	n := len(p.v)
	if n < 3 {
		// Two vertices make an outline only with an arc between them.
		p.closed = p.closed && n == 2 && (p.v[0].bulge != 0 || p.v[1].bulge != 0)
		return
	}
	size := 0.0
	for _, v := range p.v {
		size = max(size, math.Abs(v.X-p.v[0].X), math.Abs(v.Y-p.v[0].Y))
	}
	if p.v[0].Distance(p.v[n-1].Point) > size*1e-6 {
		return
	}
	if !p.closed {
		p.closed, p.byEnds = true, true
	}
	p.v = p.v[:n-1]
	if len(p.v) < 3 && p.v[0].bulge == 0 && p.v[len(p.v)-1].bulge == 0 {
		p.closed, p.byEnds = false, false
	}
}
