package sequence

import (
	"encoding/binary"
	"math"
)

// AppendKey appends what tells this state from another, times counted from now:
// two states with the same key do the same from here on, but for what goes by the
// clock and the calendar. Causes and counts of messages are left out.
func (s *State) AppendKey(b []byte) []byte {
	for i := range s.loads {
		b = s.loads[i].appendKey(b, s.now)
	}
	for i := range s.groups {
		b = append(b, byte(s.groups[i].phase)<<1|flags(s.groups[i].entered))
	}
	for i := range s.sensors {
		k := &s.sensors[i]
		b = append(b, flags(k.occupied, k.quiet, k.silent))
	}
	b = append(b, flags(s.dark, s.offline, s.emergency, s.demand, s.called))
	b = append(b, s.mode...)
	b = append(b, '/')
	b = append(b, s.partition...)
	b = appendLevel(b, s.reading)
	for j := range s.missed {
		b = append(b, flags(s.missed[j] != 0))
	}
	for i, t := range s.timers {
		if t != Never && !s.ofClock(i) {
			b = binary.AppendUvarint(b, uint64(i))
			b = binary.AppendVarint(b, int64(t-s.now))
		}
	}
	return b
}

// ofClock tells that a timer's slot waits for a time of day.
func (s *State) ofClock(slot int) bool {
	first, last := s.schedSlot(0, 0), s.watchSlot(0)
	return slot >= first && slot < last && (slot-first)%slotsPerSched != schedAsks || slot >= s.lineSlot(0) && slot < s.modeSlot()
}

func (l *loadState) appendKey(b []byte, now Time) []byte {
	b = l.level.appendKey(b, now)
	b = l.day.appendKey(b, now)
	b = l.cap.appendKey(b, now)
	for _, v := range [...]float64{l.requested, l.last, l.raw, l.lock, l.emergency, l.beforeAV} {
		b = appendLevel(b, v)
	}
	if left := l.relight - now; left >= 0 {
		b = binary.AppendVarint(b, int64(left))
		b = appendLevel(b, l.relightTo)
	}
	b = binary.AppendVarint(b, int64(l.lockBy))
	b = binary.AppendVarint(b, int64(l.byAV))
	b = binary.AppendVarint(b, int64(l.sweptBy))
	return append(b, flags(l.dimmedOut, l.warned, l.claimed, l.scheduled, l.suspended, l.swept && now < l.sweptUntil, l.deferred, l.handOff),
		flags(l.yielded, l.ramping)|l.override<<2)
}

func (r *ramp) appendKey(b []byte, now Time) []byte {
	b = appendLevel(b, r.to)
	if left := r.t0 + r.dur - now; left > 0 && r.from != r.to {
		b = appendLevel(b, r.at(now))
		b = binary.AppendVarint(b, int64(left))
	}
	return append(b, '.')
}

func appendLevel(b []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(v)))
}

func flags(of ...bool) (n byte) {
	for i, v := range of {
		if v {
			n |= 1 << i
		}
	}
	return n
}
