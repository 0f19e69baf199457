package daylight

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Luminaire is one luminaire by its outline on the plan: Length along x and
// Width along y before it is turned. One without a size is a point.
type Luminaire struct {
	ID, Load      domain.ID
	At            geom.Point // its middle
	Length, Width units.Metres
	Turn          float64 // degrees, counterclockwise
	Watts         units.Watts
	General       bool // general lighting, which is what codes count
}

// Standing is how a luminaire stands to the zones of a room.
type Standing struct {
	Toplit, Primary, Secondary float64 // share of its outline in each, 0 to 1
}

// Where tells in which way something is in a zone.
type Where string

// The ways.
const (
	Apart     Where = "outside"
	Straddles Where = "straddles"
	Inside    Where = "inside"
)

// slight is the share of a luminaire under which it counts as none: rounding.
const slight = 1e-6

// WhereOf names a share of a luminaire.
func WhereOf(share float64) Where {
	switch {
	case share <= slight:
		return Apart
	case share >= 1-slight:
		return Inside
	}
	return Straddles
}

// Stands gives how a luminaire stands to the zones, exact by areas.
func (z *Zones) Stands(l *Luminaire) Standing {
	return Standing{z.Toplit.share(l), z.Primary.share(l), z.Secondary.share(l)}
}

// share gives which part of a luminaire's outline is in the zone.
func (z *Zone) share(l *Luminaire) (sum float64) {
	a, b := float64(l.Length)/2, float64(l.Width)/2
	if a*b <= geom.NoArea/4 {
		for _, p := range z.Parts {
			if p.Contains(l.At) {
				return 1
			}
		}
		return 0
	}
	sin, cos := math.Sincos(l.Turn * radians)
	f, box := frame{l.At, geom.Pt(cos, sin)}, geom.Box{Min: geom.Pt(-a, -b), Max: geom.Pt(a, b)}
	around := f.box(box).Bounds()
	for _, p := range z.Parts {
		if !p.Bounds().Touches(around) {
			continue
		}
		for i, ring := range p.Rings() {
			area := areaIn(ring, f, box)
			if i > 0 {
				area = -area
			}
			sum += area
		}
	}
	return max(0, min(1, sum/(4*a*b)))
}

// areaIn gives the area of a ring within a box of a frame, by clipping it on
// each side in turn (Sutherland and Hodgman); edges that run back on the box's
// side enclose nothing.
func areaIn(ring []geom.Point, f frame, box geom.Box) float64 {
	points := make([]geom.Point, len(ring))
	for i, p := range ring {
		points[i] = f.in(p)
	}
	for _, side := range []struct {
		normal geom.Point
		most   float64
	}{{geom.Pt(1, 0), box.Max.X}, {geom.Pt(-1, 0), -box.Min.X}, {geom.Pt(0, 1), box.Max.Y}, {geom.Pt(0, -1), -box.Min.Y}} {
		var kept []geom.Point
		for e := range geom.Edges(points) {
			a, b := side.normal.Dot(e.A)-side.most, side.normal.Dot(e.B)-side.most
			if a <= 0 {
				kept = append(kept, e.A)
			}
			if a < 0 && b > 0 || a > 0 && b < 0 {
				kept = append(kept, e.At(a/(a-b)))
			}
		}
		points = kept
	}
	return math.Abs(geom.SignedArea(points))
}

// Tally is what of the general lighting counts to each zone.
type Tally struct {
	Toplit, Primary, Secondary Counted
}

// Counted is the general lighting that counts to one zone.
type Counted struct {
	Watts      units.Watts
	Luminaires int
	Loads      []domain.ID
}

// Tally counts the general lighting of a room to its zones. A luminaire counts
// with all of its watts, to one zone only: where any part of it is, the zone
// before the others in the rules' order (90.1: "wholly or partly inside"), or,
// with HalfCounts, where at least half of it hangs (California, from memory).
func (r *ZoneRules) Tally(z *Zones, luminaires []Luminaire) (t Tally) {
	for i := range luminaires {
		l := &luminaires[i]
		if !l.General {
			continue
		}
		switch r.CountsTo(z, l) {
		case domain.ZoneRoof:
			t.Toplit.add(l)
		case domain.ZoneWindow:
			t.Primary.add(l)
		case domain.ZoneSecondary:
			t.Secondary.add(l)
		}
	}
	return t
}

func (r *ZoneRules) counts(share float64) bool {
	if r.HalfCounts {
		return share >= 0.5-slight
	}
	return share > slight
}

func (c *Counted) add(l *Luminaire) {
	c.Watts += l.Watts
	c.Luminaires++
	for _, id := range c.Loads {
		if id == l.Load {
			return
		}
	}
	c.Loads = append(c.Loads, l.Load)
}
