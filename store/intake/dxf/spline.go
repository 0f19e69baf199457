package dxf

import (
	"math"

	"scopewright/domain/geom"
)

// A spline is flattened into up to mostChords for each stretch between knots
// (a circle of four stretches loses 0.04 % of its area), fewer where it has so
// many stretches that their sum would be more than an outline may have.
const (
	mostChords    = 32
	fewestChords  = 4
	maxDegree     = 11
	maxSplineSize = MaxOutlinePoints / fewestChords
)

// spline is a rational B-spline curve; weights may be nil.
type spline struct {
	degree  int
	knots   []float64
	control []geom.Point
	weights []float64
}

func (s spline) usable() bool {
	if s.degree < 1 || s.degree > maxDegree || len(s.control) <= s.degree || len(s.control) > maxSplineSize ||
		len(s.knots) != len(s.control)+s.degree+1 || s.weights != nil && len(s.weights) != len(s.control) {
		return false
	}
	for i := 1; i < len(s.knots); i++ {
		if !(s.knots[i] >= s.knots[i-1]) {
			return false
		}
	}
	for _, w := range s.weights {
		if !(w > 0) {
			return false
		}
	}
	return true
}

// points gives the curve as points, ends included.
func (s spline) points() []geom.Point {
	var out []geom.Point
	chords := min(mostChords, max(fewestChords, MaxOutlinePoints/len(s.control)))
	for k := s.degree; k < len(s.control); k++ {
		from, to := s.knots[k], s.knots[k+1]
		if to <= from {
			continue
		}
		if len(out) == 0 {
			out = append(out, s.at(k, from))
		}
		for i := 1; i <= chords; i++ {
			out = append(out, s.at(k, from+(to-from)*float64(i)/float64(chords)))
		}
	}
	return out
}

// at evaluates the curve in the stretch behind knot k by de Boor's algorithm
// in homogeneous coordinates.
func (s spline) at(k int, t float64) geom.Point {
	type homogeneous struct{ x, y, w float64 }
	p := s.degree
	var d [maxDegree + 1]homogeneous
	for j := 0; j <= p; j++ {
		i, w := j+k-p, 1.0
		if s.weights != nil {
			w = s.weights[i]
		}
		d[j] = homogeneous{s.control[i].X * w, s.control[i].Y * w, w}
	}
	for r := 1; r <= p; r++ {
		for j := p; j >= r; j-- {
			low, high := s.knots[j+k-p], s.knots[j+1+k-r]
			a := 0.0
			if high > low {
				a = (t - low) / (high - low)
			}
			d[j] = homogeneous{
				x: (1-a)*d[j-1].x + a*d[j].x,
				y: (1-a)*d[j-1].y + a*d[j].y,
				w: (1-a)*d[j-1].w + a*d[j].w,
			}
		}
	}
	if d[p].w == 0 || math.IsNaN(d[p].w) {
		return s.control[k]
	}
	return geom.Point{X: d[p].x / d[p].w, Y: d[p].y / d[p].w}
}
