package coverage

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Leak is what a sensor sees of the far side of a door that stands open, or of
// a gap, in the outline of its room: whoever passes there turns the room's
// lights on or keeps them on.
type Leak struct {
	Sensor  int // index of the room's Sensors
	Wall    domain.ID
	Opening domain.ID
	Door    bool // a door; false: a gap
	At      geom.Point
	Area    float64        // m2 of floor within the sensor's pattern, for a person who walks
	Parts   []geom.Polygon // the same for drawing, arcs as chords of at most 5 degrees
}

// Leaks gives what the room's sensors see through its doors and gaps, in order
// of the sensors. Only the door in question stands open; a door across the
// corridor is shut. Boundaries are no gaps: that open areas share a sensor is
// meant.
func (room *Room) Leaks() []Leak {
	var out []Leak
	for i := range room.Sensors {
		for _, l := range room.Sensors[i].leaks {
			l.Sensor = i
			out = append(out, l)
		}
	}
	return out
}

// leaksOf finds what a sensor sees through the ways into its room.
func (g *given) leaksOf(s *RoomSensor) []Leak {
	var out []Leak
	for _, w := range g.ways {
		span := w.wall.Span(w.opening)
		if s.Walk <= 0 || span.Distance(s.At) >= s.Walk || !sameSide(span, s.At, w.inside) {
			continue
		}
		fan := newFan(s, span, g.beyondWalls(s, w))
		l := Leak{Wall: w.wall.ID, Opening: w.opening.ID, Door: w.opening.Kind == domain.Door, At: span.Middle()}
		if l.Area, l.Parts = fan.sweep(); l.Area > geom.NoArea {
			out = append(out, l)
		}
	}
	return out
}

func sameSide(line geom.Segment, p, q geom.Point) bool {
	d := line.B.Sub(line.A)
	return d.Cross(p.Sub(line.A))*d.Cross(q.Sub(line.A)) > 0
}

// beyondWalls gives the walls in a sensor's reach with one way open. Partitions
// that end below the sensor hide little and are left out, on the safe side.
func (g *given) beyondWalls(s *RoomSensor, open way) []geom.Segment {
	box := geom.Box{Min: s.At, Max: s.At}.Grow(s.Walk)
	var out []geom.Segment
	for i := range g.plan {
		w := &g.plan[i]
		if w.Kind == domain.Boundary || w.A == w.B || !box.MayMeet(w.Line()) || g.top(w) < s.Height {
			continue
		}
		parts := []geom.Segment{w.Line()}
		for j := range w.Openings {
			if o := &w.Openings[j]; o.Kind == domain.Gap || o == open.opening {
				parts = cut(parts, w.Line(), w.Span(o))
			}
		}
		out = append(out, parts...)
	}
	return out
}

// fan sweeps over the directions from a sensor through an opening. Between two
// neighboring directions at which anything changes, one wall or the pattern's
// rim bounds what is seen. Angles are counted from the opening's middle.
type fan struct {
	s       *RoomSensor
	opening geom.Segment
	walls   []geom.Segment
	zero    float64
}

func newFan(s *RoomSensor, opening geom.Segment, walls []geom.Segment) *fan {
	m := opening.Middle().Sub(s.At)
	return &fan{s, opening, walls, math.Atan2(m.Y, m.X)}
}

func (f *fan) angle(p geom.Point) float64 { return f.turned(math.Atan2(p.Y-f.s.At.Y, p.X-f.s.At.X)) }

func (f *fan) turned(a float64) float64 { return math.Remainder(a-f.zero, 2*math.Pi) }

func (f *fan) at(angle, distance float64) geom.Point {
	sin, cos := math.Sincos(angle + f.zero)
	return f.s.At.Add(geom.Pt(cos*distance, sin*distance))
}

