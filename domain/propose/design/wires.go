package design

import (
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/electrical"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// pair proposes a thicker control wire for a new 0-10 V pair on which the usual
// size would let the voltage rise by more than is advised. It reckons with a pair
// that is looped from the controller to the nearest luminaire and on to the next,
// along the walls; what is not on the plan is left alone.
func (d *draft) pair(id domain.ID) {
	l := d.r.Design.Load(id)
	if !d.lay.drawn || l == nil || l.Dimming != equipment.Analog || l.PairWire != "" || l.PairLength > 0 {
		return
	}
	usual := equipment.UsualWire(d.p.Units)
	if w := d.wireFor(d.taps(l), usual); w != usual {
		d.set("loads/"+string(id), "pair_wire", string(w))
		d.adds("%s: control pair of %s, since its luminaires lie far apart", l.Tag, w)
	}
}

// wireFor gives the thinnest wire, from the usual one on and of its series, that
// keeps the rise within what is advised; the thickest where none does.
func (d *draft) wireFor(taps []electrical.Tap, usual equipment.Wire) equipment.Wire {
	most := math.Min(d.limit(domain.PairRiseAdvice), d.limit(domain.PairRise))
	metric := strings.HasSuffix(string(usual), "mm2")
	best := usual
	sizes := equipment.Wires()
	for _, w := range sizes[slices.Index(sizes, usual):] {
		ohm, err := electrical.Wire(w).Resistance()
		if err != nil || strings.HasSuffix(string(w), "mm2") != metric {
			continue
		}
		if best = w; units.AtMost(electrical.RiseShare(electrical.LadderRise(ohm, taps)), most) {
			break
		}
	}
	return best
}

// taps gives the way of a load's pair over its luminaires.
func (d *draft) taps(l *domain.Load) []electrical.Tap {
	dev, lum := d.r.Design.Device(l.Controller), d.p.Luminaire(l.Luminaire)
	if dev == nil || dev.At == nil || lum == nil {
		return nil
	}
	var left []geom.Point
	for _, f := range d.r.Fixtures {
		if f.Load == l.ID {
			left = append(left, f.At)
		}
	}
	each, _ := lum.ControlCurrent()
	current := units.Milliamps(float64(each) * float64(lum.DriverCount()*l.Count) / float64(max(1, len(left))))
	factor, extra, here := d.limit(domain.PairRouteFactor), d.limit(domain.PairDrop), *dev.At
	var out []electrical.Tap
	for len(left) > 0 {
		next, least := 0, math.Inf(1)
		for i, p := range left {
			if way := math.Abs(p.X-here.X) + math.Abs(p.Y-here.Y); way < least {
				next, least = i, way
			}
		}
		out = append(out, electrical.Tap{Run: units.Metres(least*factor + extra), Current: current})
		extra, here = 0, left[next]
		left[next] = left[len(left)-1]
		left = left[:len(left)-1]
	}
	return out
}
