package coverage

import (
	"math"

	"scopewright/domain/equipment"
	"scopewright/domain/geom"
)

// view is one sensor's look for one motion. Where partitions cut a cone there
// are two looks: up to head the whole body stands in the cone and its top shows
// best over a partition; beyond, what shows best is the body's part at the
// cone's rim, and a partition that the rim meets hides all behind it.
type view struct {
	Sensor
	target float64
	walls  []Wall
	head   float64 // m; 0: one look is enough
	rim    []Wall
}

// view gives what the sensor looks through for a motion.
func (s *RoomSensor) view(g *given, m Motion) *view {
	v := &view{Sensor: Sensor{At: s.At, Height: s.Height, Radius: s.Radius(m), Facing: s.Facing, Span: s.Span}, target: g.standing}
	if m == Minor {
		v.target = g.seated
	}
	full, low := inReachOf(g.walls[:g.full], s.At, v.Radius), inReachOf(g.walls[g.full:], s.At, v.Radius)
	v.walls = append(full, low...)
	switch {
	case len(low) == 0:
	case s.Height <= g.standing, s.Senses == equipment.Ultrasonic, s.Senses == equipment.Dual && m == Minor:
		v.walls = append(full, reaching(low, s.Height)...)
	case m == Major && s.cone.slope > 0:
		v.head, v.rim = s.cone.atHead, s.rims(full, low)
	}
	return v
}

// rims gives what hides beyond head: full walls, and of each partition the parts
// that the cone's rim meets, farther from the sensor than the cone is wide at
// the partition's top.
func (s *RoomSensor) rims(full, low []Wall) []Wall {
	out := make([]Wall, len(full), len(full)+2*len(low))
	copy(out, full)
	for _, w := range low {
		clear := s.cone.slope * (s.Height - w.Top)
		if clear <= 0 {
			out = append(out, Wall{w.A, w.B, math.Inf(1)})
			continue
		}
		line := geom.Segment{A: w.A, B: w.B}
		from, to, meets := chordOf(line, s.At, clear)
		if !meets {
			from, to = 1, 1 // wholly outside
		}
		if from > 0 {
			out = append(out, Wall{w.A, line.At(from), math.Inf(1)})
		}
		if to < 1 {
			out = append(out, Wall{line.At(to), w.B, math.Inf(1)})
		}
	}
	return out
}

// chordOf gives the part of a segment that lies in a disc, by shares of its
// length.
func chordOf(line geom.Segment, center geom.Point, r float64) (from, to float64, meets bool) {
	d, a := line.B.Sub(line.A), line.A.Sub(center)
	qa, qb, qc := d.Dot(d), a.Dot(d), a.Dot(a)-r*r
	disc := qb*qb - qa*qc
	if qa == 0 || disc <= 0 {
		return 0, 0, false
	}
	root := math.Sqrt(disc)
	from, to = max(0, (-qb-root)/qa), min(1, (-qb+root)/qa)
	return from, to, from < to
}

// cells gives what the look sees of a grid.
func (v *view) cells(g Grid) Cells {
	switch {
	case v.Radius <= 0:
		return g.None()
	case v.rim == nil:
		return g.Seen(v.Sensor, v.target, v.walls, nil)
	}
	out := g.Seen(v.Sensor, v.target, v.rim, nil)
	if v.head <= 0 {
		return out
	}
	near := v.Sensor
	near.Radius = v.head
	inner := g.Seen(near, v.target, v.walls, nil)
	near.Span = 0
	disc := g.Seen(near, v.target, nil, nil)
	for i := range out {
		out[i] = out[i]&^disc[i] | inner[i]
	}
	return out
}

// glance is a look made ready for asking of many points.
type glance struct {
	*view
	wedge         region
	shadows, rims []region
}

func (v *view) ready() *glance {
	out := &glance{view: v, wedge: v.wedge(), shadows: v.shadowsOf(v.walls)}
	if v.rim != nil {
		out.rims = v.shadowsOf(v.rim)
	}
	return out
}

func (v *view) shadowsOf(walls []Wall) []region {
	out := make([]region, 0, len(walls))
	for _, w := range walls {
		if s, ok := v.shadow(w, v.target); ok {
			out = append(out, s)
		}
	}
	return out
}

// sees tells whether the look sees a point; it finds what cells finds.
func (l *glance) sees(p geom.Point) bool {
	if l.Radius <= 0 || !l.inReach(p.X, p.Y) || !l.within(&l.wedge, p.X, p.Y) {
		return false
	}
	shadows := l.shadows
	if l.rim != nil {
		near := Sensor{At: l.At, Radius: l.head}
		if l.head <= 0 || !near.inReach(p.X, p.Y) {
			shadows = l.rims
		}
	}
	for i := range shadows {
		if shadows[i].holds(p.X, p.Y) {
			return false
		}
	}
	return true
}

// inReachOf gives the walls that come within a distance of a point.
func inReachOf(walls []Wall, p geom.Point, r float64) []Wall {
	out := make([]Wall, 0, len(walls))
	for _, w := range walls {
		d := w.B.Sub(w.A)
		t := 0.0
		if length2 := d.Dot(d); length2 > 0 {
			t = max(0, min(1, p.Sub(w.A).Dot(d)/length2))
		}
		if off := w.A.Add(d.Times(t)).Sub(p); off.Dot(off) <= r*r {
			out = append(out, w)
		}
	}
	return out
}
