package daylight

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Space is a room as daylight sees it. It is made once and then only read.
type Space struct {
	Outline      geom.Polygon
	Ceiling      units.Metres // height above the floor
	Windows      []Window
	Rooflights   []Rooflight
	Obstructions []Obstruction
	Luminaires   []Luminaire
	North        float64 // degrees clockwise from up the sheet
}

// Window is a vertical opening to the outside. From A to B the room lies to the
// left:
//
//	      room
//	A ------------> B
//	     outside
type Window struct {
	ID         domain.ID
	Wall       domain.ID // in which it is; empty: none drawn
	A, B       geom.Point
	Sill, Head units.Metres // of the glazing, above the floor
	Assumed    bool         // the plan states no heights
	Glass      Glass
	Outside    Outside
}

// Glass is what a window lets in.
type Glass struct {
	Transmittance float64 // diffuse, 0 to 1; ByAngle: at right angles, over 1.018
	Net           float64 // glazed share of the opening
	Maintenance   float64 // what dirt leaves, 0 to 1
	ByAngle       bool    // transmittance falls with the angle of incidence
}

// Passes gives which part of the light that meets the opening comes in.
func (g Glass) Passes() float64 { return g.Transmittance * g.Net * g.Maintenance }

// orOf gives the same with a transmittance that is stated; 0 states none.
func (g Glass) orOf(transmittance float64) Glass {
	if transmittance > 0 {
		g.Transmittance = transmittance
	}
	return g
}

// Outside is what stands before a window, taken as endless along the glass: one
// that is far away, by the altitude of its top, or one of a height at a
// distance. The zero Outside is a free view.
type Outside struct {
	Altitude float64      // degrees, of something far away
	Top      units.Metres // above the room's floor, of something near
	Distance units.Metres // from the glass; 0: nothing near
}

// altitude gives how high what stands outside reaches, in degrees, seen from a
// height above the floor in the glass.
func (o Outside) altitude(height float64) float64 {
	if o.Distance > 0 {
		return max(0, o.Altitude, math.Atan((float64(o.Top)-height)/float64(o.Distance))/radians)
	}
	return max(0, o.Altitude)
}

// hides gives up to which height above a point the glass at a distance d from
// it shows what stands outside; z is the point's own height above the floor.
func (o Outside) hides(d, z float64) float64 {
	up := 0.0
	if o.Altitude > 0 {
		up = d * math.Tan(min(o.Altitude, 89.99)*radians)
	}
	if o.Distance > 0 {
		up = max(up, (float64(o.Top)-z)*d/(float64(o.Distance)+d))
	}
	return up
}

// Rooflight is a rectangular opening in the ceiling. Width runs along x and
// Length along y before it is turned.
type Rooflight struct {
	ID            domain.ID
	At            geom.Point // its middle
	Width, Length units.Metres
	Turn          float64 // degrees, counterclockwise
	Glass         Glass
}

// Obstruction is an upright thing in the room by its line on the plan.
type Obstruction struct {
	ID      domain.ID
	Line    geom.Segment
	Height  units.Metres // +Inf: to the ceiling
	Clear   bool         // glass: daylight passes
	Movable bool
}

// Width gives the window's width in meters.
func (w *Window) Width() units.Metres { return units.Metres(w.A.Distance(w.B)) }

// Area gives the area of the opening, below a ceiling.
func (w *Window) Area(ceiling units.Metres) units.SquareMetres {
	return units.SquareMetres(float64(w.Width()) * max(0, float64(w.head(ceiling)-w.Sill)))
}

// head is the window's head where only glass below the ceiling counts.
func (w *Window) head(ceiling units.Metres) units.Metres {
	if ceiling > 0 {
		return min(w.Head, ceiling)
	}
	return w.Head
}

// Area gives the area of the opening.
func (r *Rooflight) Area() units.SquareMetres { return units.SquareMetres(r.Width * r.Length) }

// Glazing gives the area of all windows of the space below its ceiling, of the
// openings, in m2.
func (s *Space) Glazing() (sum units.SquareMetres) {
	for i := range s.Windows {
		sum += s.Windows[i].Area(s.Ceiling)
	}
	return sum
}

const radians = math.Pi / 180

// frame is a coordinate system on the plan: u along a window, v into the room.
type frame struct{ origin, along geom.Point }

func (w *Window) frame() frame {
	return frame{w.A, w.B.Sub(w.A).Times(1 / max(w.A.Distance(w.B), geom.Coincident))}
}

func (r *Rooflight) frame() frame {
	sin, cos := math.Sincos(r.Turn * radians)
	return frame{r.At, geom.Pt(cos, sin)}
}

// in gives a point of the plan in the frame, out a point of the frame on the
// plan.
func (f frame) in(p geom.Point) geom.Point {
	d := p.Sub(f.origin)
	return geom.Pt(f.along.Dot(d), f.along.Cross(d))
}

func (f frame) out(p geom.Point) geom.Point {
	return f.origin.Add(geom.Pt(f.along.X*p.X-f.along.Y*p.Y, f.along.Y*p.X+f.along.X*p.Y))
}

func (f frame) segment(s geom.Segment) geom.Segment { return geom.Segment{A: f.in(s.A), B: f.in(s.B)} }

func (f frame) box(b geom.Box) geom.Polygon { return b.Polygon().Map(f.out) }

// clip gives the part of a segment that lies in a box; false where that is no
// more than a point.
func clip(s geom.Segment, b geom.Box) (geom.Segment, bool) {
	from, to := 0.0, 1.0
	d := s.B.Sub(s.A)
	for _, side := range [4][2]float64{{-d.X, s.A.X - b.Min.X}, {d.X, b.Max.X - s.A.X}, {-d.Y, s.A.Y - b.Min.Y}, {d.Y, b.Max.Y - s.A.Y}} {
		switch p, q := side[0], side[1]; {
		case p == 0 && q < 0:
			return geom.Segment{}, false
		case p < 0:
			from = max(from, q/p)
		case p > 0:
			to = min(to, q/p)
		}
	}
	if (to-from)*s.Length() <= geom.Coincident {
		return geom.Segment{}, false
	}
	return geom.Segment{A: s.At(from), B: s.At(to)}, true
}
