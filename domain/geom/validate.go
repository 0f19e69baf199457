package geom

import "fmt"

// FaultKind names what is wrong with a shape.
type FaultKind string

// Faults of a polygon. HoleOutside covers holes that lie outside the outer ring
// or overlap another hole.
const (
	TooFewPoints FaultKind = "too few points"
	NotFinite    FaultKind = "not a number"
	ZeroLength   FaultKind = "zero length"
	SelfCrossing FaultKind = "crosses itself"
	NoAreaFault  FaultKind = "no area"
	HoleOutside  FaultKind = "hole outside"
	TooTangled   FaultKind = "too tangled"
)

// Fault is one thing wrong with a shape, with its place.
type Fault struct {
	Kind FaultKind
	At   Point
}

// Message says the fault with its place in meters.
func (f Fault) Message() string {
	at := fmt.Sprintf("(%.2f, %.2f) m", f.At.X, f.At.Y)
	switch f.Kind {
	case TooFewPoints:
		return "an outline needs at least three corners"
	case NotFinite:
		return "a corner's coordinate is not a number, or is farther out than 10,000 km"
	case ZeroLength:
		return "two corners in a row are at the same place near " + at
	case SelfCrossing:
		return "the outline crosses itself near " + at
	case HoleOutside:
		return "a hole lies outside the outline or overlaps another hole near " + at
	case NoAreaFault:
		return "the outline encloses no area near " + at
	case TooTangled:
		return ErrTangled.Error()
	}
	return string(f.Kind) + " near " + at
}

// Validate lists what is wrong with the polygon, nothing for a sound one. At
// most one self-crossing is given. Rings that touch at a point are sound.
// Corners within Coincident of each other count as one place.
func (p Polygon) Validate() []Fault {
	var faults []Fault
	for _, ring := range p.Rings() {
		faults = append(faults, ringFaults(ring)...)
	}
	if len(faults) > 0 {
		return faults
	}
	if f, found := p.crossing(); found {
		return []Fault{f}
	}
	if p.Area() < NoArea {
		return []Fault{{NoAreaFault, p.Outer[0]}}
	}
	return p.strayHoles()
}

func ringFaults(ring []Point) (faults []Fault) {
	for _, p := range ring {
		if !p.Finite() {
			return []Fault{{NotFinite, Point{}}}
		}
	}
	if len(ring) < 3 {
		at, _ := BoundsOf(ring...)
		return []Fault{{TooFewPoints, at.Center()}}
	}
	for s := range Edges(ring) {
		if s.A.Near(s.B, Coincident) {
			faults = append(faults, Fault{ZeroLength, s.A})
		}
	}
	return faults
}

// strayHoles presumes that no edges cross, so one inner point decides.
func (p Polygon) strayHoles() (faults []Fault) {
	for i, hole := range p.Holes {
		inside := Polygon{Outer: hole}.LabelPoint()
		stray := !crossesOdd(p.Outer, inside)
		for j, other := range p.Holes {
			stray = stray || j != i && crossesOdd(other, inside)
		}
		if stray {
			faults = append(faults, Fault{HoleOutside, inside})
		}
	}
	return faults
}
