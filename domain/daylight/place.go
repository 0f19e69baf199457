package daylight

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Sensor is a daylight sensor at its place.
type Sensor struct {
	ID     domain.ID
	At     geom.Point
	Height units.Metres // above the floor
	Loop   domain.LoopKind
	Facing *float64 // degrees counterclockwise from x on the plan; nil: straight down, or not stated
	View   float64  // whole angle of its view, degrees; 0: not stated
}

// Sight is how a sensor stands to one window.
type Sight struct {
	Window   int          // of the space
	Distance units.Metres // from the glass, level
	Aside    float64      // between where the sensor faces and the nearest glass, degrees; 180 where it faces nowhere
	Steep    float64      // smallest angle from straight down at which it sees the glass, degrees
	Hidden   bool         // a wall or an inner corner stands between
}

// Sights gives how a sensor stands to each window that it is in front of, the
// nearest first. Partitions under the sensor's line of sight are not in it.
func (s *Space) Sights(d *Sensor) (out []Sight) {
	corners := innerEdges(s.Outline)
	for i := range s.Windows {
		w := &s.Windows[i]
		glass := geom.Segment{A: w.A, B: w.B}
		near, _ := glass.Nearest(d.At)
		at := w.frame().in(d.At)
		if at.Y < -geom.OnEdge || glass.Length() < geom.Coincident {
			continue
		}
		v := Sight{Window: i, Distance: units.Metres(near.Distance(d.At)), Aside: 180, Hidden: s.between(d.At, near, corners)}
		v.Steep = math.Atan2(float64(v.Distance), float64(d.Height-w.Sill)) / radians
		if d.Facing != nil && v.Distance > geom.OnEdge {
			to := near.Sub(d.At)
			v.Aside = apart(math.Atan2(to.Y, to.X)/radians, *d.Facing)
		}
		out = append(out, v)
	}
	slices.SortStableFunc(out, func(a, b Sight) int { return cmp.Compare(a.Distance, b.Distance) })
	return out
}

// between tells that something up to the ceiling stands between two points.
func (s *Space) between(a, b geom.Point, corners []geom.Segment) bool {
	way := geom.Segment{A: a, B: b}
	stands := func(line geom.Segment) bool {
		p, meets := way.Intersect(line)
		return meets && !p.Near(a, 0.02) && !p.Near(b, 0.02)
	}
	for i := range s.Obstructions {
		if o := &s.Obstructions[i]; !o.Clear && o.Height >= s.Ceiling && stands(o.Line) {
			return true
		}
	}
	return slices.ContainsFunc(corners, stands)
}

// apart gives the angle between two directions, 0 to 180 degrees.
func apart(a, b float64) float64 {
	d := math.Abs(math.Mod(a-b, 360))
	return min(d, 360-d)
}

// SeesGlass tells whether a sensor that looks straight down, with a view of so many
// degrees, has the window in view: a closed loop must not.
func (v *Sight) SeesGlass(view float64) bool { return !v.Hidden && v.Steep < view/2 }

// Between counts the luminaires that hang between a sensor and the nearest glass of
// a window, within half of its view to either side, or 30 degrees where that is not
// stated: their light may shine into an open loop that faces the window.
func (s *Space) Between(d *Sensor, v *Sight) (n int) {
	w := &s.Windows[v.Window]
	near, _ := geom.Segment{A: w.A, B: w.B}.Nearest(d.At)
	to, half := near.Sub(d.At), 30.0
	if d.View > 0 {
		half = d.View / 2
	}
	for i := range s.Luminaires {
		l := s.Luminaires[i].At.Sub(d.At)
		far := math.Hypot(l.X, l.Y)
		if far > geom.OnEdge && far < float64(v.Distance) && apart(math.Atan2(l.Y, l.X)/radians, math.Atan2(to.Y, to.X)/radians) <= half {
			n++
		}
	}
	return n
}

// Facade is a side of the room with windows that face the same way.
type Facade struct {
	Azimuth float64 // that they face, degrees clockwise from north
	Windows []int   // of the space
}

// sameFacade is within how many degrees windows face one way.
const sameFacade = 30

// Azimuth gives which way a window faces, degrees clockwise from north.
func (s *Space) Azimuth(w *Window) float64 {
	along := w.B.Sub(w.A)
	return math.Mod(math.Atan2(along.Y, -along.X)/radians-s.North+720, 360)
}

// Facades groups the windows by the way they face, within 30 degrees of the first
// of each group.
func (s *Space) Facades() (out []Facade) {
	for i := range s.Windows {
		azimuth := s.Azimuth(&s.Windows[i])
		at := slices.IndexFunc(out, func(f Facade) bool { return apart(f.Azimuth, azimuth) <= sameFacade })
		if at < 0 {
			out = append(out, Facade{Azimuth: azimuth})
			at = len(out) - 1
		}
		out[at].Windows = append(out[at].Windows, i)
	}
	return out
}

// FacadeAt gives the facade of Facades that lights a point of the work plane most,
// -1 where it sees no sky through any window.
func (l *Light) FacadeAt(facades []Facade, p geom.Point) int {
	best, most, e := -1, 0.0, new(eye)
	for i := range facades {
		sum := 0.0
		for j := range l.windows {
			if w := &l.windows[j]; slices.ContainsFunc(facades[i].Windows, func(k int) bool { return &l.space.Windows[k] == w.Window }) {
				sky, facing := l.from(e, w, p)
				sum += sky + facing
			}
		}
		if sum > most {
			best, most = i, sum
		}
	}
	return best
}

// Governs gives which facades light the luminaires of some loads: a sensor that
// acts on loads of two follows neither.
func (l *Light) Governs(facades []Facade, loads ...domain.ID) (out []int) {
	for i := range l.space.Luminaires {
		x := &l.space.Luminaires[i]
		if !slices.Contains(loads, x.Load) {
			continue
		}
		if f := l.FacadeAt(facades, x.At); f >= 0 && !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	slices.Sort(out)
	return out
}

// Row is how far from the glass the luminaires of a load hang: the nearest and the
// farthest, meters.
type Row struct{ From, To units.Metres }

// Depth gives how much of the room's depth a load takes.
func (r Row) Depth() units.Metres { return r.To - r.From }

// Row gives the distances of a load's luminaires from the nearest window each;
// known is false where it has none on the plan, or the room has no windows.
func (s *Space) Row(load domain.ID) (r Row, known bool) {
	for i := range s.Luminaires {
		l := &s.Luminaires[i]
		if l.Load != load || len(s.Windows) == 0 {
			continue
		}
		d := math.Inf(1)
		for j := range s.Windows {
			d = min(d, geom.Segment{A: s.Windows[j].A, B: s.Windows[j].B}.Distance(l.At))
		}
		if !known {
			r, known = Row{units.Metres(d), units.Metres(d)}, true
		}
		r.From, r.To = min(r.From, units.Metres(d)), max(r.To, units.Metres(d))
	}
	return r, known
}
