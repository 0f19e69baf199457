package geom

import (
	"iter"
	"math"
)

// Segment is the straight line from A to B.
type Segment struct{ A, B Point }

// Length gives the segment's length in meters.
func (s Segment) Length() float64 { return s.A.Distance(s.B) }

// Middle gives the point halfway.
func (s Segment) Middle() Point { return s.A.Add(s.B).Times(0.5) }

// At gives the point at the share t of the way from A to B.
func (s Segment) At(t float64) Point { return s.A.Add(s.B.Sub(s.A).Times(t)) }

// Nearest gives the point of the segment that is nearest to p, and its share of
// the way from A to B (0 to 1).
func (s Segment) Nearest(p Point) (Point, float64) {
	along := s.B.Sub(s.A)
	length2 := along.Dot(along)
	if length2 == 0 {
		return s.A, 0
	}
	t := math.Max(0, math.Min(1, p.Sub(s.A).Dot(along)/length2))
	return s.At(t), t
}

// Distance gives the distance in meters from p to the segment.
func (s Segment) Distance(p Point) float64 {
	near, _ := s.Nearest(p)
	return near.Distance(p)
}

// Intersect gives the point where two segments meet. Ends that come within
// Coincident of the other segment count as meeting. Parallel segments have no
// single point and give false; see Overlap.
//
//	   B
//	a--+--b
//	   A
func (s Segment) Intersect(o Segment) (Point, bool) {
	u, v := s.B.Sub(s.A), o.B.Sub(o.A)
	lu, lv := math.Hypot(u.X, u.Y), math.Hypot(v.X, v.Y)
	if lu == 0 || lv == 0 {
		return Point{}, false
	}
	turn := u.Cross(v)
	if math.Abs(turn) <= 1e-12*lu*lv { // parallel: sine of the angle between them
		return Point{}, false
	}
	w := o.A.Sub(s.A)
	t, k := w.Cross(v)/turn, w.Cross(u)/turn
	if t < -Coincident/lu || t > 1+Coincident/lu || k < -Coincident/lv || k > 1+Coincident/lv {
		return Point{}, false
	}
	return s.At(math.Max(0, math.Min(1, t))), true
}

// Overlap gives the stretch that two segments share where they lie on one line
// within tolerance meters, and false where that stretch is no longer than
// tolerance.
func (s Segment) Overlap(o Segment, tolerance float64) (Segment, bool) {
	length := s.Length()
	if length <= tolerance {
		return Segment{}, false
	}
	along := s.B.Sub(s.A).Times(1 / length)
	for _, p := range []Point{o.A, o.B} {
		if math.Abs(along.Cross(p.Sub(s.A))) > tolerance {
			return Segment{}, false
		}
	}
	from, to := o.A.Sub(s.A).Dot(along), o.B.Sub(s.A).Dot(along)
	if from > to {
		from, to = to, from
	}
	from, to = math.Max(0, from), math.Min(length, to)
	if to-from <= tolerance {
		return Segment{}, false
	}
	return Segment{s.At(from / length), s.At(to / length)}, true
}

// Edges walks the edges of a ring, the closing one last.
func Edges(ring []Point) iter.Seq[Segment] {
	return func(yield func(Segment) bool) {
		for i := range ring {
			if !yield(Segment{ring[i], ring[(i+1)%len(ring)]}) {
				return
			}
		}
	}
}

// Edges gives the edges of all rings, the outer one's first.
func (p Polygon) Edges() []Segment {
	var edges []Segment
	for _, ring := range p.Rings() {
		for s := range Edges(ring) {
			edges = append(edges, s)
		}
	}
	return edges
}
