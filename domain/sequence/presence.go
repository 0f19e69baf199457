package sequence

import (
	"scopewright/domain"
)

// report takes a sensor's word, or its silence.
func (s *State) report(d int, kind domain.Happening) {
	dev := &s.p.devices[d]
	if !dev.senses {
		if kind == domain.SensorSilent && dev.daylight {
			s.daylightSilent(d)
		}
		return
	}
	sensor := &s.sensors[d]
	was := sensor.in()
	sensor.assumed = false
	if kind == domain.SensorSilent {
		if sensor.quiet = true; dev.watchdog > 0 && !sensor.silent {
			s.arm(s.watchSlot(d), s.now+dev.watchdog)
		}
		return
	}
	s.messages += dev.messages
	sensor.occupied, sensor.quiet, sensor.silent = kind == domain.Occupied, false, false
	s.disarm(s.watchSlot(d))
	s.sensed(d, was)
}

// watchExpires: a sensor has not reported for its watchdog time.
func (s *State) watchExpires(d int) {
	was := s.sensors[d].in()
	s.sensors[d].silent = true
	s.timed(SensorLost, -1, s.p.rank.occupancy)
	s.cause.Device = d
	s.sensed(d, was)
}

// sensed lets the groups of a sensor know that it counts otherwise, or says
// again what it said.
func (s *State) sensed(d int, was bool) {
	in := s.sensors[d].in()
	for _, g := range s.p.devices[d].groups {
		switch {
		case !s.counts(g, d):
		case in:
			s.enter(g, d)
		case was:
			s.leave(g)
		}
	}
}

// counts tells whether a sensor acts on a group in the partition's state.
func (s *State) counts(g, d int) bool {
	for _, k := range s.p.groups[g].sensors {
		if k.device == d {
			return k.when == "" || k.when == s.partition
		}
	}
	return false
}

// occupiedNow tells whether any sensor of a group says people.
func (s *State) occupiedNow(g int) bool {
	for _, k := range s.p.groups[g].sensors {
		if (k.when == "" || k.when == s.partition) && s.sensors[k.device].in() {
			return true
		}
	}
	return false
}

// enter: people are where a group looks.
func (s *State) enter(g, d int) {
	st, gr := &s.groups[g], &s.p.groups[g]
	phase := st.phase
	st.phase = groupOccupied
	s.disarm(s.groupSlot(g))
	in := &s.p.intents[gr.intent]
	s.cause.Intent, s.cause.Class = gr.intent, in.class
	switch phase {
	case groupWarns:
		for _, l := range gr.loads {
			s.undip(l)
		}
	case groupVacant:
		st.entered = false
	}
	if !st.entered {
		st.entered = s.p.devices[d].presence != domain.Vacancy
		s.light(g, d)
	}
}

// light is what people coming in do: relight what went off a moment ago, or the
// entry scene of an intent that lights by sensors of the occupancy kind.
func (s *State) light(g, d int) {
	gr := &s.p.groups[g]
	in := &s.p.intents[gr.intent]
	if !s.holds(in) {
		return
	}
	enters := in.Kind == domain.ForReceptacles || in.Enters && s.p.devices[d].presence != domain.Vacancy
	for _, l := range gr.loads {
		ld := &s.loads[l]
		if ld.suspended || ld.handOff || !s.may(l, in.class) {
			continue
		}
		if in.Relight > 0 && s.now <= ld.relight && ld.requested <= 0 {
			ld.relight = -1
			s.cause.What = Relit
			s.request(l, ld.relightTo, seconds(in.Fade), partLevel)
			continue
		}
		if t := in.target(l); enters && t != nil {
			s.cause.What = Entered
			s.request(l, t.level, t.fade, partLevel)
		}
	}
}

// target gives what going to the intent's scene or level means for a load.
func (in *intent) target(l int) *target {
	for i := range in.levels {
		if in.levels[i].load == l {
			return &in.levels[i]
		}
	}
	return nil
}

// leave: the last sensor of a group says vacant.
func (s *State) leave(g int) {
	if s.groups[g].phase == groupVacant || s.occupiedNow(g) {
		return
	}
	s.delay(g)
}

