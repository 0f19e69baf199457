package sequence

import (
	"math"

	"scopewright/domain"
)

// Output gives a load's output in % at a time from now on, up to the next timer:
// fades are functions of time.
func (s *State) Output(load int, at Time) float64 {
	asked, trims := s.asked(load, at)
	if !trims {
		return asked
	}
	ld, p := &s.loads[load], &s.p.loads[load]
	day := ld.day.at(at)
	if ld.dimmedOut && (p.switched || day <= 0) {
		return 0
	}
	if p.switched {
		return 100
	}
	out := asked * day
	if day < 1 {
		out = math.Max(out, math.Min(asked, s.trimFloor(load)))
	}
	return math.Min(100, math.Max(p.lowest, out))
}

// Undimmed gives what Output would be without daylight.
func (s *State) Undimmed(load int, at Time) float64 {
	asked, trims := s.asked(load, at)
	if !trims {
		return asked
	}
	return s.p.loads[load].bounded(asked)
}

// asked gives the level under its cap, and whether daylight may trim it.
func (s *State) asked(load int, at Time) (level float64, trims bool) {
	ld, p := &s.loads[load], &s.p.loads[load]
	if s.dark {
		if p.bypass && p.egress {
			return 100, false
		}
		return 0, false
	}
	if lock := ld.locked(); lock >= 0 {
		return p.bounded(lock), false
	}
	if level = ld.level.at(at); level <= 0 {
		return 0, false
	}
	if p.switched {
		return 100, true
	}
	return level * ld.cap.at(at), true
}

// locked gives the level that a load is locked at, -1 for none. The emergency
// signal's lock comes first; the other one goes on when the signal ends.
func (ld *loadState) locked() float64 {
	if ld.emergency >= 0 {
		return ld.emergency
	}
	return ld.lock
}

// trimFloor is how far daylight dims a load.
func (s *State) trimFloor(load int) float64 {
	if i := s.p.loads[load].day; i >= 0 {
		return float64(s.p.intents[i].Lowest)
	}
	return 0
}

// bounded puts a level into what a load can show.
func (p *load) bounded(level float64) float64 {
	switch {
	case level <= 0:
		return 0
	case p.switched:
		return 100
	}
	return math.Min(100, math.Max(p.lowest, level))
}

// Settles gives when the last fade of a load ends.
func (s *State) Settles(load int) Time {
	ld := &s.loads[load]
	return max(s.now, ld.level.t0+ld.level.dur, ld.day.t0+ld.day.dur, ld.cap.t0+ld.cap.dur)
}

// request asks a load for a level, over a fade, and remembers why.
func (s *State) request(l int, level float64, fade Time, part int) {
	ld, p := &s.loads[l], &s.p.loads[l]
	before := ld.level.to
	level = p.bounded(level)
	if p.switched {
		fade = 0
	}
	ld.requested, ld.warned, ld.byAV = level, false, -1
	if ld.ramping { // the button may still be held, but something else has come
		ld.ramping = false
		s.disarm(s.loadSlot(l, rampStops))
	}
	if level > 0 {
		ld.last = level
	}
	ld.level.toward(level, s.now, fade)
	ld.why[part] = s.cause
	ld.why[part].Level = level
	ld.why[partWarning] = Cause{Intent: -1}
	s.trim(l, 0)
	s.tell(l, before, level)
}

// dip warns by a level for a time; what was asked for stays.
func (s *State) dip(l int, percent float64) {
	ld, p := &s.loads[l], &s.p.loads[l]
	if ld.requested <= 0 {
		return
	}
	ld.warned = true
	ld.why[partWarning] = s.cause
	if p.switched {
		return
	}
	before, to := ld.level.to, math.Max(p.lowest, ld.requested*percent/100)
	ld.why[partWarning].Level = to
	ld.level.toward(to, s.now, 0)
	s.tell(l, before, to)
}

// undip ends a warning: back to what was asked for.
func (s *State) undip(l int) {
	ld := &s.loads[l]
	if !ld.warned {
		return
	}
	before := ld.level.to
	ld.warned = false
	ld.why[partWarning] = Cause{Intent: -1}
	ld.level.toward(ld.requested, s.now, 0)
	s.tell(l, before, ld.requested)
}

// trim brings the daylight factor to what the last reading asks for.
func (s *State) trim(l int, fade Time) {
	ld, p := &s.loads[l], &s.p.loads[l]
	if p.day < 0 {
		return
	}
	in := &s.p.intents[p.day]
	factor := ld.raw
	if ld.yielded || s.reading < 0 || !s.holds(in) {
		factor = 1
	}
	lowest := float64(in.Lowest)
	switch {
	case !in.MayOff || ld.requested <= 0 || factor >= 1:
		ld.dimmedOut = false
	case ld.dimmedOut:
		ld.dimmedOut = factor*ld.requested <= lowest+5
	default:
		ld.dimmedOut = factor*ld.requested < lowest
	}
	if ld.dimmedOut {
		factor = 0
	}
	if p.switched {
		fade = 0
	}
	if factor != ld.day.to {
		before := ld.day.to
		ld.day.toward(factor, s.now, fade)
		ld.why[partDaylight] = s.cause
		ld.why[partDaylight].Intent, ld.why[partDaylight].Class = p.day, s.p.rank.daylight
		ld.why[partDaylight].Level = factor * 100
		s.tell(l, before*ld.requested, factor*ld.requested)
	}
}

// may tells whether a class may write to a load: no higher claim lives.
func (s *State) may(l int, by class) bool {
	ld, r := &s.loads[l], &s.p.rank
	return (!ld.claimed || r.manual >= by) && (!ld.scheduled || r.schedule >= by)
}

// LoadView is what a load is at just now.
type LoadView struct {
	Output, Requested float64 // %
	Lock              float64 // %, -1: none
	Cap, Daylight     float64 // 1: none
	Warned            bool
	Claimed           bool // by a person
	ClaimEnds         Time
	Scheduled         bool
	Suspended         bool
}

// Load gives what a load is at.
func (s *State) Load(l int) LoadView {
	ld := &s.loads[l]
	return LoadView{s.Output(l, s.now), ld.requested, ld.locked(), ld.cap.at(s.now), ld.day.at(s.now), ld.warned, ld.claimed, s.timers[s.loadSlot(l, claimEnds)], ld.scheduled, ld.suspended}
}

// Mode gives the room's mode.
func (s *State) Mode() domain.Mode { return s.mode }

// Partition gives the state of the room's partition.
func (s *State) Partition() domain.PartitionState { return s.partition }

// Powered tells that there is power, Online that the building network is there.
func (s *State) Powered() bool { return !s.dark }

// Online tells that the building network is there.
func (s *State) Online() bool { return !s.offline }

// Emergency tells that the emergency signal is on.
func (s *State) Emergency() bool { return s.emergency }

// Demand tells that demand response runs.
func (s *State) Demand() bool { return s.demand }

// Daylight gives the latest reading in lx; false: never read.
func (s *State) Daylight() (lx float64, read bool) { return max(0, s.reading), s.reading >= 0 }

// Sensor tells what a presence sensor counts as.
func (s *State) Sensor(device int) domain.People {
	if s.sensors[device].in() {
		return domain.PeopleIn
	}
	return domain.PeopleGone
}

// Silent tells that a sensor does not report.
func (s *State) Silent(device int) bool { return s.sensors[device].quiet }

// Messages gives how many broadcasts were sent since the run's start.
func (s *State) Messages() int { return s.messages }

// Relit tells that a load burns because people came back just after it went off.
func (s *State) Relit(l int) bool { return s.loads[l].why[partLevel].What == Relit }
