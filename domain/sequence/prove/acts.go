package prove

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// passing is how an act lets time go by.
type passing uint8

const (
	atOnce passing = iota
	toTurn         // until just after the next time that something becomes otherwise by itself
	before         // until just before it
)

// act is something that can happen in any state.
type act struct {
	steps   []domain.ScenarioStep // at times from now on
	events  []sequence.Event
	pass    passing
	person  bool // people do it, by pressing, by moving, by a command
	alone   bool // no person asks for light: a sensor reports, time passes
	failure bool // no way out of anything: power is lost, an emergency begins
	button  int  // index in lister.buttons of a press or hold; -1: none
}

// moment is how close before and after a turn things are tried.
const moment = sequence.Second

// do lets the act happen; false where it cannot just now.
func (a *act) do(s *sequence.State) bool {
	if a.pass != atOnce {
		next := s.NextTurn()
		if a.pass == toTurn && next != sequence.Never {
			s.AdvanceTo(next + moment)
			return true
		}
		if a.pass == before && next != sequence.Never && next > s.Now()+2*moment {
			s.AdvanceTo(next - moment)
			return true
		}
		return false
	}
	if !fits(s, a.steps[0].Happen) {
		return false
	}
	now := s.Now()
	for _, e := range a.events {
		e.At += now
		s.Do(e)
	}
	return true
}

// fits tells whether something from outside makes sense: it ends only where it
// has begun, and one thing from outside is there at a time.
func fits(s *sequence.State, h domain.Happening) bool {
	quiet := !s.Demand() && !s.Emergency() && s.Online()
	switch h {
	case domain.DemandStarted, domain.EmergencyBegan, domain.NetworkLost, domain.PowerLost:
		return quiet
	case domain.DemandEnded:
		return s.Demand()
	case domain.EmergencyEnded:
		return s.Emergency()
	case domain.NetworkRestored:
		return !s.Online()
	case domain.PartitionOpens:
		return s.Partition() != domain.PartitionOpen
	case domain.PartitionCloses:
		return s.Partition() != domain.PartitionClosed
	}
	return true
}

// button is one whose cells are like no other's before it, with those that have
// the same cells.
type button struct {
	word  string // its cells
	names []buttonName
}

type buttonName struct {
	device domain.ID
	number int
}

// lister lists what can happen in a room.
type lister struct {
	p       *sequence.Program
	modes   bool
	parts   bool
	acts    []act
	buttons []button
	words   []string // what all acts are, without names
}

// listed gives all acts: presses first, so that a way with a person in it is
// found before a longer one without.
func listed(p *sequence.Program, modes, parts bool) *lister {
	l := &lister{p: p, modes: modes, parts: parts}
	for d := range p.Design.Devices {
		l.presses(d)
	}
	l.sensors()
	l.readings()
	l.outside()
	l.acts = append(l.acts, act{pass: toTurn, alone: true, button: -1}, act{pass: before, alone: true, button: -1})
	return l
}

// add files an act for steps that the room has a place for.
func (l *lister) add(a act, word string, steps ...domain.ScenarioStep) {
	for i := range steps {
		e, err := l.p.EventOf(&steps[i])
		if err != nil {
			return
		}
		a.events = append(a.events, e)
	}
	a.steps = steps
	l.acts, l.words = append(l.acts, a), append(l.words, word)
}

// presses adds the buttons of a device that have cells, unless another one has
// the same.
func (l *lister) presses(d int) {
	dev := &l.p.Design.Devices[d]
	t := l.p.Project.Book.Find(dev.Type)
	if t == nil {
		return
	}
	for n := 1; n <= t.Buttons; n++ {
		press, hold := l.p.Acts(d, n)
		if !press && !hold {
			continue
		}
		word := l.cells(dev.ID, n)
		if i := slices.IndexFunc(l.buttons, func(b button) bool { return b.word == word }); i >= 0 {
			l.buttons[i].names = append(l.buttons[i].names, buttonName{dev.ID, n})
			continue
		}
		l.buttons = append(l.buttons, button{word, []buttonName{{dev.ID, n}}})
		a := act{person: true, button: len(l.buttons) - 1}
		if press {
			l.add(a, word, domain.ScenarioStep{Happen: domain.Pressed, Device: dev.ID, Button: n})
		}
		if hold {
			l.add(a, word, domain.ScenarioStep{Happen: domain.HoldStarted, Device: dev.ID, Button: n}, domain.ScenarioStep{Happen: domain.HoldEnded, Device: dev.ID, Button: n, At: heldFor})
		}
	}
}