// delay starts the time after which a group counts as vacant.
func (s *State) delay(g int) {
	st := &s.groups[g]
	if st.phase == groupWarns {
		for _, l := range s.p.groups[g].loads {
			s.undip(l)
		}
	}
	st.phase = groupDelays
	s.arm(s.groupSlot(g), s.now+s.p.groups[g].delay)
}

// groupExpires: the delay or the warning of a group has run out.
func (s *State) groupExpires(g int) {
	st, gr := &s.groups[g], &s.p.groups[g]
	in := &s.p.intents[gr.intent]
	s.timed(WentVacant, gr.intent, in.class)
	if st.phase != groupWarns && in.Warning > 0 && s.holds(in) && s.warnAll(gr, in) {
		st.phase = groupWarns
		s.arm(s.groupSlot(g), s.now+seconds(in.Warning))
		return
	}
	st.phase = groupVacant
	again := false
	for _, l := range gr.loads {
		again = !s.vacate(l, in) || again
	}
	if again && gr.delay > 0 {
		s.arm(s.groupSlot(g), s.now+gr.delay)
	}
}

// warnAll dips the lit loads of a group; false where none is.
func (s *State) warnAll(gr *group, in *intent) (some bool) {
	s.cause.What = Warned
	for _, l := range gr.loads {
		if s.mayVacate(l, in) && s.loads[l].requested > float64(in.OffLevel) {
			s.dip(l, float64(in.WarnTo))
			some = true
		}
	}
	return some
}

// mayVacate: a person's claim does not keep light on in an empty room; a live
// schedule of higher rank does, and a hold of automatic events.
func (s *State) mayVacate(l int, in *intent) bool {
	ld := &s.loads[l]
	return !ld.suspended && (!ld.scheduled || s.p.rank.schedule >= in.class)
}

// vacate is what an empty room does to a load; false where something that may
// end while the room is still empty kept it off.
func (s *State) vacate(l int, in *intent) bool {
	ld, off := &s.loads[l], float64(in.OffLevel)
	if !s.mayVacate(l, in) || !s.holds(in) {
		s.undip(l)
		return ld.requested <= off || ld.scheduled
	}
	ld.claimed, ld.handOff, ld.yielded, ld.deferred = false, false, false, false
	s.disarm(s.loadSlot(l, claimEnds))
	if ld.requested <= off {
		s.undip(l)
		return true
	}
	ld.relight, ld.relightTo = s.now+seconds(in.Relight), ld.requested
	s.cause.What = WentVacant
	s.disarm(s.loadSlot(l, overrideEnds))
	ld.override = overrideNone
	s.request(l, off, seconds(in.Fade), partLevel)
	return true
}

// present notes that a person is there who pressed: a delay starts anew, a
// warning ends, and light in an empty room gets a delay.
func (s *State) present(l int) {
	for _, g := range s.p.loads[l].groups {
		st := &s.groups[g]
		switch st.phase {
		case groupDelays, groupWarns:
			s.delay(g)
		case groupVacant:
			if s.p.loads[l].lighting && s.loads[l].requested > 0 {
				s.delay(g)
			}
		}
		st.entered = st.phase != groupVacant
	}
}

// reads takes a daylight reading.
func (s *State) reads(d int, lux float64) {
	dev := &s.p.devices[d]
	if !dev.daylight {
		return
	}
	s.reading = max(0, lux)
	for _, l := range dev.trims {
		day := s.p.loads[l].day
		if day < 0 {
			continue
		}
		in := &s.p.intents[day]
		if target := float64(in.Target); target > 0 {
			s.loads[l].raw = max(0, min(1, (target-lux)/target))
		}
		s.cause.Intent, s.cause.Class, s.cause.What = day, s.p.rank.daylight, DaylightTrims
		s.trim(l, seconds(in.Fade))
	}
}

// daylightSilent: without a sensor nothing is trimmed.
func (s *State) daylightSilent(d int) {
	s.reading = -1
	for _, l := range s.p.devices[d].trims {
		s.loads[l].raw = 1
		s.cause.What = DaylightTrims
		s.trim(l, 0)
	}
}
