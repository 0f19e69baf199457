package dxf

import (
	"math"

	"scopewright/domain/geom"
)

// affine maps drawing coordinates: x' = a x + c y + e, y' = b x + d y + f.
type affine struct{ a, b, c, d, e, f float64 }

var same = affine{a: 1, d: 1}

func moved(x, y float64) affine  { return affine{a: 1, d: 1, e: x, f: y} }
func scaled(x, y float64) affine { return affine{a: x, d: y} }

func turned(degrees float64) affine {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	// Quarter turns are what plans hold; without this a mirrored door is off
	// by 1e-14 of its distance from the origin.
	if q := math.Mod(degrees, 90); q == 0 {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	return affine{a: cos, b: sin, c: -sin, d: cos}
}

// after gives the map that applies n first and then m.
func (m affine) after(n affine) affine {
	return affine{
		a: m.a*n.a + m.c*n.b, b: m.b*n.a + m.d*n.b,
		c: m.a*n.c + m.c*n.d, d: m.b*n.c + m.d*n.d,
		e: m.a*n.e + m.c*n.f + m.e, f: m.b*n.e + m.d*n.f + m.f,
	}
}

func (m affine) apply(p geom.Point) geom.Point {
	return geom.Point{X: m.a*p.X + m.c*p.Y + m.e, Y: m.b*p.X + m.d*p.Y + m.f}
}

// size is the factor by which lengths grow, the mean of both directions.
func (m affine) size() float64 { return math.Sqrt(math.Abs(m.a*m.d - m.b*m.c)) }

// finite tells whether the map can be used at all.
func (m affine) finite() bool {
	for _, v := range []float64{m.a, m.b, m.c, m.d, m.e, m.f} {
		if math.IsNaN(v) || math.Abs(v) > maxCoordinate {
			return false
		}
	}
	return true
}

// extruded gives the map from an entity's own plane, whose normal is n, to the
// plan: the "arbitrary axis algorithm" of the format (from memory). A normal of
// (0,0,-1) mirrors x.
func extruded(nx, ny, nz float64) affine {
	length := math.Sqrt(nx*nx + ny*ny + nz*nz)
	if length == 0 || math.IsInf(length, 0) || math.IsNaN(length) {
		return same
	}
	nx, ny, nz = nx/length, ny/length, nz/length
	var ax, ay, az float64
	if math.Abs(nx) < 1.0/64 && math.Abs(ny) < 1.0/64 {
		ax, ay, az = nz, 0, -nx // world y cross normal
	} else {
		ax, ay, az = -ny, nx, 0 // world z cross normal
	}
	l := math.Sqrt(ax*ax + ay*ay + az*az)
	ax, ay, az = ax/l, ay/l, az/l
	return affine{a: ax, b: ay, c: ny*az - nz*ay, d: nz*ax - nx*az}
}
