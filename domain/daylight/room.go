package daylight

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Assumed is what a plan leaves out.
type Assumed struct {
	Sill, Head    units.Metres // of windows that state none
	Length, Width units.Metres // of luminaires
	Glass         Glass
}

// UsualAssumed gives the values to start from. Sill and head are those with which
// the plan editor draws windows; a luminaire is 1.2 by 0.3 m; glass is clear double
// glazing in frames, cleaned now and then. Common practice, no published source.
func UsualAssumed() Assumed {
	return Assumed{Sill: 0.9, Head: 2.1, Length: 1.2, Width: 0.3, Glass: Glass{Transmittance: 0.68, Net: 0.85, Maintenance: 0.9}}
}

// AssumedOf gives what the limits of a project say of what its plans leave out.
func AssumedOf(p *domain.Project) Assumed {
	out := UsualAssumed()
	out.Sill, out.Head = units.Metres(p.Limits.Value(domain.WindowSill)), units.Metres(p.Limits.Value(domain.WindowHead))
	out.Glass = Glass{Transmittance: share(p, domain.GlassTransmittance), Net: share(p, domain.GlazedShare), Maintenance: share(p, domain.GlassMaintenance)}
	return out
}

// share gives a limit in percent as a number from 0 to 1.
func share(p *domain.Project, id domain.LimitID) float64 {
	return max(0, min(1, p.Limits.Value(id)/100))
}

// along is how far from an outline's edge a wall that bounds it may run, beside
// half of its thickness: outlines are traced along faces or middles, meters.
const along = 0.25

// NewSpace reads a room and the walls around it. It gives nil where the room has no
// sound outline. Windows are those in walls of the plan along the outline, put onto
// it; rooflights are those over the room; what stands within the outline obstructs.
// Without walls the room has no windows.
func NewSpace(p *domain.Project, r *domain.Resolved, a Assumed) *Space {
	if r.Room == nil || r.Outline.Empty() || len(r.Outline.Validate()) > 0 {
		return nil
	}
	outline := r.Outline.Simplify(geom.OnEdge).Oriented()
	if outline.Empty() {
		return nil
	}
	ceiling, _ := p.CeilingOf(r.Room)
	s := &Space{Outline: outline, Ceiling: ceiling, Luminaires: luminaires(p, r, &a)}
	if r.Plan == nil {
		return s
	}
	s.North = r.Plan.North
	for i := range r.Plan.Rooflights {
		l := &r.Plan.Rooflights[i]
		s.Rooflights = append(s.Rooflights, Rooflight{ID: l.ID, At: l.At, Width: l.Width, Length: l.Length, Turn: l.Turn, Glass: a.Glass.orOf(l.Glass)})
	}
	partition := units.Metres(p.Limits.Value(domain.PartitionHeight))
	for i := range r.Plan.Walls {
		w := &r.Plan.Walls[i]
		if w.Kind == domain.Boundary || w.A.Near(w.B, geom.Coincident) {
			continue
		}
		s.windowsOf(w, &a)
		if inside(outline, w) {
			s.obstruct(w, partition)
		}
	}
	return s
}

// windowsOf puts a wall's windows onto the edges of the outline that it runs along.
func (s *Space) windowsOf(w *domain.Wall, a *Assumed) {
	if w.Kind != domain.FullWall {
		return
	}
	for i := range w.Openings {
		o := &w.Openings[i]
		if o.Kind != domain.Window || o.Indoors || o.Width <= geom.OnEdge {
			continue
		}
		span, deep := w.Span(o), along+float64(w.Thickness)/2
		for _, e := range s.Outline.Edges() {
			on, some := runsAlong(e, span, deep)
			if !some {
				continue
			}
			win := Window{ID: o.ID, Wall: w.ID, A: on.A, B: on.B, Sill: o.Sill, Head: o.Head, Glass: a.Glass.orOf(o.Glass), Outside: Outside{Altitude: o.Blocked}}
			win.heights(s.Ceiling, a)
			s.Windows = append(s.Windows, win)
		}
	}
}

// heights settles sill and head. A stated head with no sill is glass to the floor.
func (w *Window) heights(ceiling units.Metres, a *Assumed) {
	if w.Head == 0 {
		w.Assumed = true
		if w.Sill == 0 {
			w.Sill = min(a.Sill, ceiling)
		}
		w.Head = max(a.Head, w.Sill)
		if w.Head == w.Sill {
			w.Head = ceiling
		}
	}
}

// runsAlong gives the stretch of an edge before which a span lies, in the edge's
// direction.
func runsAlong(edge, span geom.Segment, deep float64) (geom.Segment, bool) {
	length, wide := edge.Length(), span.Length()
	if length < geom.Coincident || wide < geom.Coincident {
		return geom.Segment{}, false
	}
	unit := edge.B.Sub(edge.A).Times(1 / length)
	a, b := span.A.Sub(edge.A), span.B.Sub(edge.A)
	if math.Abs(unit.Cross(a)) > deep || math.Abs(unit.Cross(b)) > deep || math.Abs(unit.Cross(span.B.Sub(span.A))) > 0.1*wide {
		return geom.Segment{}, false
	}
	from, to := unit.Dot(a), unit.Dot(b)
	if from > to {
		from, to = to, from
	}
	from, to = max(0, from), min(length, to)
	if to-from <= geom.OnEdge {
		return geom.Segment{}, false
	}
	return geom.Segment{A: edge.At(from / length), B: edge.At(to / length)}, true
}

