package energy

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// ClassRule says by what a load's daylight was classed.
type ClassRule string

// The rules, the first that can be told holds.
const (
	ByFactor  ClassRule = "daylight factor under its luminaires"
	ByOpening ClassRule = "rough factor of the windows as drawn"
	ByZone    ClassRule = "zone stated for the load"
)

// Daylit is the daylight of one load and how it was told.
type Daylit struct {
	Class   Penetration
	Rule    ClassRule
	Percent float64 // daylight factor by which it was classed; 0 by ByZone
}

// Lit is a room made ready to tell the daylight of its loads.
type Lit struct {
	space *daylight.Space
	light *daylight.Light // nil: the plan shows no windows, or too little of the room
	bare  float64         // rough daylight factor of its best facade, percent
}

// LitOf reads a room's windows and luminaires from its plan.
func LitOf(p *domain.Project, r *domain.Resolved) *Lit {
	lit := &Lit{space: daylight.NewSpace(p, r, daylight.AssumedOf(p))}
	if lit.space == nil || len(lit.space.Windows)+len(lit.space.Rooflights) == 0 {
		return lit
	}
	in := daylight.InteriorOf(p)
	light, err := daylight.NewLight(lit.space, in)
	if err != nil { // a room whose ceiling is not above its work plane is judged by its stated zones
		return lit
	}
	lit.light = light
	for _, f := range lit.space.Facades() {
		lit.bare = max(lit.bare, openingOf(lit.space, f, in.WorkPlane).Bare())
	}
	return lit
}

// Drawn tells that the plan shows where daylight comes from.
func (lit *Lit) Drawn() bool { return lit.light != nil }

// Of tells the daylight of a load: by the mean daylight factor under its luminaires
// where plan shows windows and luminaires; else, for one in the window zone, by the
// rough factor of the best facade drawn; else by the zone that the designer gave it,
// which is judgment: medium at windows and under rooflights, weak behind.
func (lit *Lit) Of(l *domain.Load) Daylit {
	if lit.light != nil {
		if under := lit.light.Under(l.ID); under.Points > 0 {
			return Daylit{FinishedClass(under.Mean), ByFactor, under.Mean}
		}
		if l.Zone == domain.ZoneWindow && len(lit.space.Windows) > 0 {
			return Daylit{BareClass(lit.bare), ByOpening, lit.bare}
		}
	}
	return byZone(l)
}

func byZone(l *domain.Load) Daylit {
	switch l.Zone {
	case domain.ZoneWindow, domain.ZoneRoof:
		return Daylit{Class: Medium, Rule: ByZone}
	case domain.ZoneSecondary:
		return Daylit{Class: Weak, Rule: ByZone}
	}
	return Daylit{Class: NoDaylight, Rule: ByZone}
}

// openingOf takes a facade's windows as one band: heads and what stands outside are
// means by area. The zone is as wide as the band from its first window to its last
// and a quarter of its depth at each side, and no wider than the room.
func openingOf(s *daylight.Space, f daylight.Facade, task units.Metres) Opening {
	o := Opening{Task: task}
	first := &s.Windows[f.Windows[0]]
	along := first.B.Sub(first.A).Times(1 / max(first.A.Distance(first.B), geom.Coincident))
	band := newExtent()
	head, altitude := 0.0, 0.0
	for _, i := range f.Windows {
		w := &s.Windows[i]
		area := w.Area(s.Ceiling)
		o.Area += area
		head += float64(area) * float64(min(w.Head, s.Ceiling))
		altitude += float64(area) * w.Outside.Altitude
		band.add(along.Dot(w.A), along.Dot(w.B))
	}
	if o.Area <= 0 {
		return o
	}
	o.Head = units.Metres(head / float64(o.Area))
	o.Obstruction = Obstruction(altitude / float64(o.Area))
	wide, deep := newExtent(), newExtent()
	for _, at := range s.Outline.Outer {
		wide.add(along.Dot(at))
		deep.add(along.Cross(at))
	}
	o.Room = units.Metres(deep.length())
	o.Width = units.Metres(min(wide.length(), band.length()+float64(o.Depth())/2))
	return o
}

// extent is a stretch of numbers.
type extent struct{ from, to float64 }

func newExtent() extent { return extent{math.Inf(1), math.Inf(-1)} }

func (e *extent) add(values ...float64) {
	for _, v := range values {
		e.from, e.to = min(e.from, v), max(e.to, v)
	}
}

func (e *extent) length() float64 { return max(0, e.to-e.from) }
