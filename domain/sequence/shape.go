package sequence

import (
	"encoding/binary"
	"math"
	"math/bits"
	"slices"
)

// AppendShape appends what a state is like, more coarsely than AppendKey: levels
// by the class that the caller gives them, fades as if they had ended, timers by
// the order in which they end and by the power of two of what is left of them,
// and the clock by which of its times comes next. There are finitely many shapes,
// so that an exploration ends; two states of one shape need not do the same to
// the second.
func (s *State) AppendShape(b []byte, class func(load int, level float64) byte) []byte {
	for i := range s.loads {
		b = s.appendLoadShape(b, i, class)
	}
	for i := range s.groups {
		b = append(b, byte(s.groups[i].phase))
	}
	for i := range s.sensors {
		b = append(b, packed(s.sensors[i].occupied, s.sensors[i].silent))
	}
	b = append(b, packed(s.dark, s.offline, s.emergency, s.demand))
	b = append(b, s.mode...)
	b = append(b, '/')
	b = append(b, s.partition...)
	b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(s.reading)))
	for i := range s.p.intents {
		if c := &s.p.intents[i].cond; c.window {
			b = append(b, packed(s.inWindow(c)))
		}
	}
	for _, at := range s.missed {
		b = append(b, packed(at != 0))
	}
	return s.appendTimerShape(b)
}

func (s *State) appendLoadShape(b []byte, i int, class func(load int, level float64) byte) []byte {
	l := &s.loads[i]
	relights := s.now <= l.relight && l.relightTo > 0
	b = append(b, class(i, l.requested), class(i, l.last), class(i, l.lock), class(i, l.beforeAV), byte(math.Round(100*l.raw)), byte(math.Round(100*l.cap.to)), l.override,
		packed(l.dimmedOut, l.warned, l.claimed, l.scheduled, l.suspended, l.swept, l.deferred, l.handOff),
		packed(l.yielded, l.ramping, relights, l.day.to < 1, l.swept && l.sweptBy >= 0 && s.sweptStill(l)))
	if relights {
		b = append(b, class(i, l.relightTo))
	}
	return b
}

func packed(of ...bool) byte {
	n := byte(0)
	for i, v := range of {
		if v {
			n |= 1 << i
		}
	}
	return n
}

// appendTimerShape appends the timers that run in the order in which they end,
// those that end together by their slots, and the clock's next one.
func (s *State) appendTimerShape(b []byte) []byte {
	var few [16]int
	running := few[:0]
	clock := s.schedSlot(0, 0)
	next, nextAt := -1, Never
	for i, t := range s.timers {
		switch {
		case t == Never:
		case i < clock || i >= s.modeSlot() || s.isWatch(i) || s.asks(i):
			running = append(running, i)
		case t < nextAt:
			next, nextAt = i, t
		}
	}
	slices.SortFunc(running, func(x, y int) int {
		if s.timers[x] != s.timers[y] {
			if s.timers[x] < s.timers[y] {
				return -1
			}
			return 1
		}
		return x - y
	})
	before := Time(-1)
	for _, i := range running {
		t := s.timers[i]
		together := byte(0)
		if t == before {
			together = 0x80
		}
		before = t
		b = append(b, byte(i), byte(i>>8), together|byte(bits.Len64(uint64((t-s.now)/Second))))
	}
	return append(b, byte(next), byte(next>>8))
}

func (s *State) isWatch(slot int) bool { return slot >= s.watchSlot(0) && slot < s.lineSlot(0) }

// asks tells that a timer is that of a schedule that asks again.
func (s *State) asks(slot int) bool {
	first := s.schedSlot(0, 0)
	return slot >= first && slot < s.watchSlot(0) && (slot-first)%slotsPerSched == schedAsks
}

// Asked gives why a load is asked for its level, and why it warns; Intent is -1
// where nothing did.
func (s *State) Asked(l int) (level, warning Cause) {
	return s.loads[l].why[partLevel], s.loads[l].why[partWarning]
}

// Overridden tells that light which a person brought up after a schedule's off
// runs to its end.
func (s *State) Overridden(l int) bool { return s.loads[l].override == overrideRuns }