// heldFor is how long a button is held that is tried.
const heldFor units.Seconds = 2

// cells tells what a button does, by the loads' places. A wall-box device that the
// matrix is silent about has its own.
func (l *lister) cells(dev domain.ID, n int) string {
	word := ""
	for i := range l.p.Design.Loads {
		for _, on := range []domain.Gesture{domain.Press, domain.Hold} {
			if k := l.p.Design.Link(domain.Input{Device: dev, Button: n, On: on}, l.p.Design.Loads[i].ID); k != nil && k.Do.Verb != domain.Nothing {
				word += fmt.Sprintf("%s %d %s;", on, i, k.Do)
			}
		}
	}
	if word == "" {
		word = fmt.Sprintf("own %d", n)
	}
	return word
}

// sensors gives one sensor of each class its say, and one of those that act on
// nothing here where a condition asks for people.
func (l *lister) sensors() {
	told := map[string]bool{}
	for d := range l.p.Design.Devices {
		dev := &l.p.Design.Devices[d]
		t := l.p.Project.Book.Find(dev.Type)
		class := l.p.SensorClass(d)
		if t == nil || !t.Kind.Traits().Presence || told[class] {
			continue
		}
		told[class] = true
		for _, h := range []domain.Happening{domain.Occupied, domain.Vacant} {
			l.add(act{person: true, alone: true, button: -1}, fmt.Sprintf("%s %s %g", h, class, float64(dev.Delay)), domain.ScenarioStep{Happen: h, Device: dev.ID})
		}
	}
}

