package sequence

import (
	"time"

	"scopewright/domain"
)

// sched is a schedule intent with its times read.
type sched struct {
	intent  int
	days    domain.Days
	on, off *domain.TimeOfDay
}

func (c *Program) compileSchedules() {
	for i := range c.intents {
		in := &c.intents[i]
		if in.Kind != domain.BySchedule {
			continue
		}
		out := sched{intent: i}
		var err error
		if out.days, err = domain.ParseDays(in.Days); err != nil {
			c.Faults = append(c.Faults, Fault{in.ID, err.Error()})
			continue
		}
		if out.on, err = timeOf(in.OnAt); err == nil {
			out.off, err = timeOf(in.OffAt)
		}
		if err != nil {
			c.Faults = append(c.Faults, Fault{in.ID, err.Error()})
			continue
		}
		for _, l := range in.targets {
			c.loads[l].scheds = append(c.loads[l].scheds, len(c.scheds))
		}
		c.scheds = append(c.scheds, out)
	}
}

func timeOf(text string) (*domain.TimeOfDay, error) {
	if text == "" {
		return nil, nil
	}
	t, err := domain.ParseTimeOfDay(text)
	return &t, err
}

// armClock arms the timers of schedules and of the calendar of modes.
func (s *State) armClock() {
	for j := range s.p.scheds {
		s.armSched(j, schedOn, s.p.scheds[j].on)
		s.armSched(j, schedOff, s.p.scheds[j].off)
	}
	for i := range s.p.cal.lines {
		s.armLine(i)
	}
}

func (s *State) armSched(j, k int, t *domain.TimeOfDay) {
	if t == nil {
		return
	}
	if at, ok := s.p.cal.next(s.Clock(s.now), s.p.scheds[j].days, *t); ok {
		s.arm(s.schedSlot(j, k), s.since(at))
	}
}

func (s *State) armLine(i int) {
	l := &s.p.cal.lines[i]
	if at, ok := s.p.cal.next(s.Clock(s.now), l.Days, l.At); ok {
		s.arm(s.lineSlot(i), s.since(at))
	}
}

// since gives the run's time of an instant.
func (s *State) since(at time.Time) Time { return Time(at.Sub(s.start) / time.Millisecond) }

// lineExpires: the calendar changes the mode.
func (s *State) lineExpires(i int) {
	s.armLine(i)
	if s.away() {
		return
	}
	s.disarm(s.modeSlot())
	s.timed(CalendarSays, -1, s.p.rank.schedule)
	s.setMode(s.p.cal.lines[i].Mode)
}

// away tells that nothing of the building network arrives.
func (s *State) away() bool { return s.offline && s.p.gateway }

// schedExpires: a schedule's time has come.
func (s *State) schedExpires(j, k int) {
	sc := &s.p.scheds[j]
	switch k {
	case schedOn:
		s.armSched(j, schedOn, sc.on)
	case schedOff:
		s.armSched(j, schedOff, sc.off)
	}
	if s.away() || s.dark {
		s.missed[j] = s.now
		return
	}
	if k == schedOn {
		s.schedStarts(j)
	} else {
		s.schedEnds(j)
	}
}

// schedStarts is a schedule's on.
func (s *State) schedStarts(j int) {
	sc := &s.p.scheds[j]
	in := &s.p.intents[sc.intent]
	s.timed(ScheduleOn, sc.intent, in.class)
	s.disarm(s.schedSlot(j, schedAsks))
	if !s.holds(in) {
		return
	}
	if in.Do == domain.SetMode {
		s.setMode(modeOf(in))
		return
	}
	for i := range in.levels {
		t := &in.levels[i]
		ld := &s.loads[t.load]
		ld.swept, ld.deferred = false, false
		ld.scheduled = sc.off != nil
		s.disarm(s.loadSlot(t.load, overrideEnds))
		ld.override = overrideNone
		if s.may(t.load, in.class) && !ld.suspended {
			s.cause.What, s.cause.Intent = ScheduleOn, sc.intent
			s.request(t.load, t.level, t.fade, partLevel)
		}
	}
}

