package geom

import "math"

// Grid is a square snapping grid through Origin, turned counterclockwise by
// Angle radians. A Step of zero or less snaps nothing.
type Grid struct {
	Origin Point
	Step   float64 // meters
	Angle  float64
}

// Snap gives the grid's crossing nearest to p.
func (g Grid) Snap(p Point) Point {
	if !(g.Step > 0) {
		return p
	}
	local := p.Rotate(g.Origin, -g.Angle).Sub(g.Origin)
	local = Point{math.Round(local.X/g.Step) * g.Step, math.Round(local.Y/g.Step) * g.Step}
	return g.Origin.Add(local).Rotate(g.Origin, g.Angle)
}