// splits gives the sorted angles within the opening at which anything changes.
func (f *fan) splits() []float64 {
	low, high := f.angle(f.opening.A), f.angle(f.opening.B)
	low, high = min(low, high), max(low, high)
	out := []float64{low, high}
	add := func(a float64) {
		if a > low && a < high {
			out = append(out, a)
		}
	}
	if f.s.Span > 0 {
		add(f.turned((f.s.Facing - f.s.Span/2) * math.Pi / 180))
		add(f.turned((f.s.Facing + f.s.Span/2) * math.Pi / 180))
	}
	lines := append([]geom.Segment{f.opening}, f.walls...)
	for i, w := range lines {
		add(f.angle(w.A))
		add(f.angle(w.B))
		if from, to, meets := chordOf(w, f.s.At, f.s.Walk); meets {
			add(f.angle(w.At(from)))
			add(f.angle(w.At(to)))
		}
		for _, o := range lines[i+1:] {
			if p, ok := w.Intersect(o); ok {
				add(f.angle(p))
			}
		}
	}
	slices.SortFunc(out, cmp.Compare[float64])
	return out
}

// sweep gives the area seen beyond the opening, exactly, and its shape.
func (f *fan) sweep() (area float64, parts []geom.Polygon) {
	var near, far []geom.Point
	shut := func() {
		if len(far) > 0 {
			for _, p := range slices.Backward(near) {
				far = appendApart(far, p)
			}
			parts = append(parts, geom.Polygon{Outer: far})
		}
		near, far = nil, nil
	}
	angles := f.splits()
	for i := 0; i+1 < len(angles); i++ {
		a, b := angles[i], angles[i+1]
		if b-a < 1e-12 {
			continue
		}
		wall, rim, ok := f.bound((a + b) / 2)
		if !ok {
			shut()
			continue
		}
		n1, n2 := f.at(a, f.reach(f.opening, a)), f.at(b, f.reach(f.opening, b))
		near = appendApart(appendApart(near, n1), n2)
		area -= math.Abs(n1.Sub(f.s.At).Cross(n2.Sub(f.s.At))) / 2
		if rim {
			area += f.s.Walk * f.s.Walk * (b - a) / 2
			far = f.arc(far, a, b)
			continue
		}
		w1, w2 := f.at(a, f.reach(wall, a)), f.at(b, f.reach(wall, b))
		far = appendApart(appendApart(far, w1), w2)
		area += math.Abs(w1.Sub(f.s.At).Cross(w2.Sub(f.s.At))) / 2
	}
	shut()
	return max(0, area), parts
}

// arc adds the points of the pattern's rim from one angle to another.
func (f *fan) arc(to []geom.Point, a, b float64) []geom.Point {
	n := int(math.Ceil((b - a) / (5 * math.Pi / 180)))
	for i := range n + 1 {
		to = appendApart(to, f.at(a+(b-a)*float64(i)/float64(n), f.s.Walk))
	}
	return to
}

// bound gives what ends the sight in a direction: a wall, or the pattern's rim;
// ok is false where the sight does not get through the opening.
func (f *fan) bound(angle float64) (wall geom.Segment, rim, ok bool) {
	if off := math.Remainder(angle+f.zero-f.s.Facing*math.Pi/180, 2*math.Pi); f.s.Span > 0 && math.Abs(off) > f.s.Span/2*math.Pi/180 {
		return wall, false, false
	}
	door, best := f.reach(f.opening, angle), f.s.Walk
	if door >= best {
		return wall, false, false
	}
	rim = true
	for _, w := range f.walls {
		d := f.hit(w, angle)
		if d < door-1e-9 {
			return wall, false, false
		}
		if d < best {
			best, wall, rim = d, w, false
		}
	}
	return wall, rim, true
}

// reach gives how far away the line of a wall lies in a direction.
func (f *fan) reach(w geom.Segment, angle float64) float64 {
	d, along := f.at(angle, 1).Sub(f.s.At), w.B.Sub(w.A)
	turn := d.Cross(along)
	if turn == 0 {
		return f.s.Walk
	}
	return w.A.Sub(f.s.At).Cross(along) / turn
}

// hit gives how far away a wall is met in a direction, +Inf where it is not.
func (f *fan) hit(w geom.Segment, angle float64) float64 {
	d, along := f.at(angle, 1).Sub(f.s.At), w.B.Sub(w.A)
	turn, to := d.Cross(along), w.A.Sub(f.s.At)
	if turn == 0 {
		return math.Inf(1)
	}
	if t, k := to.Cross(along)/turn, to.Cross(d)/turn; t > 0 && k >= 0 && k <= 1 {
		return t
	}
	return math.Inf(1)
}
