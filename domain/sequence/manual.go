package sequence

import (
	"math"

	"scopewright/domain"
)

// press carries out the cells of a button.
func (s *State) press(d, button int) {
	dev := &s.p.devices[d]
	if button < 1 || button >= len(dev.press) {
		return
	}
	s.messages += dev.messages
	s.carryOut(dev.press[button])
}

// hold carries out what holding a button does: its hold cells, else a ramp where
// the press raises or lowers, else a press.
func (s *State) hold(d, button int) {
	dev := &s.p.devices[d]
	if button < 1 || button >= len(dev.press) {
		return
	}
	s.messages += dev.messages
	cells := dev.hold[button]
	if len(cells) == 0 {
		cells = dev.press[button]
	}
	for i := range cells {
		c := &cells[i]
		if (c.verb == domain.Raise || c.verb == domain.Lower) && s.hears(c) {
			s.ramp(c)
		}
	}
	s.carryOutBut(cells)
}

// release stops what a held button runs.
func (s *State) release(d, button int) {
	dev := &s.p.devices[d]
	if button < 1 || button >= len(dev.press) {
		return
	}
	s.messages += dev.messages
	for _, list := range [2][]cell{dev.hold[button], dev.press[button]} {
		for i := range list {
			if l := list[i].load; s.loads[l].ramping {
				s.stopRamp(l)
			}
		}
	}
}

// hears tells whether a cell counts now: the partition fits, and the by-hand
// intent of its load, if it has a condition.
func (s *State) hears(c *cell) bool {
	if c.when != "" && c.when != s.partition {
		return false
	}
	h := s.p.loads[c.load].hand
	return (h < 0 || s.holds(&s.p.intents[h])) && s.may(c.load, s.p.rank.manual)
}

func (s *State) carryOut(cells []cell) {
	for i := range cells {
		if c := &cells[i]; (c.verb == domain.Raise || c.verb == domain.Lower) && s.hears(c) {
			s.step(c)
		}
	}
	s.carryOutBut(cells)
}

// carryOutBut carries out all cells but those that raise and lower. Whether a
// toggle goes off is asked before anything of the button is done.
func (s *State) carryOutBut(cells []cell) {
	lit := false
	for i := range cells {
		c := &cells[i]
		lit = lit || c.verb == domain.Toggle && s.hears(c) && s.loads[c.load].requested > 0
	}
	for i := range cells {
		c := &cells[i]
		if !s.hears(c) {
			continue
		}
		switch c.verb {
		case domain.ToLevel:
			s.byHand(c.load, c.level, c.fade)
		case domain.Toggle:
			if lit {
				s.byHand(c.load, 0, c.fade)
			} else {
				s.byHand(c.load, s.lastLevel(c.load), c.fade)
			}
		case domain.LastLevel:
			s.byHand(c.load, s.lastLevel(c.load), c.fade)
		}
	}
}

// lastLevel is the last level above 0, full where there was none.
func (s *State) lastLevel(l int) float64 {
	if last := s.loads[l].last; last > 0 {
		return last
	}
	return 100
}

// byHand is a person's command to a load.
func (s *State) byHand(l int, level float64, fade Time) {
	s.cause.What, s.cause.Class, s.cause.Intent = ByPerson, s.p.rank.manual, s.p.loads[l].hand
	s.request(l, level, fade, partLevel)
	s.claim(l)
}

// claim makes a person's word count for its hold, counts it as presence and
// gives light after a schedule's off its end.
func (s *State) claim(l int) {
	ld, p := &s.loads[l], &s.p.loads[l]
	ld.handOff, ld.claimed = false, false
	if p.hand >= 0 {
		in := &s.p.intents[p.hand]
		if in.Hold > 0 {
			ld.claimed, ld.handOff = true, ld.requested <= 0
			s.arm(s.loadSlot(l, claimEnds), s.now+seconds(in.Hold))
		}
	}
	if p.day >= 0 && s.p.intents[p.day].Yields {
		ld.yielded = true
		s.trim(l, 0)
	}
	s.present(l)
	s.override(l)
}

// step raises or lowers by one step.
func (s *State) step(c *cell) {
	ld := &s.loads[c.load]
	to := ld.requested
	if !ld.warned { // in a fade from where it is
		to = ld.level.at(s.now)
	}
	if c.verb == domain.Lower {
		s.rampTo(c, to-domain.RampStep, 0)
	} else {
		s.rampTo(c, to+domain.RampStep, 0)
	}
}

// ramp raises or lowers until the button is let go.
func (s *State) ramp(c *cell) {
	ld, p := &s.loads[c.load], &s.p.loads[c.load]
	to := math.Max(p.highest, ld.requested)
	if c.verb == domain.Lower {
		to = math.Min(p.floor, ld.requested)
	}
	from := ld.level.at(s.now)
	if from <= 0 {
		from = p.lowest
	}
	dur := Time(math.Abs(to-from) / p.rate * 1000)
	if s.rampTo(c, to, dur) && !p.switched {
		ld.ramping = true
		s.arm(s.loadSlot(c.load, rampStops), s.now+min(dur, longestRamp))
	}
}

// longestRamp ends a ramp whose end was lost on the way.
const longestRamp = 10 * Second

// rampTo goes toward a level within the limits of raising and lowering. Lower
// leaves a dark load dark; raise starts one at its lowest.
func (s *State) rampTo(c *cell, to float64, dur Time) bool {
	ld, p := &s.loads[c.load], &s.p.loads[c.load]
	if ld.requested <= 0 && c.verb == domain.Lower {
		return false
	}
	if ld.level.at(s.now) <= 0 {
		if ld.level = steady(p.lowest); dur == 0 {
			to = math.Max(p.lowest, domain.RampStep)
		}
	}
	high, low := math.Max(p.highest, ld.requested), math.Min(p.floor, math.Max(p.lowest, ld.requested))
	if ld.requested <= 0 {
		low = p.lowest
	}
	s.byHand(c.load, math.Max(low, math.Min(high, to)), dur)
	return true
}

// stopRamp keeps the level that a running raise or lower has reached.
func (s *State) stopRamp(l int) {
	ld := &s.loads[l]
	if !ld.ramping {
		return
	}
	ld.ramping = false
	s.disarm(s.loadSlot(l, rampStops))
	at := ld.level.at(s.now)
	before := ld.level.to
	ld.level = steady(at)
	ld.requested = at
	if at > 0 {
		ld.last = at
	}
	ld.why[partLevel].Level = at
	s.tell(l, before, at)
}
