package daylight

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// PlaceLimits are the numbers by which a sensor's place is judged.
type PlaceLimits struct {
	OpenNearest, OpenFarthest units.Metres // of an open loop from the glass
	OpenAside                 float64      // most degrees between where it faces and the glass
	ClosedView                float64      // view of a closed loop that states none, degrees
	ClosedTask                units.Metres // most of a closed loop from a task and from its zone, level
	RowDepth                  units.Metres // most of a zone's depth from the glass
}

// UsualPlaceLimits gives the values to start from: an open loop about 6 ft from the
// glass, a zone along it for each 10 ft of depth. Common practice, no published source.
func UsualPlaceLimits() PlaceLimits {
	return PlaceLimits{OpenNearest: 1.2192, OpenFarthest: 2.4384, OpenAside: 45, ClosedView: 60, ClosedTask: 1.524, RowDepth: 3.048}
}

// PlaceLimitsOf gives what the limits of a project say of a sensor's place.
func PlaceLimitsOf(p *domain.Project) PlaceLimits {
	length := func(id domain.LimitID) units.Metres { return units.Metres(p.Limits.Value(id)) }
	return PlaceLimits{OpenNearest: length(domain.OpenLoopNearest), OpenFarthest: length(domain.OpenLoopFarthest), OpenAside: p.Limits.Value(domain.OpenLoopAside),
		ClosedView: p.Limits.Value(domain.ClosedLoopView), ClosedTask: length(domain.ClosedLoopTask), RowDepth: length(domain.DaylightRowDepth)}
}

// ViewOf gives the whole angle of a closed loop's view in degrees: what its type states,
// or the limit.
func (l *PlaceLimits) ViewOf(d *Sensor) float64 {
	if d.View > 0 {
		return d.View
	}
	return l.ClosedView
}

// PlaceFault is what is wrong with a sensor's place or kind.
type PlaceFault string

// The faults of an open loop, then those of a closed one, then those of either.
const (
	NoGlass     PlaceFault = "no glass in sight"
	TooNear     PlaceFault = "too near to the glass"
	TooFar      PlaceFault = "too far from the glass"
	FacesAway   PlaceFault = "faces away from the glass"
	LampsInView PlaceFault = "lamps between it and the glass"
	GlassInView PlaceFault = "glass in view"
	NoTask      PlaceFault = "no task beneath"
	ApartZone   PlaceFault = "not above its zone"
	TwoFacades  PlaceFault = "governs lamps of two facades"
	DeepRow     PlaceFault = "governs lamps too deep in the room"
)

// Fault is one fault with its numbers.
type Fault struct {
	Kind            PlaceFault
	Measured, Limit float64
	Unit            string
	Window          int       // of the space; -1: none
	Load            domain.ID // empty: all that it governs
}

// OfPlace tells that another place of the sensor may mend the fault: what it governs
// is not of that kind.
func (f *Fault) OfPlace() bool { return f.Kind != TwoFacades && f.Kind != DeepRow }

// Judge tells what is wrong with a sensor's place, by its kind. tasks are where
// people sit; where none are known, a closed loop's task is not judged. An open loop
// that states no direction is not judged by one. Common practice, no published
// source.
func (s *Space) Judge(d *Sensor, tasks []geom.Point, lim *PlaceLimits) []Fault {
	if d.Loop == domain.ClosedLoop {
		return s.judgeClosed(d, tasks, lim)
	}
	return s.judgeOpen(d, lim)
}

func (s *Space) judgeOpen(d *Sensor, lim *PlaceLimits) (out []Fault) {
	var v *Sight
	for _, x := range s.Sights(d) {
		if !x.Hidden {
			v = &x
			break
		}
	}
	if v == nil {
		return []Fault{{Kind: NoGlass, Limit: 1, Unit: "windows", Window: -1}}
	}
	far := float64(v.Distance)
	switch {
	case !units.AtMost(far, float64(lim.OpenFarthest)):
		out = append(out, Fault{TooFar, far, float64(lim.OpenFarthest), "m", v.Window, ""})
	case !units.AtMost(float64(lim.OpenNearest), far):
		out = append(out, Fault{TooNear, far, float64(lim.OpenNearest), "m", v.Window, ""})
	}
	if d.Facing != nil && !units.AtMost(v.Aside, lim.OpenAside) {
		out = append(out, Fault{FacesAway, v.Aside, lim.OpenAside, "degrees", v.Window, ""})
	}
	if n := s.Between(d, v); n > 0 {
		out = append(out, Fault{LampsInView, float64(n), 0, "luminaires", v.Window, ""})
	}
	return out
}

