package propose

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// StartingIntents gives intents to start from for a room of a use, fitted to
// what its matrix says: which loads sensors and stations act on, which are
// egress lighting, which scenes there are. A sensor counts once it acts on a
// load. The numbers are common practice with no published source; the designer
// sets them. The intents have no IDs and no order yet.
func StartingIntents(p *domain.Project, use domain.Use, d *domain.Design) []domain.Intent {
	s := site{p: p, d: d, model: modelOf(use)}
	s.look()
	var out []domain.Intent
	for _, add := range []func([]domain.Intent) []domain.Intent{s.hand, s.presence, s.daylight, s.schedule, s.receptacles, s.av, s.contacts, s.demand, s.emergency, s.powerBack} {
		out = add(out)
	}
	return out
}

// MissingKinds gives those of a list whose kind the design has no intent of yet.
func MissingKinds(list []domain.Intent, d *domain.Design) []domain.Intent {
	return slices.DeleteFunc(slices.Clone(list), func(in domain.Intent) bool {
		return slices.ContainsFunc(d.Intents, func(old domain.Intent) bool { return old.Kind == in.Kind })
	})
}

// model is how rooms of a use behave.
type model struct {
	entry     units.Level // where occupancy sensors act
	delay     units.Seconds
	warning   units.Seconds
	off       units.Level // level of the vacant room
	watchdog  units.Seconds
	sweep     string // time of the evening's switching off; "" for none
	opens     string // time at which the schedule lights a room without sensors
	sheds     bool   // takes part in demand response
	back      domain.Restore
	key, door bool // what a contact is: a key that holds off, a door that locks on
}

const (
	egressLow = 30    // % that egress lighting keeps when nobody is there; the adopted code may ask for more
	aDay      = 86400 // s
)

// modelOf gives the model of a use.
func modelOf(use domain.Use) model {
	m := model{entry: 100, delay: 900, warning: 60, back: domain.RestoreLast}
	switch use {
	case "office-open":
		m.entry, m.off, m.sweep, m.sheds = 50, 20, "22:00", true
	case "classroom":
		m.key = true
	case "corridor":
		m.delay, m.warning, m.off, m.watchdog, m.back = 600, 0, egressLow, aDay, domain.RestoreFull
	case "stair":
		m.delay, m.warning, m.off, m.watchdog, m.back = 300, 0, egressLow, aDay, domain.RestoreFull
	case "restroom":
		m.warning, m.watchdog, m.back = 120, aDay, domain.RestoreFull
	case "storage", "copy-room":
		m.delay = 600
	case "electrical":
		m.delay, m.warning = 1800, 120
	case "warehouse":
		m.entry, m.delay, m.off, m.warning, m.sweep, m.door = 50, 600, 20, 0, "22:00", true
	case "lobby", "retail":
		m.opens, m.sweep = "07:00", "22:00"
	}
	return m
}

func (s *site) hand(out []domain.Intent) []domain.Intent {
	loads := s.lights(func(l *domain.Load) bool { return s.pressed[l.ID] })
	if len(loads) == 0 {
		return out
	}
	in := domain.NewIntent("", domain.ByHand)
	in.Loads = s.named(loads)
	calm(&in, loads)
	return append(out, in)
}

// presence has a statement for the room and one for its egress lighting, which
// stays lit when nobody is there.
func (s *site) presence(out []domain.Intent) []domain.Intent {
	for _, want := range []func(*domain.Load) bool{plain, egress} {
		loads := s.lights(func(l *domain.Load) bool { return s.sensed[l.ID] && want(l) })
		if len(loads) == 0 {
			continue
		}
		in := domain.NewIntent("", domain.ByPresence)
		in.Loads, in.Delay, in.Warning, in.Watchdog = s.named(loads), s.delay, s.warning, s.watchdog
		in.OffLevel = s.off
		if !s.occupancy && !loads[0].Egress {
			in.OffLevel = 0 // people press for light: what they leave goes off
		}
		if in.OffLevel > 0 && !slices.ContainsFunc(loads, dimmed) {
			in.OffLevel = 0
		}
		if loads[0].Egress {
			in.OffLevel, in.Warning = max(in.OffLevel, egressLow), 0
		}
		in.OffLevel = s.lowest(in.OffLevel, loads)
		if s.occupancy {
			in.Enters, in.Level = true, s.lowest(s.entry, loads)
		}
		if in.Warning == 0 {
			in.WarnTo = 0
		}
		calm(&in, loads)
		out = append(out, in)
	}
	return out
}

func (s *site) daylight(out []domain.Intent) []domain.Intent {
	loads := s.lights(func(l *domain.Load) bool { return s.read[l.ID] })
	if len(loads) == 0 || !slices.ContainsFunc(loads, dimmed) {
		return out
	}
	in := domain.NewIntent("", domain.ByDaylight)
	in.Loads, in.Target = s.named(loads), domain.DaylightTarget(s.p.Units)
	if slices.ContainsFunc(loads, egress) {
		in.Lowest = max(in.Lowest, egressLow)
	} else {
		in.MayOff = true // energy codes ask for it where daylight is enough
	}
	in.Lowest = s.lowest(in.Lowest, loads)
	return append(out, in)
}

