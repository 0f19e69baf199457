package geom

import "math"

// Point is a place on the plan: meters, x to the right, y up the sheet.
type Point struct{ X, Y float64 }

// Pt is short for Point{x, y}.
func Pt(x, y float64) Point { return Point{X: x, Y: y} }

// Add moves p by the vector q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub gives the vector from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times stretches p, taken as a vector, by k.
func (p Point) Times(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot is the scalar product of p and q as vectors.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross is the z of the vector product: positive where q lies left of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Distance gives the distance between p and q in meters.
func (p Point) Distance(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Near tells whether p and q are one place within tolerance meters.
func (p Point) Near(q Point, tolerance float64) bool { return p.Distance(q) <= tolerance }

// Finite tells whether both coordinates are numbers of at most MaxCoordinate.
func (p Point) Finite() bool {
	return math.Abs(p.X) <= MaxCoordinate && math.Abs(p.Y) <= MaxCoordinate
}
