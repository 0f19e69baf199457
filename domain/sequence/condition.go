package sequence

import (
	"scopewright/domain"
)

// condition is an intent's condition, read once.
type condition struct {
	stated      bool
	unless      bool
	modes       []domain.Mode
	window      bool
	from, until domain.TimeOfDay
	darker      float64
	brighter    float64
	people      domain.People
	partition   domain.PartitionState
}

func newCondition(in *domain.Intent) (c condition, err error) {
	c = condition{stated: in.Conditional(), unless: in.Unless, modes: in.Modes, darker: float64(in.DarkerThan), brighter: float64(in.BrighterThan), people: in.People, partition: in.Partition}
	if in.From != "" {
		c.window = true
		if c.from, err = domain.ParseTimeOfDay(in.From); err != nil {
			return c, err
		}
	}
	if c.until = (domain.TimeOfDay{Minutes: 24 * 60}); in.Until != "" {
		c.window = true
		c.until, err = domain.ParseTimeOfDay(in.Until)
	}
	return c, err
}

// holds tells whether an intent counts just now.
func (s *State) holds(in *intent) bool {
	c := &in.cond
	if !c.stated {
		return true
	}
	all := s.inMode(c.modes) && (c.darker == 0 || s.reading < 0 || s.reading < c.darker) && (c.brighter == 0 || s.reading > c.brighter) &&
		(c.partition == "" || c.partition == s.partition) && (c.people == "" || (c.people == domain.PeopleIn) == s.anyone()) && (!c.window || s.inWindow(c))
	return all != c.unless
}

func (s *State) inMode(modes []domain.Mode) bool {
	for _, m := range modes {
		if m == s.mode {
			return true
		}
	}
	return len(modes) == 0
}

// anyone tells whether a sensor says that people are in the room.
func (s *State) anyone() bool {
	for i := range s.sensors {
		if s.sensors[i].in() {
			return true
		}
	}
	return false
}

// inWindow tells whether the clock is between two times of day; a window may
// span midnight.
func (s *State) inWindow(c *condition) bool {
	now := s.Clock(s.now)
	from, until := s.p.cal.on(now, c.from), s.p.cal.on(now, c.until)
	if from.After(until) {
		return !now.Before(from) || now.Before(until)
	}
	return !now.Before(from) && now.Before(until)
}
