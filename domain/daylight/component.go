package daylight

import "math"

// pane is an upright rectangle of glass as a point sees it: x along the glass from
// the foot of the point's normal, z above the point, meters.
type pane struct{ x0, x1, z0, z1 float64 }

// SkyComponent gives what an unglazed window shows of the overcast sky to a point
// of the work plane, in percent of the horizontal illuminance outdoors. The window
// is w wide and h high, its sill is in the plane of the point, one jamb is on the
// point's normal to the wall, and the point is d away (all meters, d above 0):
//
//	SC = 3/(14 pi) (b - b' cos c) + 2/(7 pi) asin(sin b sin c) - 1/(7 pi) sin 2c sin b'
//	b = atan(w/d), c = atan(h/d), b' = atan(w/sqrt(d2 + h2))
//
// Other windows are sums and differences of such. 25 % at most. Exact for the CIE
// overcast sky. Source: Walsh 1961, named by Tregenza and Sharples, Daylight
// Algorithms 2.32; the form is from memory and agrees with the integral.
func SkyComponent(w, h, d float64) float64 { return 100 * corner(w, h, d) }

// SkyFactor is SkyComponent for a sky of even luminance, in percent:
// SF = (b - b' cos c)/(2 pi).
func SkyFactor(w, h, d float64) float64 {
	far := math.Hypot(d, h)
	return 100 * (math.Atan(w/d) - math.Atan(w/far)*d/far) / (2 * math.Pi)
}

// corner is SkyComponent as a share; it is odd in w.
func corner(w, h, d float64) float64 {
	far2, wide2 := d*d+h*h, d*d+w*w
	far := math.Sqrt(far2)
	slant := math.Atan(w / far)
	return (1.5*(math.Atan(w/d)-slant*d/far) + 2*math.Asin(w*h/math.Sqrt(wide2*far2)) - 2*h*d/far2*w/math.Sqrt(far2+w*w)) / (7 * math.Pi)
}

// sees gives the sky component of a pane at a distance, a share, unglazed. Glass
// below the point gives none.
func (p pane) sees(d float64) float64 {
	z0, z1 := max(0, p.z0), max(0, p.z1)
	if z1 <= z0 || p.x1 <= p.x0 || d <= 0 {
		return 0
	}
	upper := corner(p.x1, z1, d) - corner(p.x0, z1, d)
	if z0 > 0 {
		upper -= corner(p.x1, z0, d) - corner(p.x0, z0, d)
	}
	return max(0, upper)
}

// rivero gives the transmittance of clear glass at an angle of incidence over its
// nominal one: 1.018 cos i (1 + sin3 i). Of evenly diffuse light 0.8786 of the
// nominal one comes in. Source: Rivero 1958, from memory.
func rivero(cos float64) float64 {
	sin := math.Sqrt(max(0, 1-cos*cos))
	return 1.018 * cos * (1 + sin*sin*sin)
}

// AngleFactor gives the transmittance of clear glass at an angle of incidence in
// degrees, 0 to 90, over its nominal one, which is that at right angles over 1.018:
// 1.018 cos i (1 + sin3 i). Source: Rivero 1958, from memory.
func AngleFactor(incidence float64) float64 { return rivero(math.Cos(incidence * radians)) }

// Points and weights of Gauss and Legendre's rule of order 5 on 0 to 1.
var gauss = [5][2]float64{
	{0.04691007703066802, 0.11846344252809454}, {0.23076534494715845, 0.23931433524968324}, {0.5, 0.28444444444444444},
	{0.7692346550528415, 0.23931433524968324}, {0.953089922969332, 0.11846344252809454},
}

// throughGlass is sees with the transmittance falling with the angle of incidence,
// over the nominal one:
//
//	SC = 9/(7 pi) sum ((1 + 2 sin g)/3) T(i) sin g dOmega, dOmega = d dx dz/r3
//
// by Gauss and Legendre's rule on panels no larger than the distance; within 1e-6, a
// ten-thousandth of a percent.
func (p pane) throughGlass(d float64) float64 {
	z0, z1 := max(0, p.z0), max(0, p.z1)
	if z1 <= z0 || p.x1 <= p.x0 || d <= 0 {
		return 0
	}
	side := max(d, 0.1)
	nx, nz := int(math.Ceil((p.x1-p.x0)/side)), int(math.Ceil((z1-z0)/side))
	dx, dz := (p.x1-p.x0)/float64(nx), (z1-z0)/float64(nz)
	sum := 0.0
	for i := range nx {
		for j := range nz {
			sum += panel(p.x0+float64(i)*dx, z0+float64(j)*dz, dx, dz, d)
		}
	}
	return sum * 9 / (7 * math.Pi)
}

func panel(x0, z0, dx, dz, d float64) (sum float64) {
	for _, gx := range gauss {
		x := x0 + gx[0]*dx
		for _, gz := range gauss {
			z := z0 + gz[0]*dz
			r := math.Sqrt(x*x + z*z + d*d)
			sin := z / r
			sum += gx[1] * gz[1] * (1 + 2*sin) / 3 * rivero(d/r) * sin * d / (r * r * r)
		}
	}
	return sum * dx * dz
}

// fromAbove gives the sky component of a level opening between x0, x1 and y0, y1
// from a point under the origin at a depth h, a share; all meters. byAngle takes
// the transmittance by the angle of incidence. What is farther off than 40 depths is
// left out: under 0.0003 in all.
func fromAbove(x0, x1, y0, y1, h float64, byAngle bool) float64 {
	side := max(h, 0.1)
	x0, x1, y0, y1 = max(x0, -40*side), min(x1, 40*side), max(y0, -40*side), min(y1, 40*side)
	if h <= 0 || x1 <= x0 || y1 <= y0 {
		return 0
	}
	nx, ny := int(math.Ceil((x1-x0)/side)), int(math.Ceil((y1-y0)/side))
	dx, dy := (x1-x0)/float64(nx), (y1-y0)/float64(ny)
	sum := 0.0
	for i := range nx * ny {
		left, low := x0+float64(i%nx)*dx, y0+float64(i/nx)*dy
		for _, gx := range gauss {
			x := left + gx[0]*dx
			for _, gy := range gauss {
				y := low + gy[0]*dy
				r2 := x*x + y*y + h*h
				sin := h / math.Sqrt(r2)
				part := gx[1] * gy[1] * (1 + 2*sin) / 3 * sin * sin / r2
				if byAngle {
					part *= rivero(sin)
				}
				sum += part
			}
		}
	}
	return sum * dx * dy * 9 / (7 * math.Pi)
}
