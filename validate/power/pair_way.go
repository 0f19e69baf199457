package power

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/electrical"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// pair is the 0-10 V pair of one output: what flows in it and how long it is.
type pair struct {
	drivers int
	ma      units.Milliamps
	lowest  units.Level // that its drivers dim to
	length  units.Metres
	taps    []electrical.Tap // as drawn; nil: the length is stated
	wire    equipment.Wire   // the thinnest of its loads
	assumed bool             // the wire
	guessed bool             // the current of some drivers
}

// anyPairStated tells that some load states the length of its pair.
func anyPairStated(f *rule.Facts) bool {
	for i := range f.Loads {
		if f.Loads[i].PairLength > 0 {
			return true
		}
	}
	return false
}

// pairOf gives the pair of an output, nil where it has none or where its length
// is neither stated nor drawn.
func pairOf(f *rule.Facts, d *rule.Device, loads []*rule.Load) *pair {
	p := pair{lowest: 100}
	for _, l := range loads {
		if l.Dimming != equipment.Analog || l.Lum == nil || l.Count == 0 {
			continue
		}
		p.length = max(p.length, l.PairLength)
		p.lowest = min(p.lowest, l.Lum.DimsTo)
		if w, assumed := l.Pair(f.Project.Units); p.wire == "" || ohm(w) > ohm(p.wire) {
			p.wire, p.assumed = w, assumed
		}
	}
	if p.wire == "" || p.length == 0 && (d.Device.At == nil || len(f.Room.Fixtures) == 0) {
		return nil
	}
	ma, drivers, guessed := currents(loads)
	p.ma, p.drivers, p.guessed = units.Milliamps(ma), drivers, guessed
	if p.length == 0 && !p.draw(f, d, loads) {
		return nil
	}
	return &p
}

func ohm(w equipment.Wire) float64 {
	r, err := electrical.Wire(w).Resistance()
	if err != nil {
		return 0 // of a size that is not known nothing is said
	}
	return r
}

// rise gives how much higher the voltage is at the last driver: through the taps
// as drawn, or with the drivers at even distances along a stated length.
func (p *pair) rise(w equipment.Wire) units.Volts {
	if p.taps != nil {
		return electrical.LadderRise(ohm(w), p.taps)
	}
	return electrical.PairRise(p.ma, ohm(w), p.length, p.drivers)
}

// draw goes from the controller to the nearest luminaire, from there to the
// next, along the walls: each way is longer by a factor of the limits, and the
// first by what goes up and down. It gives false where a load of the output has
// no luminaire on the plan.
func (p *pair) draw(f *rule.Facts, d *rule.Device, loads []*rule.Load) bool {
	type stop struct {
		at geom.Point
		ma units.Milliamps
	}
	var stops []stop
	for _, l := range loads {
		ma, _, _ := currents([]*rule.Load{l})
		first := len(stops)
		for i := range f.Room.Fixtures {
			if x := &f.Room.Fixtures[i]; x.Load == l.ID && ma > 0 {
				stops = append(stops, stop{at: x.At})
			}
		}
		if ma > 0 && len(stops) == first {
			return false
		}
		for i := first; i < len(stops); i++ {
			stops[i].ma = units.Milliamps(ma / float64(len(stops)-first))
		}
	}
	factor, extra := f.Limit(domain.PairRouteFactor), f.Limit(domain.PairDrop)
	here := *d.Device.At
	for len(stops) > 0 {
		next, least := 0, math.Inf(1)
		for i := range stops {
			if way := along(here, stops[i].at); way < least {
				next, least = i, way
			}
		}
		run := units.Metres(least*factor + extra)
		p.taps = append(p.taps, electrical.Tap{Run: run, Current: stops[next].ma})
		p.length, extra = p.length+run, 0
		here = stops[next].at
		stops[next] = stops[len(stops)-1]
		stops = stops[:len(stops)-1]
	}
	return p.taps != nil
}

func along(a, b geom.Point) float64 { return math.Abs(a.X-b.X) + math.Abs(a.Y-b.Y) }
