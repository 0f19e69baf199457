package sequence

import (
	"slices"

	"scopewright/domain"
)

// contact is a dry contact that closes or opens.
func (s *State) contact(d, input int, closed bool) {
	word := "open"
	if closed {
		word = "closed"
	}
	dev := &s.p.devices[d]
	s.messages += dev.messages
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind == domain.ByContact && in.Device == s.p.Design.Devices[d].ID && sameCommand(in.Command, word) && s.holds(in) {
			s.respond(in, d, max(1, input))
		}
	}
}

// av is a command of a presentation system.
func (s *State) av(d int, command string) {
	s.messages++
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind != domain.ByAV || !sameCommand(in.Command, command) || !s.holds(in) {
			continue
		}
		if d >= 0 && in.Device != "" && in.Device != s.p.Design.Devices[d].ID {
			continue
		}
		if in.Do != domain.GoBack {
			for _, l := range in.targets {
				if ld := &s.loads[l]; ld.byAV != i { // saying it twice loses nothing
					ld.beforeAV = ld.requested
				}
			}
		}
		s.respond(in, -1, 0)
		for _, l := range in.targets {
			if in.Do != domain.GoBack {
				s.loads[l].byAV = i
			}
		}
	}
}

// respond does what an intent says, to its targets or to those of them that the
// cells of a contact's input name.
func (s *State) respond(in *intent, contact, input int) {
	s.cause.Intent, s.cause.Class, s.cause.What = in.index, in.class, Commanded
	switch in.Do {
	case domain.SetMode:
		mode := modeOf(in)
		s.setMode(mode)
		if in.Hold > 0 {
			s.arm(s.modeSlot(), s.now+seconds(in.Hold))
		}
		return
	case domain.PartitionJoins:
		s.setPartition(domain.PartitionOpen)
		return
	case domain.PartitionParts:
		s.setPartition(domain.PartitionClosed)
		return
	}
	lit := false
	for _, l := range in.targets {
		lit = lit || s.loads[l].requested > 0
	}
	for _, l := range in.targets {
		if contact < 0 || s.named(contact, input, l) {
			s.respondOn(in, l, lit)
		}
	}
}

// named tells whether a contact's input acts on a load: a device without any cell
// leaves that to the intents.
func (s *State) named(device, input, l int) bool {
	cells := s.p.devices[device].contacts
	for _, c := range cells {
		if c.input == input && c.load == l && (c.when == "" || c.when == s.partition) {
			return true
		}
	}
	return len(cells) == 0
}

func (s *State) respondOn(in *intent, l int, lit bool) {
	ld := &s.loads[l]
	s.cause.Intent, s.cause.Class, s.cause.What = in.index, in.class, Commanded
	switch in.Do {
	case domain.Lock:
		if ld.lock < 0 || s.p.intents[ld.lockBy].class >= in.class {
			s.setLock(l, float64(in.Level), in.index)
		}
		return
	case domain.Release:
		if ld.lock >= 0 {
			s.setLock(l, -1, -1)
		}
		ld.suspended = false
		s.disarm(s.loadSlot(l, suspendEnds))
		return
	case domain.HoldAutomatic:
		ld.suspended = true
		s.disarm(s.loadSlot(l, suspendEnds))
		if in.Hold > 0 && in.Kind != domain.OnMode {
			s.arm(s.loadSlot(l, suspendEnds), s.now+seconds(in.Hold))
		}
		return
	}
	if !s.may(l, in.class) {
		return
	}
	var level float64
	fade := seconds(in.Fade)
	switch in.Do {
	case domain.ToggleLoads:
		if level = s.lastLevel(l); lit {
			level = 0
		}
	case domain.GoBack:
		level = ld.beforeAV
	default:
		t := in.target(l)
		if t == nil {
			return
		}
		level, fade = t.level, t.fade
	}
	s.request(l, level, fade, partLevel)
	if in.class == s.p.rank.manual {
		s.claim(l)
	}
}