// inside tells that a part of a wall stands within the outline, off its edges.
func inside(outline geom.Polygon, w *domain.Wall) bool {
	line, deep := w.Line(), along+float64(w.Thickness)/2
	if box := outline.Bounds(); min(line.A.X, line.B.X) > box.Max.X || max(line.A.X, line.B.X) < box.Min.X || min(line.A.Y, line.B.Y) > box.Max.Y || max(line.A.Y, line.B.Y) < box.Min.Y {
		return false
	}
	for _, e := range outline.Edges() {
		if e.Distance(line.A) <= deep && e.Distance(line.B) <= deep {
			return false // along this edge from end to end, as most walls are
		}
	}
	n := max(2, min(1000, int(math.Ceil(line.Length()/along))))
	for i := range n + 1 {
		p := line.At(float64(i) / float64(n))
		if !outline.Contains(p) {
			continue
		}
		if _, d := outline.NearestOnBoundary(p); d > deep {
			return true
		}
	}
	return false
}

// obstruct adds a wall that stands in the room, without its gaps; doors count as
// shut.
func (s *Space) obstruct(w *domain.Wall, partition units.Metres) {
	height := units.Metres(math.Inf(1))
	if w.Kind == domain.Partition {
		height = partition
		if w.Height > 0 {
			height = w.Height
		}
	}
	m, _ := domain.FindMaterial(w.Material, w.Thickness)
	length := w.Line().Length()
	parts := [][2]float64{{0, length}}
	for i := range w.Openings {
		o := &w.Openings[i]
		if o.Kind != domain.Gap {
			continue
		}
		var kept [][2]float64
		for _, p := range parts {
			if before := min(p[1], float64(o.At)); before > p[0] {
				kept = append(kept, [2]float64{p[0], before})
			}
			if after := max(p[0], float64(o.At+o.Width)); after < p[1] {
				kept = append(kept, [2]float64{after, p[1]})
			}
		}
		parts = kept
	}
	for _, p := range parts {
		line := geom.Segment{A: w.Line().At(p[0] / length), B: w.Line().At(p[1] / length)}
		s.Obstructions = append(s.Obstructions, Obstruction{ID: w.ID, Line: line, Height: height, Clear: m.Name == domain.ClearGlazing || m.Name == domain.CoatedGlazing})
	}
}

// luminaires gives the room's luminaires on the plan, each with its own watts.
func luminaires(p *domain.Project, r *domain.Resolved, a *Assumed) []Luminaire {
	placed := map[domain.ID]int{}
	for i := range r.Fixtures {
		placed[r.Fixtures[i].Load]++
	}
	var out []Luminaire
	for i := range r.Fixtures {
		f := &r.Fixtures[i]
		l := r.Design.Load(f.Load)
		if l == nil || l.Kind != domain.Lighting || !f.At.Finite() {
			continue
		}
		x := Luminaire{ID: f.ID, Load: l.ID, At: f.At, Length: a.Length, Width: a.Width, Turn: f.Turn, General: l.Layer == domain.General || l.Layer == ""}
		if lum := p.Luminaire(l.Luminaire); lum != nil {
			x.Watts = lum.Watts
		} else {
			x.Watts = l.Watts / units.Watts(max(placed[l.ID], l.Count))
		}
		out = append(out, x)
	}
	return inOrderOf(r.Design.Loads, out)
}

// inOrderOf brings luminaires into the order of their loads, L2 before L10: whatever
// lists them by load then has that of the load schedule.
func inOrderOf(loads []domain.Load, list []Luminaire) []Luminaire {
	at := make(map[domain.ID]int, len(loads))
	for i := range loads {
		at[loads[i].ID] = i
	}
	slices.SortStableFunc(list, func(a, b Luminaire) int { return cmp.Compare(at[a.Load], at[b.Load]) })
	return list
}

// Unhung gives the general lighting loads of a room that have more luminaires than
// its plan shows, or none there at all: what hangs in a zone is not known of them.
func Unhung(r *domain.Resolved) (out []domain.ID) {
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Kind != domain.Lighting || l.Layer != domain.General && l.Layer != "" {
			continue
		}
		placed := 0
		for j := range r.Fixtures {
			if r.Fixtures[j].Load == l.ID {
				placed++
			}
		}
		if placed < max(1, l.Count) {
			out = append(out, l.ID)
		}
	}
	return out
}

// Sensors gives the room's daylight sensors on the plan.
func Sensors(p *domain.Project, r *domain.Resolved) (out []Sensor) {
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		if t := p.Book.Find(d.Type); t != nil && t.Kind.Traits().Daylight && d.At != nil && d.At.Finite() {
			out = append(out, SensorOf(p, r, d))
		}
	}
	return out
}

// SensorOf reads a daylight sensor, which may have no place yet. One with a turn faces
// that way; the angle that its type spans is its view.
func SensorOf(p *domain.Project, r *domain.Resolved, d *domain.Device) Sensor {
	h, _ := p.HeightOf(r.Room, d)
	s := Sensor{ID: d.ID, Height: h, Loop: d.Loop}
	if d.At != nil {
		s.At = *d.At
	}
	if t := p.Book.Find(d.Type); t != nil {
		s.View = t.Angle
	}
	if d.Turn != 0 {
		turn := d.Turn
		s.Facing = &turn
	}
	return s
}