// schedule turns a room off in the evening unless people are in it, where its
// sensors leave something lit or where it has none.
func (s *site) schedule(out []domain.Intent) []domain.Intent {
	loads := s.lights(plain)
	if s.sweep == "" || len(loads) == 0 {
		return out
	}
	sensed := slices.ContainsFunc(loads, func(l *domain.Load) bool { return s.sensed[l.ID] })
	if s.opens != "" && sensed {
		return out
	}
	in := domain.NewIntent("", domain.BySchedule)
	in.Loads, in.OffAt, in.Spares = s.named(loads), s.sweep, sensed
	if s.opens != "" {
		in.OnAt, in.Level = s.opens, 100
	}
	calm(&in, loads)
	return append(out, in)
}

func (s *site) receptacles(out []domain.Intent) []domain.Intent {
	var live []domain.ID
	all := 0
	for i := range s.d.Loads {
		if l := &s.d.Loads[i]; l.Kind == domain.Receptacle {
			if all++; s.sensed[l.ID] {
				live = append(live, l.ID)
			}
		}
	}
	if len(live) == 0 {
		return out
	}
	in := domain.NewIntent("", domain.ForReceptacles)
	if in.Delay = s.delay; len(live) < all {
		in.Loads = live
	}
	return append(out, in)
}

// av goes to the scene for presenting and, at its end, back to what was before.
func (s *site) av(out []domain.Intent) []domain.Intent {
	scene := s.presenting()
	for _, dev := range s.listening {
		if s.traits(dev).Inputs || scene == 0 {
			continue
		}
		start, end := domain.NewIntent("", domain.ByAV), domain.NewIntent("", domain.ByAV)
		start.Device, start.Scene = dev.ID, scene
		end.Device, end.Command, end.Scene, end.Do = dev.ID, "presentation end", 0, domain.GoBack
		return append(out, start, end)
	}
	return out
}

// presenting gives the number of the scene in which somebody shows something:
// by its name, else the second one; 0 where there is none.
func (s *site) presenting() int {
	for i := range s.d.Scenes {
		name := strings.ToLower(s.d.Scenes[i].Name)
		for _, word := range []string{"present", "screen", "film", "video"} {
			if strings.Contains(name, word) {
				return s.d.Scenes[i].Number
			}
		}
	}
	if len(s.d.Scenes) > 1 {
		return s.d.Scenes[1].Number
	}
	return 0
}

// contacts lets a key hold off what is automatic, and an open door keep the
// light on, where rooms of the use have one.
func (s *site) contacts(out []domain.Intent) []domain.Intent {
	for _, dev := range s.listening {
		loads := s.lights(func(l *domain.Load) bool { return slices.Contains(s.heard[dev.ID], l.ID) })
		if !s.traits(dev).Inputs || len(loads) == 0 || !s.key && !s.door {
			continue
		}
		begin, end := domain.NewIntent("", domain.ByContact), domain.NewIntent("", domain.ByContact)
		begin.Device, begin.Loads, end.Device, end.Loads = dev.ID, s.named(loads), dev.ID, s.named(loads)
		end.Do, end.Level = domain.Release, 0
		if s.key {
			begin.Command, begin.Do, begin.Hold, begin.Level, end.Command = "closed", domain.HoldAutomatic, 4*3600, 0, "open"
		} else {
			begin.Command, begin.Do, end.Command = "open", domain.Lock, "closed"
		}
		return append(out, begin, end)
	}
	return out
}

func (s *site) demand(out []domain.Intent) []domain.Intent {
	loads := s.lights(func(l *domain.Load) bool { return plain(l) && dimmed(l) })
	if !s.sheds || len(loads) == 0 {
		return out
	}
	in := domain.NewIntent("", domain.OnDemandResponse)
	in.Loads = s.named(loads)
	return append(out, in)
}

// emergency keeps the egress lighting that is controlled at full.
func (s *site) emergency(out []domain.Intent) []domain.Intent {
	loads := s.lights(func(l *domain.Load) bool { return l.Egress && s.d.Device(l.Controller) != nil })
	if len(loads) == 0 {
		return out
	}
	in := domain.NewIntent("", domain.OnEmergency)
	in.Loads = s.named(loads)
	return append(out, in)
}

func (s *site) powerBack(out []domain.Intent) []domain.Intent {
	if len(s.lights(func(l *domain.Load) bool { return s.d.Device(l.Controller) != nil })) == 0 {
		return out
	}
	in := domain.NewIntent("", domain.OnPowerBack)
	in.Restore = s.back
	return append(out, in)
}
