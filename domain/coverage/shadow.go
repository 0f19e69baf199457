package coverage

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Wall is what stands in the line of sight, up to a height; Top +Inf for one
// that reaches the ceiling.
type Wall struct {
	A, B geom.Point
	Top  float64
}

// Walls gives what a storey's plan puts in the way of sight. Glass stops heat as
// walls do. A door counts as a wall, or as nothing where doors stand open; a gap
// never is in the way, a boundary neither. A partition that states no height
// reaches the ceiling here; NewRoom takes the limit for it.
func Walls(p *domain.Plan, doorsOpen bool) []Wall {
	var out []Wall
	for i := range p.Walls {
		w := &p.Walls[i]
		if w.Kind == domain.Boundary || w.A == w.B {
			continue
		}
		top := math.Inf(1)
		if w.Kind == domain.Partition && w.Height > 0 {
			top = float64(w.Height)
		}
		out = append(out, pieces(w, top, doorsOpen)...)
	}
	return out
}

// pieces gives what stays of a wall beside its free openings.
func pieces(w *domain.Wall, top float64, doorsOpen bool) []Wall {
	parts := []geom.Segment{w.Line()}
	for j := range w.Openings {
		o := &w.Openings[j]
		if o.Kind != domain.Gap && (o.Kind != domain.Door || !doorsOpen) {
			continue
		}
		parts = cut(parts, w.Line(), w.Span(o))
	}
	out := make([]Wall, len(parts))
	for i, s := range parts {
		out[i] = Wall{s.A, s.B, top}
	}
	return out
}

// cut takes a stretch of a line out of pieces of it.
func cut(parts []geom.Segment, line, out geom.Segment) []geom.Segment {
	var kept []geom.Segment
	_, from := line.Nearest(out.A)
	_, to := line.Nearest(out.B)
	for _, s := range parts {
		_, a := line.Nearest(s.A)
		_, b := line.Nearest(s.B)
		if before := min(b, from); before > a {
			kept = append(kept, geom.Segment{A: s.A, B: line.At(before)})
		}
		if after := max(a, to); after < b {
			kept = append(kept, geom.Segment{A: line.At(after), B: s.B})
		}
	}
	return kept
}

// ShadowFactor gives how much larger than a partition its shadow's far edge is,
// seen from the sensor: k = (hs - ht)/(hs - hp) for a sensor at hs, a target at
// ht and a partition up to hp. 1 where the partition hides nothing (hp <= ht),
// +Inf where it hides all behind it (hp >= hs).
func ShadowFactor(sensor, target, top float64) float64 {
	switch {
	case top <= target:
		return 1
	case top >= sensor:
		return math.Inf(1)
	}
	return (sensor - target) / (sensor - top)
}

// ShadowLength gives how far behind a partition at a distance d its shadow
// reaches along the line of sight: d (k - 1) = d (hp - ht)/(hs - hp).
func ShadowLength(d, sensor, target, top float64) float64 {
	return d * (ShadowFactor(sensor, target, top) - 1)
}

// ShadowArea gives the area of a partition's shadow on the target's plane, m2:
// 0.5 |(A - s) x (B - s)| (k2 - 1).
func ShadowArea(s, a, b geom.Point, k float64) float64 {
	return 0.5 * math.Abs(a.Sub(s).Cross(b.Sub(s))) * (k*k - 1)
}
