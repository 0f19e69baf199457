package design

import (
	"scopewright/domain"
)

// cells decides the cells of the matrix that devices which are there leave
// open, as they do for loads that came after them: what a row does to all the
// other lighting it does to new lighting too, else nothing.
func (d *draft) cells() {
	d.group(ofCells, "Cells of the matrix", "An empty cell may mean nothing on purpose or not thought of; the installer cannot tell.", []topic{ofLoads}, func() {
		for _, row := range domain.MatrixRows(d.p, &d.r.Design, false) {
			dev := d.r.Design.Device(row.Device)
			tr := d.traits(dev)
			if dev == nil || tr.OwnOnly {
				continue
			}
			said, some := d.saidOf(row.Input)
			if !some && !tr.Presence && !tr.Daylight {
				continue // a row with nothing in it is a question for the designer
			}
			for i := range d.r.Design.Loads {
				l := &d.r.Design.Loads[i]
				if d.r.Design.Link(row.Input, l.ID) != nil {
					continue
				}
				text := "-"
				switch {
				case tr.Presence && d.answers(l):
					text = "ACT"
				case tr.Presence:
				case tr.Daylight && (d.firstRow(l) || l.Zone == domain.ZoneSecondary && dimmed(l)):
					text = "ACT"
				case said != "" && l.Kind == domain.Lighting && !tr.Daylight:
					text = d.cell(said, l)
				}
				d.set("links", string(domain.LinkID(row.Device, row.Button, row.On, l.ID)), text)
				d.adds("%s %s on %s: %s", row.Tag, row.Label, l.Tag, text)
			}
		}
	})
}

// saidOf gives what a row does to all lighting that it says something of, empty
// where it does not do the same to all; some tells that it says anything.
func (d *draft) saidOf(in domain.Input) (said string, some bool) {
	mixed := false
	for _, l := range d.lighting() {
		k := d.r.Design.Link(in, l.ID)
		if k == nil {
			continue
		}
		text := k.Do.String()
		mixed = mixed || some && text != said
		said, some = text, true
	}
	if mixed {
		said = ""
	}
	return said, some
}

// answers tells that an intent says what a load does when sensors report people,
// or that none of the room does so yet and one will.
func (d *draft) answers(l *domain.Load) bool {
	kind := domain.ByPresence
	if l.Kind == domain.Receptacle {
		kind = domain.ForReceptacles
	}
	some := false
	for i := range d.r.Design.Intents {
		if in := &d.r.Design.Intents[i]; in.Kind == kind {
			if some = true; in.ActsOn(l) {
				return true
			}
		}
	}
	return !some
}
