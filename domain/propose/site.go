package propose

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// site is what of a room decides what can be proposed.
type site struct {
	p *domain.Project
	d *domain.Design
	model
	lighting  []*domain.Load
	pressed   map[domain.ID]bool // loads that a person's press reaches
	sensed    map[domain.ID]bool // loads that a presence sensor acts on
	read      map[domain.ID]bool // loads that a daylight sensor acts on
	occupancy bool               // some sensor lights on entry
	listening []*domain.Device   // AV interfaces and contact inputs, in order
	heard     map[domain.ID][]domain.ID
}

// look reads the design.
func (s *site) look() {
	s.pressed, s.sensed, s.read, s.heard = map[domain.ID]bool{}, map[domain.ID]bool{}, map[domain.ID]bool{}, map[domain.ID][]domain.ID{}
	for i := range s.d.Loads {
		l := &s.d.Loads[i]
		if l.Kind == domain.Lighting {
			s.lighting = append(s.lighting, l)
		}
		if c := s.d.Device(l.Controller); c != nil && s.traits(c).OwnOnly {
			s.pressed[l.ID] = true
		}
	}
	for i := range s.d.Devices {
		if t := s.p.Book.Find(s.d.Devices[i].Type); t != nil && (t.Kind == equipment.AV || t.Kind.Traits().Inputs) {
			s.listening = append(s.listening, &s.d.Devices[i])
		}
	}
	for i := range s.d.Links {
		s.lookAt(&s.d.Links[i])
	}
}

func (s *site) lookAt(k *domain.Link) {
	dev := s.d.Device(k.Device)
	if dev == nil || s.d.Load(k.Load) == nil || k.Do.Verb == domain.Nothing || k.Do.Verb == "" {
		return
	}
	switch tr := s.traits(dev); {
	case tr.Buttons:
		s.pressed[k.Load] = true
	case k.Do.Verb != domain.Acts:
	case tr.Presence:
		s.sensed[k.Load] = true
		s.occupancy = s.occupancy || dev.Presence == domain.Occupancy
	case tr.Daylight:
		s.read[k.Load] = true
	case !slices.Contains(s.heard[dev.ID], k.Load):
		s.heard[dev.ID] = append(s.heard[dev.ID], k.Load)
	}
}

func (s *site) traits(d *domain.Device) equipment.Traits {
	if t := s.p.Book.Find(d.Type); t != nil {
		return t.Kind.Traits()
	}
	return equipment.Traits{}
}

// lights gives the lighting loads that are as asked.
func (s *site) lights(want func(*domain.Load) bool) []*domain.Load {
	var out []*domain.Load
	for _, l := range s.lighting {
		if want(l) {
			out = append(out, l)
		}
	}
	return out
}

// named gives the IDs of loads for an intent: none, which means all, where
// they are all.
func (s *site) named(loads []*domain.Load) []domain.ID {
	if len(loads) == len(s.lighting) {
		return nil
	}
	out := make([]domain.ID, len(loads))
	for i, l := range loads {
		out[i] = l.ID
	}
	return out
}

// lowest raises a level to what all of the loads can be dimmed to; loads that
// are only switched know 0 and 100.
func (s *site) lowest(level units.Level, loads []*domain.Load) units.Level {
	if level == 0 {
		return 0
	}
	dims := false
	for _, l := range loads {
		if !dimmed(l) {
			continue
		}
		dims = true
		if lum := s.p.Luminaire(l.Luminaire); lum != nil {
			level = max(level, lum.DimsTo)
		}
	}
	if !dims {
		return 100
	}
	return level
}

func dimmed(l *domain.Load) bool { return l.Dimming != "" && l.Dimming != equipment.Switched }

// calm takes the fade and the warning from an intent whose loads cannot show
// them.
func calm(in *domain.Intent, loads []*domain.Load) {
	if !slices.ContainsFunc(loads, dimmed) {
		in.Fade, in.Warning, in.WarnTo = 0, 0, 0
	}
}

func egress(l *domain.Load) bool { return l.Egress }
func plain(l *domain.Load) bool  { return !l.Egress }
