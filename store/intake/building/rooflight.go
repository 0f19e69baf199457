package building

import (
	"math"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Rooflight is an opening in a roof as a plan shows it: a rectangle at the height
// of the ceiling. Width runs along x and Length along y before it is turned.
type Rooflight struct {
	At            geom.Point
	Width, Length units.Metres
	Turn          float64 // degrees counterclockwise, 0 to under 90
	Glass         float64 // diffuse transmittance, 0 where the file says nothing
	Space         string  // key of the space beneath
}

// rectangular is the share of the smallest rectangle around it that a shape fills
// at least to be called one. Common practice, no published source.
const rectangular = 0.98

// RooflightOf gives the rectangle that stands for a shape on the plan: the
// smallest one around it by one of its sides, drawn smaller to the same area where
// it is no rectangle. Corners are in order around it, either way. False for what has no area.
func RooflightOf(corners []geom.Point) (l Rooflight, exact, ok bool) {
	shape := geom.Polygon{Outer: corners}
	area := shape.Area()
	if len(corners) < 3 || !(area >= geom.NoArea) {
		return l, false, false
	}
	best := math.Inf(1)
	for s := range geom.Edges(corners) {
		if s.Length() < geom.Coincident {
			continue
		}
		along := s.B.Sub(s.A).Times(1 / s.Length())
		if one := around(corners, along); float64(one.Width*one.Length) < best-geom.NoArea {
			l, best = one, float64(one.Width*one.Length)
		}
	}
	exact = area >= rectangular*best
	if !exact {
		shrink := units.Metres(math.Sqrt(area / best))
		l.Width, l.Length = l.Width*shrink, l.Length*shrink
	}
	return l, exact, l.At.Finite() && l.Width > 0 && l.Length > 0
}

// around gives the rectangle around points with a side along a direction.
func around(points []geom.Point, along geom.Point) Rooflight {
	turn := math.Atan2(along.Y, along.X)
	for turn < 0 {
		turn += math.Pi / 2
	}
	turn = math.Mod(turn, math.Pi/2)
	if math.Pi/2-turn < 1e-7 { // as good as along the axis
		turn = 0
	}
	sin, cos := math.Sincos(turn)
	turned := make([]geom.Point, len(points))
	for i, p := range points {
		turned[i] = geom.Pt(p.X*cos+p.Y*sin, p.Y*cos-p.X*sin)
	}
	box, _ := geom.BoundsOf(turned...)
	at := box.Center()
	return Rooflight{At: geom.Pt(at.X*cos-at.Y*sin, at.X*sin+at.Y*cos), Width: units.Metres(box.Width()), Length: units.Metres(box.Height()),
		Turn: math.Round(turn*180/math.Pi*100) / 100}
}

// diffuseShare is the diffuse transmittance of clear glass over that at normal
// incidence. Rivero's curve (1958), 1.018 cos i (1 + sin^3 i) of a nominal value,
// gives 1.018 at normal incidence and 0.8786 over a uniform hemisphere.
const diffuseShare = 0.8786 / 1.018

// Diffuse turns a visible transmittance at normal incidence, as building models
// state it, into the diffuse one that daylight is reckoned with. Values out of
// the range above 0 to 1 give 0: not stated.
func Diffuse(normal float64) float64 {
	if !(normal > 0 && normal <= 1) {
		return 0
	}
	return math.Round(normal*diffuseShare*1000) / 1000
}
