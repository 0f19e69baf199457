package sequence

import (
	"fmt"

	"scopewright/domain"
)

// Acts tells whether pressing, and whether holding, a button of a device has cells.
func (p *Program) Acts(device, button int) (press, hold bool) {
	d := &p.devices[device]
	if button < 1 || button >= len(d.press) {
		return false, false
	}
	return len(d.press[button]) > 0, len(d.hold[button]) > 0
}

// SensorClass gives the same word for presence sensors that do the same: they act
// on the same loads under the same conditions. Empty: the device is none, or acts
// on nothing.
func (p *Program) SensorClass(device int) string {
	d := &p.devices[device]
	if !d.senses || len(d.groups) == 0 {
		return ""
	}
	word := string(d.presence)
	for _, g := range d.groups {
		word += fmt.Sprintf("/%d", g)
		for _, k := range p.groups[g].sensors {
			if k.device == device {
				word += "@" + string(k.when)
			}
		}
	}
	return word
}

// Sensed tells by which kinds of presence sensors a load is acted on.
func (p *Program) Sensed(l int) (occupancy, vacancy bool) {
	for _, g := range p.loads[l].groups {
		for _, k := range p.groups[g].sensors {
			if p.devices[k.device].presence == domain.Vacancy {
				vacancy = true
			} else {
				occupancy = true
			}
		}
	}
	return occupancy, vacancy
}

// Lit tells whether a load burns once its fades have ended.
func (s *State) Lit(l int) bool {
	ld := &s.loads[l]
	switch {
	case s.dark:
		return false
	case ld.locked() >= 0:
		return ld.locked() > 0
	}
	return ld.level.to > 0 && !ld.dimmedOut
}

// Settled gives a load's output once its fades have ended.
func (s *State) Settled(l int) float64 { return s.Output(l, s.Settles(l)) }