func (s *State) setLock(l int, level float64, by int) {
	ld := &s.loads[l]
	before := s.Output(l, s.now)
	ld.lock, ld.lockBy = level, by
	ld.why[partLock] = s.cause
	ld.why[partLock].Level = level
	if level < 0 {
		ld.why[partLock] = Cause{Intent: -1}
	}
	s.tell(l, before, s.Output(l, s.now))
}

func (s *State) setEmergency(l int, level float64) {
	ld := &s.loads[l]
	before := s.Output(l, s.now)
	ld.emergency = level
	ld.why[partEmergency] = s.cause
	ld.why[partEmergency].Level = level
	s.tell(l, before, s.Output(l, s.now))
}

// demandResponse caps, and takes the cap off.
func (s *State) demandResponse(on bool) {
	s.called = on
	if s.away() || s.demand == on {
		return
	}
	s.demand = on
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind != domain.OnDemandResponse || on && !s.holds(in) {
			continue
		}
		for _, l := range in.targets {
			ld, to := &s.loads[l], 1.0
			if on {
				to = float64(in.Level) / 100
			}
			before := ld.level.to * ld.cap.to
			ld.cap.toward(to, s.now, seconds(in.Fade))
			s.cause.Intent, s.cause.Class, s.cause.What = i, in.class, Capped
			ld.why[partCap] = s.cause
			ld.why[partCap].Level = to * 100
			if !on {
				ld.why[partCap] = Cause{Intent: -1}
			}
			s.tell(l, before, ld.level.to*to)
		}
	}
}

// powerLost: all is dark. Timers do not run on without power.
func (s *State) powerLost() {
	if s.dark {
		return
	}
	for l := range s.loads {
		s.stopRamp(l)
	}
	s.dark = true
	for g := range s.groups {
		s.disarm(s.groupSlot(g))
	}
	for l := range s.loads {
		for k := range slotsPerLoad {
			s.disarm(s.loadSlot(l, k))
		}
	}
}

// powerBack brings loads back as their intents say, as if people were there.
func (s *State) powerBack() {
	if !s.dark {
		return
	}
	s.dark = false
	for l := range s.loads {
		ld := &s.loads[l]
		ld.claimed, ld.handOff, ld.suspended, ld.yielded = false, false, false, false
		was := ld.override
		ld.override = overrideNone
		s.undip(l)
		s.comeBack(l)
		switch event := s.cause; {
		case ld.deferred || was == overrideWarns:
			s.sweepAtLast(l)
			s.cause = event
		case was == overrideRuns:
			s.override(l)
		}
	}
	s.assumePeople()
	s.catchUp()
}

// comeBack gives a load the level that it has after power failure.
func (s *State) comeBack(l int) {
	level := s.loads[l].requested
	s.cause.What, s.cause.Intent = PowerCameBack, -1
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind != domain.OnPowerBack || !slices.Contains(in.targets, l) || !s.holds(in) {
			continue
		}
		switch in.Restore {
		case domain.RestoreSet:
			level = float64(in.Level)
		case domain.RestoreOff:
			level = 0
		case domain.RestoreFull:
			level = 100
		}
		s.cause.Intent, s.cause.Class = i, in.class
		break
	}
	if !s.p.loads[l].lighting && s.cause.Intent < 0 {
		return // receptacles follow presence, which comes next
	}
	s.request(l, level, 0, partLevel)
}

// assumePeople starts delays as if all had just left.
func (s *State) assumePeople() {
	for g := range s.groups {
		gr := &s.p.groups[g]
		for _, k := range gr.sensors {
			s.sensors[k.device].assumed = true
		}
		s.groups[g].phase, s.groups[g].entered = groupOccupied, true
		if in := &s.p.intents[gr.intent]; in.Kind == domain.ForReceptacles {
			s.cause.What, s.cause.Intent, s.cause.Class = PowerCameBack, gr.intent, in.class
			for _, l := range gr.loads {
				s.request(l, 100, 0, partLevel)
			}
		}
	}
	for d := range s.sensors {
		if s.sensors[d].assumed {
			s.sensors[d].assumed = false
			if !s.sensors[d].in() {
				for _, g := range s.p.devices[d].groups {
					s.leave(g)
				}
			}
		}
	}
}

