package sequence

import (
	"time"

	"scopewright/domain"
)

// timer slots of each load
const (
	claimEnds = iota
	overrideEnds
	rampStops
	suspendEnds
	slotsPerLoad
)

// and of each schedule
const (
	schedOn = iota
	schedOff
	schedAsks
	slotsPerSched
)

// ramp is a value that goes in a straight line to another.
type ramp struct {
	from, to float64
	t0, dur  Time
}

func steady(v float64) ramp { return ramp{from: v, to: v} }

func (r *ramp) at(t Time) float64 {
	switch {
	case t >= r.t0+r.dur:
		return r.to
	case t <= r.t0:
		return r.from
	}
	return r.from + (r.to-r.from)*float64(t-r.t0)/float64(r.dur)
}

// toward sends the value on from where it is now.
func (r *ramp) toward(to float64, now, dur Time) { *r = ramp{r.at(now), to, now, dur} }

// loadState is what a load remembers.
type loadState struct {
	level      ramp    // what is asked for, with warnings, as it fades
	requested  float64 // without warnings
	last       float64 // last one above 0
	day        ramp    // daylight factor
	raw        float64 // as read
	dimmedOut  bool    // daylight has switched it off
	cap        ramp
	lock       float64 // -1: none
	lockBy     int     // intent
	emergency  float64 // lock of the emergency signal; -1: none
	warned     bool
	override   uint8 // what the override timer waits for
	claimed    bool  // by a person
	scheduled  bool  // a schedule's level lives
	suspended  bool  // automatic events leave it alone
	swept      bool  // a schedule has put it off and has not put it on again
	sweptBy    int
	sweptUntil Time // from when on the off no longer counts
	deferred   bool // an off of sweptBy waits for the claim's end
	handOff    bool // a person put it off and the hold lives
	yielded    bool // daylight waits until the room was vacant
	ramping    bool
	relight    Time    // until when people bring relightTo back
	relightTo  float64 //
	beforeAV   float64
	byAV       int // intent of the AV command that it stands at; -1: none
	why        [parts]Cause
}

const (
	overrideNone uint8 = iota
	overrideRuns
	overrideWarns
)

type groupPhase uint8

const (
	groupVacant groupPhase = iota
	groupOccupied
	groupDelays
	groupWarns
)

type groupState struct {
	phase   groupPhase
	entered bool // the entry level has had its chance since the room was vacant
}

// sensorState is what a sensor said last. quiet: it has stopped reporting; silent:
// for its watchdog time.
type sensorState struct {
	occupied, quiet, silent, assumed bool
}

func (s *sensorState) in() bool { return s.occupied || s.silent || s.assumed }

// State is a room as it runs.
type State struct {
	// Watch is told of each change of what a load is asked for. nil: nobody.
	Watch func(Change)

	p         *Program
	start     time.Time
	now       Time
	loads     []loadState
	groups    []groupState
	sensors   []sensorState // by device
	timers    []Time
	soonest   Time // no timer ends before it
	mode      domain.Mode
	partition domain.PartitionState
	reading   float64 // latest daylight in the room, lx; -1: never read
	dark      bool    // power is gone
	offline   bool    // the building network is gone
	emergency bool
	demand    bool  // response runs
	called    bool  // the building asks for it, whether that arrives or not
	messages  int   // broadcasts since the run's start
	cause     Cause // of what happens just now
	missed    []Time
}

// Start is how a run begins: an empty, dark room with power and network.
type Start struct {
	Day       string // a weekday, "holiday" or an ISO date; empty: Mon
	Clock     string // "09:00"; empty: 09:00
	Mode      domain.Mode
	Partition domain.PartitionState
}

// NewState gives a state at the usual start.
func (p *Program) NewState() *State {
	s := &State{p: p, loads: make([]loadState, len(p.loads)), groups: make([]groupState, len(p.groups)), sensors: make([]sensorState, len(p.devices)), timers: make([]Time, p.slots), missed: make([]Time, len(p.scheds))}
	_ = s.Begin(Start{}) // the usual start is sound
	return s
}

// Begin puts everything back to a start. A day or a clock that cannot be read is
// an error.
func (s *State) Begin(at Start) error {
	begin, err := s.p.cal.start(at.Day, at.Clock)
	if err != nil {
		return err
	}
	s.start, s.now, s.soonest = begin, 0, Never
	for i := range s.loads {
		s.loads[i] = loadState{level: steady(0), day: steady(1), raw: 1, cap: steady(1), lock: -1, lockBy: -1, emergency: -1, byAV: -1, sweptBy: -1, relight: -1}
		for k := range s.loads[i].why {
			s.loads[i].why[k].Intent = -1
		}
	}
	clear(s.groups)
	clear(s.sensors)
	clear(s.missed)
	for i := range s.timers {
		s.timers[i] = Never
	}
	s.reading, s.dark, s.offline, s.emergency, s.demand, s.called, s.messages = -1, false, false, false, false, false, 0
	if s.partition = at.Partition; s.partition == "" {
		s.partition = domain.PartitionClosed
	}
	if s.mode = at.Mode; s.mode == "" {
		s.mode = s.p.cal.mode(begin)
	}
	s.armClock()
	return nil
}

