package sequence

import (
	"encoding/binary"
	"math"
)

// AppendKey appends what tells this state from another, times counted from now:
// two states with the same key do the same from here on, apart from the clock.
// Messages, causes and the clock are left out, timers of the clock too.
func (s *State) AppendKey(b []byte) []byte {
	f := func(v float64) { b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(v))) }
	bits := func(of ...bool) {
		n := byte(0)
		for i, v := range of {
			if v {
				n |= 1 << i
			}
		}
		b = append(b, n)
	}
	for i := range s.loads {
		l := &s.loads[i]
		f(l.level.at(s.now))
		f(l.level.to)
		f(l.requested)
		f(l.last)
		f(l.day.to)
		f(l.raw)
		f(l.cap.to)
		f(l.lock)
		f(l.beforeAV)
		bits(l.dimmedOut, l.warned, l.claimed, l.scheduled, l.suspended, l.swept, l.deferred, l.handOff)
		bits(l.yielded, l.ramping, s.now <= l.relight)
		b = append(b, l.override)
	}
	for i := range s.groups {
		b = append(b, byte(s.groups[i].phase))
	}
	for i := range s.sensors {
		bits(s.sensors[i].occupied, s.sensors[i].silent)
	}
	bits(s.dark, s.offline, s.emergency, s.demand)
	b = append(b, s.mode...)
	b = append(b, '/')
	b = append(b, s.partition...)
	f(s.reading)
	for i, t := range s.timers[:s.schedSlot(0, 0)] {
		if t != Never {
			b = append(b, byte(i), byte(i>>8))
			b = binary.LittleEndian.AppendUint64(b, uint64(t-s.now))
		}
	}
	return b
}
