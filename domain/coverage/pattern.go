package coverage

import (
	"fmt"
	"math"

	"scopewright/domain/units"
)

// Motion is how large a movement a sensor is to notice.
type Motion string

// The motions of NEMA WD 7: a person who walks, and an arm that moves.
const (
	Major Motion = "major"
	Minor Motion = "minor"
)

// HeightRule says what a pattern's stated radius means.
type HeightRule string

// The rules. OnTarget: the radius was stated on the plane of the target, r(h) =
// r0 (h - t)/(h0 - t). OnFloor: it was stated on the floor and the pattern is a
// cone, so that on a plane t it is r0 (h - t)/h0.
const (
	OnTarget HeightRule = "target plane"
	OnFloor  HeightRule = "floor"
)

// Pattern is what a type of sensor sees without walls.
type Pattern struct {
	Major, Minor  units.Metres // radii at StatedAt; Minor 0: not stated
	StatedAt      units.Metres // mounting height at which they hold
	Rule          HeightRule
	Angle         float64      // degrees that it spans; 0 or 360: all around
	Lowest        units.Metres // mounting heights that the type is for; 0: not stated
	Highest       units.Metres
	MostRadius    units.Metres // never beyond; 0: not stated
	TargetOfMinor units.Metres // height at which Minor was stated by the OnTarget rule; 0: WD7Arm
}

// WD7Arm is the height of the arm in the test of minor motion by NEMA WD 7:
// 36 in (as a trade magazine tells it).
const WD7Arm units.Metres = 0.9144

// Radius gives the pattern's radius on a plane at the height of the target,
// meters, for a sensor mounted at a height; 0 for a target that is not below the
// sensor. Outside of the type's range of heights it is refused: a pattern is not
// extrapolated.
func (p Pattern) Radius(m Motion, mounted, target units.Metres) (units.Metres, error) {
	switch {
	case p.Lowest > 0 && mounted < p.Lowest-units.Metres(units.Tolerance):
		return 0, fmt.Errorf("mounted at %s m, lower than the %s m that the type is for", units.Trim(float64(mounted), 2), units.Trim(float64(p.Lowest), 2))
	case p.Highest > 0 && mounted > p.Highest+units.Metres(units.Tolerance):
		return 0, fmt.Errorf("mounted at %s m, higher than the %s m that the type is for", units.Trim(float64(mounted), 2), units.Trim(float64(p.Highest), 2))
	case p.StatedAt <= 0:
		return 0, fmt.Errorf("the type does not state the height at which its pattern holds")
	case mounted <= target:
		return 0, nil
	}
	r := p.Major
	if m == Minor && p.Minor > 0 {
		r = p.Minor
	}
	if p.Rule == OnTarget {
		stated := target
		if m == Minor && p.Minor > 0 && p.TargetOfMinor > 0 {
			stated = p.TargetOfMinor
		}
		if stated >= p.StatedAt {
			return 0, fmt.Errorf("a pattern cannot be stated at %s m for a target above it", units.Trim(float64(p.StatedAt), 2))
		}
		r *= (mounted - target) / (p.StatedAt - stated)
	} else {
		r *= (mounted - target) / p.StatedAt
	}
	if p.MostRadius > 0 {
		r = min(r, p.MostRadius)
	}
	return r, nil
}

// DiscArea gives the area of a disc, m2.
func DiscArea(r units.Metres) units.SquareMetres {
	return units.SquareMetres(math.Pi * float64(r) * float64(r))
}

// SpacingFor gives the distance between the centers of two like discs that share
// a part of the area of one, in meters: the lens's area over the disc's is share.
// share lies between 0 (touching, 2 r) and 1 (0). By bisection to 1e-12 r.
func SpacingFor(r units.Metres, share float64) units.Metres {
	low, high := 0.0, 2.0
	for range 60 {
		d := (low + high) / 2
		if LensArea(1, 1, d)/math.Pi > share {
			low = d
		} else {
			high = d
		}
	}
	return r * units.Metres((low+high)/2)
}

// LensArea gives the area that two discs of radii a and b, d apart, share:
// a2 acos((d2 + a2 - b2)/2da) + b2 acos((d2 + b2 - a2)/2db) - K/2 with
// K = sqrt((-d+a+b)(d+a-b)(d-a+b)(d+a+b)).
func LensArea(a, b, d float64) float64 {
	switch {
	case d >= a+b:
		return 0
	case d <= math.Abs(a-b):
		r := math.Min(a, b)
		return math.Pi * r * r
	}
	k := (-d + a + b) * (d + a - b) * (d - a + b) * (d + a + b)
	return a*a*math.Acos((d*d+a*a-b*b)/(2*d*a)) + b*b*math.Acos((d*d+b*b-a*a)/(2*d*b)) - math.Sqrt(k)/2
}

// CorridorSpacing gives how far apart discs may stand along the middle of a
// corridor without a gap: 2 sqrt(r2 - (w/2)2), 0 where the corridor is too wide.
func CorridorSpacing(r, width units.Metres) units.Metres {
	if width >= 2*r {
		return 0
	}
	return units.Metres(2 * math.Sqrt(float64(r*r-width*width/4)))
}
