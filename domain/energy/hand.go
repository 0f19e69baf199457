package energy

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// HandText says what switching by hand stands for in the figures.
const HandText = "By hand: the same room without sensors and schedules. LENI takes its factors for switches that people use. The weeks are the same weeks and people with the room's own stations, and a switch at the door where these do not light and darken a load: people light the room as they come, let it burn while they are out for a while, and the day's last turns it off but for the evenings that the limits say. What the design keeps burning at night is off then. Where people switch off whenever they leave, the weeks save less than is shown, most of all in rooms that are often empty."

// doorSwitch is the switch at the door of a room played by hand, on and off; no book
// names a type so.
const doorSwitch = "switch at the door"

// withDoor gives a project whose book knows the switch at the door.
func withDoor(p *domain.Project) *domain.Project {
	out := *p
	out.Book = append(slices.Clone(p.Book), equipment.Type{ID: doorSwitch, Kind: equipment.Station, Supply: equipment.Mains, Buttons: 2})
	return &out
}

// byHand gives a design as it is without its automatic intents: its stations and how
// they dim remain. Loads that no button of theirs both lights and darkens get a switch
// at the door, full and off.
func byHand(d *domain.Design) *domain.Design {
	out := *d
	out.Intents = slices.DeleteFunc(slices.Clone(d.Intents), func(in domain.Intent) bool { return in.Kind != domain.ByHand || in.Conditional() })
	out.Devices = append(slices.Clone(d.Devices), domain.Device{ID: doorSwitch, Type: doorSwitch})
	out.Links = slices.Clone(d.Links)
	for i := range d.Loads {
		l := &d.Loads[i]
		if l.Kind != domain.Lighting || switched(d, l.ID) {
			continue
		}
		for button, level := range []units.Level{100, 0} {
			out.Links = append(out.Links, domain.Link{ID: domain.LinkID(doorSwitch, button+1, domain.Press, l.ID), Device: doorSwitch, Button: button + 1, On: domain.Press, Load: l.ID, Do: domain.Action{Verb: domain.ToLevel, Level: level}})
		}
	}
	return &out
}

// switched tells that buttons both light and darken a load, the latter without lighting
// another.
func switched(d *domain.Design, load domain.ID) bool {
	on, off := false, false
	for i := range d.Links {
		if k := &d.Links[i]; k.Load == load && k.Button > 0 && k.On == domain.Press {
			on = on || k.Do.TurnsOn(d, load)
			off = off || k.Do.TurnsOff(d, load) && darkens(d, k)
		}
	}
	return on && off
}

// darkens tells that a button turns off all of the lighting that it acts on.
func darkens(d *domain.Design, button *domain.Link) bool {
	return !slices.ContainsFunc(d.Links, func(k domain.Link) bool {
		if k.Device != button.Device || k.Button != button.Button || k.On != button.On || k.Do.Verb == domain.Nothing {
			return false
		}
		l := d.Load(k.Load)
		return l != nil && l.Kind == domain.Lighting && !k.Do.TurnsOff(d, k.Load)
	})
}

// playHand plays a room's weeks as if it were switched by hand and gives kWh a year of
// lamps and charging: switches keep no standby, and no sensor dims, so that no daylight
// is played.
func (m *Model) playHand(y *Year) (float64, error) {
	r := newPlayer(m.door, byHand(&y.Room.Design))
	weeks := m.weeks[y.Setting.Profile]
	if err := r.play(weeks); err != nil {
		return 0, err
	}
	sum := y.LENI.ByHand.Standby
	for _, b := range r.year(len(weeks)) {
		for i := range y.LENI.Lines {
			if l := &y.LENI.Lines[i]; l.Load.ID == b.Load {
				sum += b.Full * float64(l.Watts) / 1000
			}
		}
	}
	return sum, nil
}