// catchUp makes up for the last time of each schedule that did not arrive.
func (s *State) catchUp() {
	if s.away() || s.dark {
		return
	}
	for j := range s.missed {
		if s.missed[j] == 0 {
			continue
		}
		s.missed[j] = 0
		sc, now := &s.p.scheds[j], s.Clock(s.now)
		on, isOn := s.lastOf(sc, sc.on, now)
		off, isOff := s.lastOf(sc, sc.off, now)
		if isOn && (!isOff || on.After(off)) {
			s.schedStarts(j)
		} else if isOff {
			s.schedEnds(j)
		}
	}
}

func (s *State) networkLost() {
	s.offline = true
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind == domain.OnNetworkLoss && s.p.gateway && s.holds(in) {
			s.respond(in, -1, 0)
		}
	}
}

func (s *State) networkBack() {
	if !s.offline {
		return
	}
	s.offline = false
	event := s.cause
	s.demandResponse(s.called)
	s.catchUp()
	s.cause = event
	if mode := s.p.cal.mode(s.Clock(s.now)); len(s.p.cal.lines) > 0 && s.p.gateway && s.timers[s.modeSlot()] == Never {
		s.cause.What = CalendarSays
		s.setMode(mode)
	}
}

// emergencySignal locks loads while the signal is on.
func (s *State) emergencySignal(on bool) {
	if s.emergency == on {
		return
	}
	s.emergency = on
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind != domain.OnEmergency {
			continue
		}
		for _, l := range in.targets {
			s.cause.Intent, s.cause.Class, s.cause.What = i, in.class, Locked
			switch ld := &s.loads[l]; {
			case on && float64(in.Level) > ld.emergency: // of two, the brighter
				s.setEmergency(l, float64(in.Level))
			case !on && ld.emergency >= 0:
				s.setEmergency(l, -1)
				s.comeBack(l)
			}
		}
	}
}

// setMode changes the room's mode: locks and holds of the old one end, and the
// intents of the new one act.
func (s *State) setMode(mode domain.Mode) {
	if mode == s.mode {
		return
	}
	s.mode = mode
	s.disarm(s.modeSlot())
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind != domain.OnMode || modeOf(in) == mode {
			continue
		}
		for _, l := range in.targets {
			if in.Do == domain.Lock && s.loads[l].lockBy == i {
				s.setLock(l, -1, -1)
			}
			if in.Do == domain.HoldAutomatic {
				s.loads[l].suspended = false
			}
		}
	}
	at := s.cause
	for i := range s.p.intents {
		in := &s.p.intents[i]
		if in.Kind != domain.OnMode || modeOf(in) != mode || !s.holds(in) {
			continue
		}
		s.cause = at
		s.respond(in, -1, 0)
		if in.Hold > 0 {
			s.arm(s.modeSlot(), s.now+seconds(in.Hold))
		}
	}
}

// setPartition joins or divides the room. Loads keep their levels; sensors pool
// or part, and the next press counts as the matrix then says.
func (s *State) setPartition(to domain.PartitionState) {
	if s.partition == to {
		return
	}
	s.partition = to
	for g := range s.groups {
		switch occupied := s.occupiedNow(g); {
		case occupied && s.groups[g].phase != groupOccupied:
			if s.groups[g].phase == groupWarns {
				for _, l := range s.p.groups[g].loads {
					s.undip(l)
				}
			}
			s.groups[g].phase, s.groups[g].entered = groupOccupied, true
			s.disarm(s.groupSlot(g))
		case !occupied && s.groups[g].phase == groupOccupied:
			s.delay(g)
		}
	}
}
