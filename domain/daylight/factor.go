package daylight

import (
	"fmt"
	"math"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Factor is a daylight factor by its parts, each in percent of the horizontal
// illuminance outdoors under the CIE overcast sky.
type Factor struct {
	Sky    float64 // straight from the sky
	Facing float64 // from what stands outside
	Inside float64 // reflected by the room's surfaces, its mean
}

// Total gives the daylight factor in percent.
func (f Factor) Total() float64 { return f.Sky + f.Facing + f.Inside }

// Light is a space made ready to ask for daylight factors. It is only read after
// NewLight.
type Light struct {
	space    *Space
	in       Interior
	walls    []geom.Segment // that stand between points of the room up to the ceiling
	low      []blocker
	windows  []opening
	surfaces Surfaces
	inside   float64 // what the room reflects of all light, percent
	roof     float64 // and of that of the rooflights
}

// opening is a window made ready.
type opening struct {
	*Window
	frame
	wide, passes float64
	inside       float64 // what the room reflects of its light, percent
}

// blocker is an obstruction that does not reach the ceiling.
type blocker struct {
	geom.Segment
	above float64 // the work plane
}

// Surfaces are the inside surfaces of a room.
type Surfaces struct {
	All, Glass  units.SquareMetres
	Reflectance float64 // mean of all, by area
}

// NewLight makes a space ready. It refuses one without a sound outline or ceiling.
func NewLight(s *Space, in Interior) (*Light, error) {
	if s.Outline.Empty() || len(s.Outline.Validate()) > 0 {
		return nil, fmt.Errorf("the room has no sound outline: draw it on the plan")
	}
	if s.Ceiling <= in.WorkPlane {
		return nil, fmt.Errorf("the room's ceiling is not above its work plane: state the ceiling's height")
	}
	l := &Light{space: s, in: in, walls: innerEdges(s.Outline)}
	for i := range s.Obstructions {
		switch o := &s.Obstructions[i]; {
		case o.Clear || o.Height <= in.WorkPlane:
		case o.Height >= s.Ceiling:
			l.walls = append(l.walls, o.Line)
		default:
			l.low = append(l.low, blocker{o.Line, float64(o.Height - in.WorkPlane)})
		}
	}
	for i := range s.Windows {
		if w := &s.Windows[i]; w.Area(s.Ceiling) > 0 {
			l.windows = append(l.windows, opening{Window: w, frame: w.frame(), wide: float64(w.Width()), passes: w.Glass.Passes()})
		}
	}
	l.surfaces = s.surfaces(&in)
	l.reflect()
	return l, nil
}

// Surfaces gives the room's inside surfaces.
func (l *Light) Surfaces() Surfaces { return l.surfaces }

// Reflected gives the mean internally reflected component in percent, SplitFlux
// summed over the windows. A rooflight lights the floor: T Aw/(A (1 - R)) 100 Rf.
func (l *Light) Reflected() float64 { return l.inside }

func (s *Space) surfaces(in *Interior) (out Surfaces) {
	floor, around := s.Outline.Area(), s.around()
	walls := around * float64(s.Ceiling)
	side, top := float64(s.Glazing()), 0.0
	for i := range s.Rooflights {
		top += float64(s.Rooflights[i].Area())
	}
	side, top = min(side, walls), min(top, floor)
	out.All, out.Glass = units.SquareMetres(2*floor+walls), units.SquareMetres(side+top)
	if out.All > 0 {
		out.Reflectance = ((floor-top)*in.Ceiling + floor*in.Floor + (walls-side)*in.Walls + (side+top)*in.Pane) / float64(out.All)
	}
	return out
}

// around gives the length of all walls, those around holes too.
func (s *Space) around() (sum float64) {
	for _, e := range s.Outline.Edges() {
		sum += e.Length()
	}
	return sum
}

// reflect settles what the room reflects of each window's light and the roof's.
func (l *Light) reflect() {
	floor, around := l.space.Outline.Area(), l.space.around()
	for i := range l.windows {
		w := &l.windows[i]
		head := float64(w.head(l.space.Ceiling))
		middle := (float64(w.Sill) + head) / 2
		walls := around - wallOf(l.space.Outline, w.Window)
		lower, upper := walls*middle, walls*(float64(l.space.Ceiling)-middle)
		rfw := (floor*l.in.Floor + lower*l.in.Walls) / (floor + lower)
		rcw := (floor*l.in.Ceiling + upper*l.in.Walls) / (floor + upper)
		down := DownLight(w.Outside.altitude(middle), l.in.Facing)
		w.inside = SplitFlux(w.passes, w.Area(l.space.Ceiling), l.surfaces.All, l.surfaces.Reflectance, down, 50*l.in.Ground, rfw, rcw)
		l.inside += w.inside
	}
	for i := range l.space.Rooflights {
		r := &l.space.Rooflights[i]
		l.roof += SplitFlux(r.Glass.Passes(), r.Area(), l.surfaces.All, l.surfaces.Reflectance, 100, 0, l.in.Floor, 0)
	}
	l.inside += l.roof
}

// wallOf gives the length of the outline that a window is in.
func wallOf(room geom.Polygon, w *Window) (sum float64) {
	f := w.frame()
	for _, e := range room.Edges() {
		a, b := f.in(e.A), f.in(e.B)
		if math.Abs(a.Y) <= 0.05 && math.Abs(b.Y) <= 0.05 {
			sum += math.Abs(b.X - a.X)
		}
	}
	return sum
}

// Mean gives the average daylight factor of the room by the formula of MeanFactor,
// percent, windows summed one by one. Rooflights are not in it: see Grid.
func (l *Light) Mean() (sum float64) {
	for i := range l.windows {
		w := &l.windows[i]
		middle := float64(w.Sill+w.head(l.space.Ceiling)) / 2
		theta := 90 - w.Outside.altitude(middle)
		sum += MeanFactor(w.passes, w.Area(l.space.Ceiling), theta, l.surfaces.All, l.surfaces.Reflectance)
	}
	return sum
}

// At gives the daylight factor at a point of the work plane. What stands outside,
// inner corners of the outline and obstructions in the room hide the sky; what is
// hidden in the room gives nothing straight, what is hidden outside gives Hidden of
// what the sky would.
func (l *Light) At(p geom.Point) Factor { return l.at(new(eye), p) }

func (l *Light) at(e *eye, p geom.Point) Factor {
	f := Factor{Inside: l.inside}
	for i := range l.windows {
		sky, facing := l.from(e, &l.windows[i], p)
		f.Sky, f.Facing = f.Sky+sky, f.Facing+facing
	}
	for i := range l.space.Rooflights {
		f.Sky += l.fromRoof(&l.space.Rooflights[i], p)
	}
	return f
}

// from gives what one window shows of the sky and of what stands outside, percent.
func (l *Light) from(e *eye, w *opening, p geom.Point) (sky, facing float64) {
	at := w.in(p)
	if at.Y <= geom.OnEdge {
		return 0, 0
	}
	plane := float64(l.in.WorkPlane)
	sill, head := float64(w.Sill)-plane, float64(w.head(l.space.Ceiling))-plane
	cut := w.Outside.hides(at.Y, plane)
	for _, g := range e.look(l, w, at, sill, head) {
		low := max(0, sill, g.low)
		if low >= head {
			continue
		}
		sky += l.share(w, pane{g.from, g.to, max(low, cut), head}, at.Y)
		if cut > low {
			facing += l.in.Hidden * l.share(w, pane{g.from, g.to, low, min(cut, head)}, at.Y)
		}
	}
	return 100 * sky, 100 * facing
}

func (l *Light) share(w *opening, p pane, d float64) float64 {
	if w.Glass.ByAngle {
		return w.passes * p.throughGlass(d)
	}
	return w.passes * p.sees(d)
}

// fromRoof gives what a rooflight shows of the sky, percent. Obstructions that
// stand between are not in it: light comes down past them.
func (l *Light) fromRoof(r *Rooflight, p geom.Point) float64 {
	at := r.frame().in(p)
	a, b := float64(r.Width)/2, float64(r.Length)/2
	return 100 * r.Glass.Passes() * fromAbove(-a-at.X, a-at.X, -b-at.Y, b-at.Y, float64(l.space.Ceiling-l.in.WorkPlane), r.Glass.ByAngle)
}