// schedEnds is a schedule's off, or its asking again.
func (s *State) schedEnds(j int) {
	sc := &s.p.scheds[j]
	in := &s.p.intents[sc.intent]
	for _, l := range in.targets {
		s.loads[l].scheduled = false
	}
	if !s.holds(in) || in.Do == domain.SetMode {
		return
	}
	if in.Spares && s.anyone() {
		s.arm(s.schedSlot(j, schedAsks), s.now+seconds(in.AgainAfter()))
		return
	}
	until := s.offCounts(j)
	for _, l := range in.targets {
		ld := &s.loads[l]
		ld.sweptBy, ld.swept, ld.sweptUntil = j, true, until
		s.timed(ScheduleOff, sc.intent, in.class)
		switch {
		case ld.suspended:
		case ld.claimed && s.p.rank.manual < in.class:
			ld.deferred = true
		default:
			s.sweep(l, j)
		}
	}
}

// sweepAtLast does a schedule's off that had to wait.
func (s *State) sweepAtLast(l int) {
	ld := &s.loads[l]
	ld.deferred = false
	s.timed(ScheduleOff, s.p.scheds[ld.sweptBy].intent, s.p.rank.schedule)
	s.sweep(l, ld.sweptBy)
}

// sweep puts a load off for a schedule, with its warning.
func (s *State) sweep(l, j int) {
	ld, in := &s.loads[l], &s.p.intents[s.p.scheds[j].intent]
	ld.sweptBy, ld.swept = j, true
	if ld.requested <= 0 {
		return
	}
	if in.Warning > 0 {
		ld.override = overrideWarns
		s.dip(l, float64(in.WarnTo))
		s.arm(s.loadSlot(l, overrideEnds), s.now+seconds(in.Warning))
		return
	}
	ld.override = overrideNone
	s.request(l, 0, seconds(in.Fade), partLevel)
}

// override gives light that a person brings up after a schedule's off its end.
func (s *State) override(l int) {
	ld := &s.loads[l]
	ld.override = overrideNone
	s.disarm(s.loadSlot(l, overrideEnds))
	if !ld.swept || ld.requested <= 0 || s.now >= ld.sweptUntil {
		return
	}
	if in := &s.p.intents[s.p.scheds[ld.sweptBy].intent]; in.Override > 0 {
		ld.override = overrideRuns
		s.arm(s.loadSlot(l, overrideEnds), s.now+seconds(in.Override))
	}
}

// offCounts tells until when a schedule's off offCounts that comes just now: one without
// an on until 06:00, others until their on.
func (s *State) offCounts(j int) Time {
	sc := &s.p.scheds[j]
	if sc.on != nil || sc.off == nil {
		return Never
	}
	off, ok := s.lastOf(sc, sc.off, s.Clock(s.now))
	if !ok {
		return s.now
	}
	morning, _ := s.p.cal.next(off, domain.EveryDay, domain.TimeOfDay{Minutes: domain.MorningAfter})
	return s.since(morning)
}

// overrideExpires: light after a schedule's off has come to its end, or its
// warning has.
func (s *State) overrideExpires(l int) {
	ld := &s.loads[l]
	j := ld.sweptBy
	if j < 0 {
		return
	}
	in := &s.p.intents[s.p.scheds[j].intent]
	s.timed(OverrideEnds, in.index, in.class)
	if ld.override == overrideRuns {
		ld.claimed, ld.handOff = false, false
		s.disarm(s.loadSlot(l, claimEnds))
		s.sweep(l, j)
		return
	}
	s.cause.What = ScheduleOff
	ld.override = overrideNone
	s.request(l, 0, seconds(in.Fade), partLevel)
}

func modeOf(in *intent) domain.Mode {
	if in.Mode == "" {
		return domain.NormalMode
	}
	return in.Mode
}

func (s *State) lastOf(sc *sched, t *domain.TimeOfDay, upTo time.Time) (time.Time, bool) {
	if t == nil {
		return time.Time{}, false
	}
	return s.p.cal.last(upTo, sc.days, *t)
}
