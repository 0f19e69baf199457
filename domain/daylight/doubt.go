package daylight

import "scopewright/domain/geom"

// Doubt is why a room's daylight factors are less sure than usual.
type Doubt string

// The doubts. Reflected light is reckoned as for a near-cube with matt surfaces.
const (
	DeepRoom       Doubt = "deeper than three times its height: light reflected at the back is overstated"
	Partitioned    Doubt = "partitions: the light they reflect and swallow is not reckoned"
	InnerCorners   Doubt = "not one plain shape: reflected light does not reach round corners as reckoned"
	HeightsAssumed Doubt = "sill and head of windows are assumed"
)

// deepRoom is how many times its height a room may be deep for the split flux
// method. Source: EnergyPlus Engineering Reference.
const deepRoom = 3

// Doubts tells why the daylight factors of a room are less sure than usual.
func (l *Light) Doubts() (out []Doubt) {
	depth, assumed := 0.0, false
	for i := range l.windows {
		w := &l.windows[i]
		assumed = assumed || w.Assumed
		for _, p := range l.space.Outline.Outer {
			depth = max(depth, w.in(p).Y)
		}
	}
	if depth > deepRoom*float64(l.space.Ceiling)+geom.OnEdge {
		out = append(out, DeepRoom)
	}
	if len(l.space.Obstructions) > 0 {
		out = append(out, Partitioned)
	}
	if !l.space.Outline.Convex() {
		out = append(out, InnerCorners)
	}
	if assumed {
		out = append(out, HeightsAssumed)
	}
	return out
}