// readings of daylight, one for each stretch between the levels that an intent asks
// about, where daylight may switch or decide.
func (l *lister) readings() {
	matters := false
	edges := []units.Lux{0}
	for i := range l.p.Design.Intents {
		in := &l.p.Design.Intents[i]
		matters = matters || in.Kind == domain.ByDaylight && in.MayOff || in.DarkerThan > 0 || in.BrighterThan > 0
		for _, e := range []units.Lux{in.DarkerThan, in.BrighterThan} {
			if e > 0 {
				edges = append(edges, e)
			}
		}
		if in.Kind == domain.ByDaylight && in.Target > 0 {
			edges = append(edges, in.Target)
		}
	}
	if !matters {
		return
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	told := map[string]bool{}
	for d := range l.p.Design.Devices {
		dev := &l.p.Design.Devices[d]
		t := l.p.Project.Book.Find(dev.Type)
		if t == nil || !t.Kind.Traits().Daylight {
			continue
		}
		acts := l.actsOn(dev.ID)
		if told[acts] {
			continue
		}
		told[acts] = true
		for i, from := range edges {
			lx := 2*from + 100
			if i+1 < len(edges) {
				lx = (from + edges[i+1]) / 2
			}
			if i == 0 {
				l.reads(dev.ID, 0, acts)
			}
			l.reads(dev.ID, lx, acts)
		}
	}
}

func (l *lister) reads(dev domain.ID, lx units.Lux, on string) {
	l.add(act{alone: true, button: -1}, fmt.Sprintf("reads %g %s", float64(lx), on), domain.ScenarioStep{Happen: domain.DaylightRead, Device: dev, Lux: lx})
}

// actsOn names the loads that a device acts on by their places.
func (l *lister) actsOn(dev domain.ID) string {
	word := ""
	for i := range l.p.Design.Loads {
		if k := l.p.Design.Link(domain.Input{Device: dev}, l.p.Design.Loads[i].ID); k != nil && k.Do.Verb == domain.Acts {
			word += fmt.Sprintf("%d %s;", i, k.Do.If)
		}
	}
	return word
}

// outside is what comes from outside of the room, as far as intents listen.
func (l *lister) outside() {
	kinds := map[domain.IntentKind]bool{}
	for i := range l.p.Design.Intents {
		in := &l.p.Design.Intents[i]
		kinds[in.Kind] = true
		if in.Kind == domain.ByAV {
			l.command(in)
		}
	}
	l.contacts()
	l.modeChanges()
	pair := func(failure bool, a, b domain.Happening) {
		l.add(act{button: -1, failure: failure}, string(a), domain.ScenarioStep{Happen: a})
		l.add(act{button: -1}, string(b), domain.ScenarioStep{Happen: b})
	}
	if kinds[domain.OnDemandResponse] {
		pair(true, domain.DemandStarted, domain.DemandEnded)
	}
	if kinds[domain.OnEmergency] {
		pair(true, domain.EmergencyBegan, domain.EmergencyEnded)
	}
	if kinds[domain.OnNetworkLoss] {
		pair(true, domain.NetworkLost, domain.NetworkRestored)
	}
	if l.parts {
		pair(false, domain.PartitionOpens, domain.PartitionCloses)
	}
	l.add(act{failure: true, button: -1}, "power", domain.ScenarioStep{Happen: domain.PowerLost}, domain.ScenarioStep{Happen: domain.PowerRestored, At: 1})
}

func (l *lister) command(in *domain.Intent) {
	word := "av " + in.Command
	if !slices.Contains(l.words, word) {
		l.add(act{person: true, button: -1}, word, domain.ScenarioStep{Happen: domain.AVCommand, Text: in.Command})
	}
}

// modeChanges lets the room go into each mode that something hangs on or that
// something brings.
func (l *lister) modeChanges() {
	if !l.modes {
		return
	}
	modes := map[domain.Mode]bool{domain.NormalMode: true}
	for i := range l.p.Design.Intents {
		in := &l.p.Design.Intents[i]
		for _, m := range in.Modes {
			modes[m] = true
		}
		if in.Kind == domain.OnMode || in.Do == domain.SetMode {
			modes[in.Mode] = true
		}
	}
	for _, line := range l.p.Project.Calendar {
		if m, err := domain.ParseModeTime(line); err == nil {
			modes[m.Mode] = true
		}
	}
	for _, m := range domain.Modes() {
		if modes[m] {
			l.add(act{button: -1}, "mode "+string(m), domain.ScenarioStep{Happen: domain.ModeChanged, Text: string(m)})
		}
	}
}

// contacts lets each input that an intent listens to close and open.
func (l *lister) contacts() {
	for d := range l.p.Design.Devices {
		dev := &l.p.Design.Devices[d]
		listens := slices.ContainsFunc(l.p.Design.Intents, func(in domain.Intent) bool { return in.Kind == domain.ByContact && in.Device == dev.ID })
		if t := l.p.Project.Book.Find(dev.Type); listens && t != nil {
			for n := 1; n <= max(1, t.Inputs); n++ {
				if n == 1 || l.p.Design.Links != nil && l.inputActs(dev.ID, n) {
					for _, h := range []domain.Happening{domain.ContactClosed, domain.ContactOpened} {
						l.add(act{person: true, button: -1}, fmt.Sprintf("%s %d %d", h, d, n), domain.ScenarioStep{Happen: h, Device: dev.ID, Button: n})
					}
				}
			}
		}
	}
}

func (l *lister) inputActs(dev domain.ID, n int) bool {
	for i := range l.p.Design.Links {
		if k := &l.p.Design.Links[i]; k.Device == dev && k.Button == n && k.Do.Verb == domain.Acts {
			return true
		}
	}
	return false
}