// CopyInto makes another state of the same program alike, without its Watch.
func (s *State) CopyInto(dst *State) {
	watch, loads, groups, sensors, timers, missed := dst.Watch, dst.loads, dst.groups, dst.sensors, dst.timers, dst.missed
	*dst = *s
	dst.Watch = watch
	dst.loads, dst.groups, dst.sensors, dst.timers, dst.missed = loads, groups, sensors, timers, missed
	copy(dst.loads, s.loads)
	copy(dst.groups, s.groups)
	copy(dst.sensors, s.sensors)
	copy(dst.timers, s.timers)
	copy(dst.missed, s.missed)
}

func (s *State) groupSlot(g int) int   { return g }
func (s *State) loadSlot(l, k int) int { return len(s.groups) + slotsPerLoad*l + k }
func (s *State) schedSlot(j, k int) int {
	return len(s.groups) + slotsPerLoad*len(s.loads) + slotsPerSched*j + k
}
func (s *State) watchSlot(d int) int { return s.schedSlot(len(s.p.scheds), 0) + d }
func (s *State) lineSlot(i int) int  { return s.watchSlot(len(s.p.devices)) + i }
func (s *State) modeSlot() int       { return s.lineSlot(len(s.p.cal.lines)) }

// arm lets a timer end at a time.
func (s *State) arm(slot int, at Time) {
	s.timers[slot] = at
	s.soonest = min(s.soonest, at)
}

func (s *State) disarm(slot int) { s.timers[slot] = Never }

// Now gives the time that the state stands at.
func (s *State) Now() Time { return s.now }

// Clock gives the local clock at a time.
func (s *State) Clock(at Time) time.Time { return s.p.Clock(s.start, at) }

// Clock gives the local clock at a time of a run that started at an instant.
func (p *Program) Clock(start time.Time, at Time) time.Time {
	return start.Add(time.Duration(at) * time.Millisecond)
}

// NextTimer gives when the next timer ends, Never where none runs.
func (s *State) NextTimer() Time {
	next := Never
	for _, t := range s.timers {
		next = min(next, t)
	}
	return next
}

// AdvanceTo lets time pass up to an instant; timers that end on the way act. To
// go back does nothing.
func (s *State) AdvanceTo(t Time) {
	for s.soonest <= t {
		if !s.fireNext(t, true) {
			break
		}
	}
	s.now = max(s.now, t)
}

// advanceBefore is AdvanceTo without the timers that end just then.
func (s *State) advanceBefore(t Time) {
	for s.soonest < t {
		if !s.fireNext(t, false) {
			break
		}
	}
	s.now = max(s.now, t)
}

// fireNext lets the timer act that ends first, the highest class first among
// those that end together.
func (s *State) fireNext(limit Time, with bool) bool {
	next, slot := Never, -1
	for i, t := range s.timers {
		if t < next || t == next && t != Never && s.p.order[i] < s.p.order[slot] {
			next, slot = t, i
		}
	}
	s.soonest = next
	if slot < 0 || next > limit || next == limit && !with {
		return false
	}
	s.now = max(s.now, next)
	s.timers[slot] = Never
	s.expire(slot)
	return true
}

// expire lets the timer of a slot act.
func (s *State) expire(slot int) {
	switch g, l, j, d, c := len(s.groups), s.loadSlot(len(s.loads), 0), s.watchSlot(0), s.lineSlot(0), s.modeSlot(); {
	case slot < g:
		s.groupExpires(slot)
	case slot < l:
		s.loadExpires((slot-g)/slotsPerLoad, (slot-g)%slotsPerLoad)
	case slot < j:
		s.schedExpires((slot-l)/slotsPerSched, (slot-l)%slotsPerSched)
	case slot < d:
		s.watchExpires(slot - j)
	case slot < c:
		s.lineExpires(slot - d)
	default:
		s.timed(ModeEnds, -1, s.p.rank.schedule)
		s.setMode(s.p.cal.mode(s.Clock(s.now)))
	}
}

// timed makes the end of a timer the cause of what happens just now.
func (s *State) timed(what What, intent int, by class) {
	s.cause = Cause{At: s.now, What: what, Timer: what, Device: -1, Intent: intent, Class: by}
}

func (s *State) loadExpires(l, k int) {
	ld := &s.loads[l]
	switch k {
	case claimEnds:
		ld.claimed, ld.handOff = false, false
		if ld.deferred {
			s.sweepAtLast(l)
		}
	case overrideEnds:
		s.overrideExpires(l)
	case rampStops:
		s.stopRamp(l)
	case suspendEnds:
		ld.suspended = false
	}
}
