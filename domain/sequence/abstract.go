package sequence

import (
	"encoding/binary"
	"fmt"
	"math"

	"scopewright/domain"
)

// StopClock takes the clock away for exploring: schedules and the calendar act
// only when Schedule or a mode's event says so, sensors never fall silent by
// themselves, and conditions on the time of day are asked at the run's start.
func (s *State) StopClock() {
	s.stopped = true
	for slot := s.schedSlot(0, 0); slot < s.modeSlot(); slot++ {
		s.disarm(slot)
	}
}

// Schedule lets a schedule's on or off come.
func (s *State) Schedule(j int, on bool) {
	if s.away() || s.dark {
		return
	}
	if on {
		s.schedStarts(j)
	} else {
		s.schedEnds(j)
	}
}

// Timetable is a schedule that can be let come: the index of its intent, and
// which of its times it has.
type Timetable struct {
	Intent  int
	On, Off bool
}

// Timetables lists the schedules by the index that Schedule takes.
func (p *Program) Timetables() []Timetable {
	out := make([]Timetable, len(p.scheds))
	for j := range p.scheds {
		out[j] = Timetable{p.scheds[j].intent, p.scheds[j].on != nil, p.scheds[j].off != nil}
	}
	return out
}

// Acts tells whether pressing, and whether holding, a button of a device has
// cells; ramps that all of them only raise or lower.
func (p *Program) Acts(device, button int) (press, hold, ramps bool) {
	d := &p.devices[device]
	if button < 1 || button >= len(d.press) {
		return false, false, false
	}
	ramps = true
	for _, list := range [2][]cell{d.press[button], d.hold[button]} {
		for i := range list {
			ramps = ramps && (list[i].verb == domain.Raise || list[i].verb == domain.Lower)
		}
	}
	return len(d.press[button]) > 0, len(d.hold[button]) > 0, ramps
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

// Daylights gives the loads whose daylight intent may switch them off, or all
// where an intent asks for daylight: whether readings matter to on and off.
func (p *Program) Daylights() bool {
	for i := range p.intents {
		if in := &p.intents[i]; in.Kind == domain.ByDaylight && in.MayOff || in.cond.darker > 0 || in.cond.brighter > 0 {
			return true
		}
	}
	return false
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

// AppendAbstract appends what tells this state from another when only the order
// in which timers end matters and not how far off they are.
func (s *State) AppendAbstract(b []byte) []byte {
	for i := range s.loads {
		l := &s.loads[i]
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(l.requested)))
		b = append(b, byte(l.day.to*100), byte(l.cap.to*100), byte(int(l.lock)+1), byte(int(l.emergency)+1), byte(l.lockBy+1), l.override)
		if s.p.remembers {
			b = append(b, byte(l.last), byte(l.beforeAV), byte(l.byAV+1))
		}
		var n uint16
		for k, v := range [...]bool{l.dimmedOut, l.warned, l.claimed, l.scheduled, l.suspended, l.swept && s.now < l.sweptUntil, l.deferred, l.handOff, l.yielded, l.ramping, s.now <= l.relight} {
			if v {
				n |= 1 << k
			}
		}
		b = binary.LittleEndian.AppendUint16(b, n)
	}
	for i := range s.groups {
		b = append(b, byte(s.groups[i].phase)<<1|flags(s.groups[i].entered))
	}
	for i := range s.sensors {
		k := &s.sensors[i]
		b = append(b, flags(k.occupied, k.quiet, k.silent))
	}
	n := byte(0)
	for k, v := range [...]bool{s.dark, s.offline, s.emergency, s.demand, s.called, s.partition == domain.PartitionOpen} {
		if v {
			n |= 1 << k
		}
	}
	b = append(append(b, n), s.mode...)
	b = binary.LittleEndian.AppendUint32(append(b, '/'), math.Float32bits(float32(s.reading)))
	return s.appendOrder(b)
}

// appendOrder appends the running timers in the order in which they end.
func (s *State) appendOrder(b []byte) []byte {
	start := len(b)
	for i, t := range s.timers {
		if t == Never {
			continue
		}
		at := len(b)
		b = append(b, byte(i), byte(i>>8))
		for at > start {
			before := int(b[at-2]) | int(b[at-1])<<8
			if s.timers[before] <= t {
				break
			}
			b[at], b[at+1], b[at-2], b[at-1] = b[at-2], b[at-1], b[at], b[at+1]
			at -= 2
		}
	}
	return b
}
