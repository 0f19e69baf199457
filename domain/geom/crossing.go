package geom

import (
	"errors"
	"math"
)

var errFound = errors.New("found")

// edge is an edge of a polygon with the corner before it, so that the passes of
// an outline through a place can be compared.
type edge struct {
	Segment
	before Point // the corner before A
}

func (p Polygon) edges() (edges []edge, segments []Segment) {
	for _, ring := range p.Rings() {
		for i, a := range ring {
			s := Segment{a, ring[(i+1)%len(ring)]}
			edges = append(edges, edge{s, ring[(i+len(ring)-1)%len(ring)]})
			segments = append(segments, s)
		}
	}
	return edges, segments
}

// crossing finds a place where edges pass through each other or run along each
// other. Touching is none.
func (p Polygon) crossing() (fault Fault, found bool) {
	edges, segments := p.edges()
	if len(edges) > maxVertices {
		return Fault{TooTangled, p.Outer[0]}, true
	}
	err := eachNearPair(segments, 2*Coincident, func(i, j int) error {
		at, crosses := edges[i].crosses(edges[j])
		if !crosses {
			return nil
		}
		fault = Fault{SelfCrossing, at}
		return errFound
	})
	if errors.Is(err, ErrTangled) {
		return Fault{TooTangled, p.Outer[0]}, true
	}
	return fault, err != nil
}

func (e edge) crosses(o edge) (Point, bool) {
	if shared, ok := e.Overlap(o.Segment, Coincident); ok {
		return shared.Middle(), true
	}
	if o.passesCorner(e) {
		return e.A, true
	}
	if e.passesCorner(o) {
		return o.A, true
	}
	at, ok := e.Intersect(o.Segment)
	if !ok || at.Near(e.A, 2*Coincident) || at.Near(e.B, 2*Coincident) || at.Near(o.A, 2*Coincident) || at.Near(o.B, 2*Coincident) {
		return Point{}, false
	}
	return at, true
}

// passesCorner tells whether the outline along e passes through the corner at
// the start of o from one side to the other:
//
//	        e.B
//	         |
//	before---o.A      e.A and e.B lie on different sides of before - o.A - o.B
//	        /   \
//	      e.A    o.B
func (e edge) passesCorner(o edge) bool {
	corner := o.A
	if corner.Near(e.B, Coincident) || e.Distance(corner) > Coincident {
		return false // at e.B the next edge is asked
	}
	from := e.A
	if corner.Near(e.A, Coincident) {
		from = e.before
	}
	if corner.Near(from, Coincident) || corner.Near(o.before, Coincident) || corner.Near(o.B, Coincident) || from.Near(o.before, Coincident) {
		return false // edges that follow each other, or fault of their own
	}
	start := bearing(corner, o.before)
	turn := func(p Point) float64 { return math.Mod(bearing(corner, p)-start+2*math.Pi, 2*math.Pi) }
	sector := turn(o.B)
	const along = 1e-9 // radians: the same direction, which Overlap judges
	a, b := turn(from), turn(e.B)
	for _, angle := range []float64{a, b} {
		if angle < along || angle > 2*math.Pi-along || math.Abs(angle-sector) < along {
			return false
		}
	}
	return (a < sector) != (b < sector)
}

func bearing(from, to Point) float64 { return math.Atan2(to.Y-from.Y, to.X-from.X) }