func (s *Space) judgeClosed(d *Sensor, tasks []geom.Point, lim *PlaceLimits) (out []Fault) {
	view := lim.ViewOf(d)
	for _, v := range s.Sights(d) {
		if v.SeesGlass(view) {
			out = append(out, Fault{GlassInView, v.Steep, view / 2, "degrees", v.Window, ""})
			break
		}
	}
	if len(tasks) == 0 {
		return out
	}
	near := math.Inf(1)
	for _, t := range tasks {
		near = min(near, t.Distance(d.At))
	}
	if !units.AtMost(near, float64(lim.ClosedTask)) {
		out = append(out, Fault{NoTask, near, float64(lim.ClosedTask), "m", -1, ""})
	}
	return out
}

// JudgeLoads tells what is wrong with what a sensor governs as one: loads lit by more
// than one facade, or that together reach deeper into the room than one zone should.
func (l *Light) JudgeLoads(loads []domain.ID, lim *PlaceLimits) []Fault {
	return append(l.judgeFacades(loads), l.space.judgeRow(loads, lim)...)
}

// JudgeSensor tells all that is wrong with a sensor: Judge, and what it governs. An
// open loop is set for each of its loads apart, so that none of them may be too deep
// for itself; a closed one takes all of them as one zone, and hangs over it.
func (l *Light) JudgeSensor(d *Sensor, tasks []geom.Point, loads []domain.ID, lim *PlaceLimits) []Fault {
	out := append(l.space.Judge(d, tasks, lim), l.judgeFacades(loads)...)
	if d.Loop == domain.ClosedLoop {
		return append(append(out, l.space.judgeOver(d, loads, lim)...), l.space.judgeRow(loads, lim)...)
	}
	var deepest []Fault
	for i, id := range loads {
		if one := l.space.judgeRow(loads[i:i+1], lim); len(one) > 0 && (deepest == nil || one[0].Measured > deepest[0].Measured) {
			one[0].Load = id
			deepest = one
		}
	}
	return append(out, deepest...)
}

func (l *Light) judgeFacades(loads []domain.ID) []Fault {
	facades := l.space.Facades()
	if len(facades) < 2 {
		return nil
	}
	if n := len(l.Governs(facades, loads...)); n > 1 {
		return []Fault{{TwoFacades, float64(n), 1, "facades", -1, ""}}
	}
	return nil
}

func (s *Space) judgeRow(loads []domain.ID, lim *PlaceLimits) []Fault {
	from, to, some := units.Metres(0), units.Metres(0), false
	for _, id := range loads {
		r, known := s.Row(id)
		switch {
		case !known:
		case !some:
			from, to, some = r.From, r.To, true
		default:
			from, to = min(from, r.From), max(to, r.To)
		}
	}
	if depth := float64(to - from); !units.AtMost(depth, float64(lim.RowDepth)) {
		return []Fault{{DeepRow, depth, float64(lim.RowDepth), "m", -1, ""}}
	}
	return nil
}

// judgeOver holds a closed loop to the rectangle, along the glass, that the
// luminaires of its loads span.
func (s *Space) judgeOver(d *Sensor, loads []domain.ID, lim *PlaceLimits) []Fault {
	if len(s.Windows) == 0 {
		return nil
	}
	f := s.Windows[0].frame()
	var hang []geom.Point
	for i := range s.Luminaires {
		if x := &s.Luminaires[i]; slices.Contains(loads, x.Load) {
			hang = append(hang, f.in(x.At))
		}
	}
	over, some := geom.BoundsOf(hang...)
	at := f.in(d.At)
	far := math.Hypot(max(0, over.Min.X-at.X, at.X-over.Max.X), max(0, over.Min.Y-at.Y, at.Y-over.Max.Y))
	if !some || units.AtMost(far, float64(lim.ClosedTask)) {
		return nil
	}
	return []Fault{{ApartZone, far, float64(lim.ClosedTask), "m", -1, ""}}
}
