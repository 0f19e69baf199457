package sequence

import (
	"math"
	"math/bits"
	"slices"

	"scopewright/domain"
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
	for i := range s.p.intents {
		if c := &s.p.intents[i].cond; c.window {
			b = append(b, flags(s.inWindow(c)))
		}
	}
	for _, at := range s.missed {
		b = append(b, flags(at != 0))
	}
	return s.appendTimerShape(b)
}

func (s *State) appendLoadShape(b []byte, i int, class func(load int, level float64) byte) []byte {
	l := &s.loads[i]
	relights := s.relights(l)
	b = append(b, class(i, l.requested), class(i, l.lock), class(i, l.emergency), byte(math.Round(100*l.raw)), byte(math.Round(100*l.cap.to)), l.override,
		flags(l.dimmedOut, l.warned, l.claimed, l.scheduled, l.suspended, s.sweeps(l), l.deferred, l.handOff),
		flags(l.yielded, l.ramping, relights, l.day.to < 1))
	if s.p.remembers {
		b = append(b, class(i, l.last), class(i, l.beforeAV), byte(l.byAV+1))
	}
	if l.lockBy >= 0 {
		b = append(b, byte(l.lockBy))
	}
	if s.sweeps(l) || l.deferred {
		b = append(b, byte(l.sweptBy))
	}
	if relights {
		b = append(b, class(i, l.relightTo))
	}
	return b
}

// relights tells that people who come just now bring light back.
func (s *State) relights(l *loadState) bool {
	return s.now <= l.relight && l.relightTo > 0 && l.requested <= 0
}

// sweeps tells that a schedule's off still counts for what people light.
func (s *State) sweeps(l *loadState) bool { return l.swept && s.now < l.sweptUntil }

// appendTimerShape appends the timers that run in the order in which they end,
// those that end together by their slots, and the clock's next one.
func (s *State) appendTimerShape(b []byte) []byte {
	var few [16]int
	running := few[:0]
	next, nextAt := -1, Never
	for i, t := range s.timers {
		switch {
		case t == Never:
		case !s.ofClock(i):
			running = append(running, i)
		case t < nextAt:
			next, nextAt = i, t
		}
	}
	slices.SortFunc(running, func(x, y int) int {
		switch tx, ty := s.timers[x], s.timers[y]; {
		case tx < ty:
			return -1
		case tx > ty:
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

// NextTurn gives the next time at which something may become otherwise though
// nothing happens to the room: a timer ends, a condition's time of day begins or
// ends, the night after a schedule's off ends, or people no longer bring light
// back. Never where none comes.
func (s *State) NextTurn() Time {
	next := s.NextTimer()
	for i := range s.p.intents {
		if c := &s.p.intents[i].cond; c.window {
			next = min(next, s.nextClock(c.from), s.nextClock(c.until))
		}
	}
	for i := range s.loads {
		l := &s.loads[i]
		if s.relights(l) {
			next = min(next, l.relight+1)
		}
		if s.sweeps(l) && l.sweptUntil != Never {
			next = min(next, l.sweptUntil)
		}
	}
	return next
}

// nextClock gives when a time of day comes next.
func (s *State) nextClock(t domain.TimeOfDay) Time {
	if at, ok := s.p.cal.next(s.Clock(s.now), domain.EveryDay, t); ok {
		return s.since(at)
	}
	return Never
}

// Asked gives why a load is asked for its level, and why it warns; Intent is -1
// where nothing did.
func (s *State) Asked(l int) (level, warning Cause) {
	return s.loads[l].why[partLevel], s.loads[l].why[partWarning]
}
