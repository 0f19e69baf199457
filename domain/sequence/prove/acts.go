package prove

import (
	"scopewright/domain"
	"scopewright/domain/sequence"
)

// act is something that can happen in any state.
type act struct {
	step     domain.ScenarioStep
	event    sequence.Event
	device   int
	button   int  // of a press; 0: none
	probe    bool // tried, but not followed
	byItself bool // no person acts
	person   bool
	wait     bool // time passes to the next timer
	sched    int  // schedule that comes; -1: none
	on       bool
	also     *domain.ScenarioStep // what follows at once: power back after power lost
}

// do lets the act happen; false where it cannot just now.
func (a *act) do(s *sequence.State) bool {
	switch {
	case a.wait:
		next := s.NextTimer()
		if next == sequence.Never {
			return false
		}
		s.AdvanceTo(next)
		return true
	case a.sched >= 0:
		s.Schedule(a.sched, a.on)
		return true
	}
	e := a.event
	e.At = s.Now()
	s.Do(e)
	if a.also != nil {
		s.Do(sequence.Event{At: s.Now() + sequence.Second, Kind: a.also.Happen, Device: -1})
	}
	return true
}

// actsOf lists what can happen in a room: presses first, so that a way with a
// person in it is found before a longer one without.
func actsOf(p *sequence.Program) []act {
	l := &lister{p: p}
	for d := range p.Design.Devices {
		l.buttons(d)
	}
	l.sensors()
	l.outside()
	l.out = append(l.out, act{wait: true, byItself: true, sched: -1, device: -1})
	for j, t := range p.Timetables() {
		if t.On {
			l.out = append(l.out, act{sched: j, on: true, device: -1})
		}
		if t.Off {
			l.out = append(l.out, act{sched: j, device: -1})
		}
	}
	return l.out
}

type lister struct {
	p   *sequence.Program
	out []act
}

// add files an act for a step that the room has a place for.
func (l *lister) add(st domain.ScenarioStep, person, byItself bool) *act {
	e, err := l.p.EventOf(&st)
	if err != nil {
		return &act{}
	}
	l.out = append(l.out, act{step: st, event: e, device: e.Device, person: person, byItself: byItself, sched: -1})
	return &l.out[len(l.out)-1]
}

func (l *lister) buttons(d int) {
	t := l.p.Project.Book.Find(l.p.Design.Devices[d].Type)
	if t == nil {
		return
	}
	id := l.p.Design.Devices[d].ID
	for b := 1; b <= t.Buttons; b++ {
		press, hold, ramps := l.p.Acts(d, b)
		if press || ramps && hold {
			a := l.add(domain.ScenarioStep{Happen: domain.Pressed, Device: id, Button: b}, true, false)
			a.button, a.probe = b, ramps
		}
		if hold {
			a := l.add(domain.ScenarioStep{Happen: domain.HoldStarted, Device: id, Button: b}, true, false)
			a.button, a.probe = b, ramps
		}
	}
}

// sensors gives one sensor of each class its say.
func (l *lister) sensors() {
	told := map[string]bool{}
	for d := range l.p.Design.Devices {
		class := l.p.SensorClass(d)
		if class == "" || told[class] {
			continue
		}
		told[class] = true
		for _, h := range []domain.Happening{domain.Occupied, domain.Vacant} {
			l.add(domain.ScenarioStep{Happen: h, Device: l.p.Design.Devices[d].ID}, false, true)
		}
	}
}

// outside is what comes from outside of the room, as far as intents listen.
func (l *lister) outside() {
	kinds, commands, modes := map[domain.IntentKind]bool{}, map[string]bool{}, map[domain.Mode]bool{}
	for i := range l.p.Design.Intents {
		in := &l.p.Design.Intents[i]
		kinds[in.Kind] = true
		switch in.Kind {
		case domain.ByAV:
			if !commands[in.Command] {
				commands[in.Command] = true
				l.add(domain.ScenarioStep{Happen: domain.AVCommand, Text: in.Command}, true, false)
			}
		case domain.OnMode:
			modes[in.Mode] = true
		}
		for _, m := range in.Modes {
			modes[m] = true
		}
		if in.Do == domain.SetMode {
			modes[in.Mode] = true
		}
	}
	l.contacts(kinds[domain.ByContact])
	if len(modes) > 0 {
		modes[domain.NormalMode] = true
		for _, m := range domain.Modes() {
			if modes[m] {
				l.add(domain.ScenarioStep{Happen: domain.ModeChanged, Text: string(m)}, false, false)
			}
		}
	}
	pair := func(a, b domain.Happening) {
		l.add(domain.ScenarioStep{Happen: a}, false, false)
		l.add(domain.ScenarioStep{Happen: b}, false, false)
	}
	if kinds[domain.OnDemandResponse] {
		pair(domain.DemandStarted, domain.DemandEnded)
	}
	if kinds[domain.OnEmergency] {
		pair(domain.EmergencyBegan, domain.EmergencyEnded)
	}
	if kinds[domain.OnNetworkLoss] {
		pair(domain.NetworkLost, domain.NetworkRestored)
	}
	if l.p.Design.Divisible() {
		pair(domain.PartitionOpens, domain.PartitionCloses)
	}
	back := domain.ScenarioStep{Happen: domain.PowerRestored}
	l.add(domain.ScenarioStep{Happen: domain.PowerLost}, false, false).also = &back
	if l.p.Daylights() {
		l.readings()
	}
}

func (l *lister) contacts(any bool) {
	if !any {
		return
	}
	told := map[domain.ID]bool{}
	for i := range l.p.Design.Intents {
		in := &l.p.Design.Intents[i]
		if in.Kind != domain.ByContact || in.Device == "" || told[in.Device] {
			continue
		}
		told[in.Device] = true
		l.add(domain.ScenarioStep{Happen: domain.ContactClosed, Device: in.Device, Button: 1}, true, false)
		l.add(domain.ScenarioStep{Happen: domain.ContactOpened, Device: in.Device, Button: 1}, true, false)
	}
}

// readings are night, half of a target and far over every one.
func (l *lister) readings() {
	for d := range l.p.Design.Devices {
		t := l.p.Project.Book.Find(l.p.Design.Devices[d].Type)
		if t == nil || !t.Kind.Traits().Daylight {
			continue
		}
		for _, lx := range []float64{0, 200, 20000} {
			l.add(domain.ScenarioStep{Happen: domain.DaylightRead, Device: l.p.Design.Devices[d].ID, Lux: lux(lx)}, false, true)
		}
		return
	}
}
