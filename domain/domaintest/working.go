package domaintest

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
)

// Working adds n devices of a type, with IDs w1, w2 and so on, that have all
// that they need: labels and links to every load, a parent with room, a feed,
// and sending that asks nothing of the room's broadcasts.
func (b *Builder) Working(n int, typ string) *Builder {
	for range n {
		b.n++
		id := domain.ID(fmt.Sprint("w", b.n))
		b.Device(id, typ)
		t := b.P.Book.Find(typ)
		if t.Supply == equipment.Battery {
			b.Set("devices/"+string(id)+"/parent", string(b.freeRouter()))
		}
		if tr := t.Kind.Traits(); tr.Presence || tr.Buttons {
			b.Set("devices/"+string(id)+"/sending", string(domain.ToLoads))
		}
		b.linkAll(id, t)
	}
	return b
}

// freeRouter gives the first router with fewer than 6 children.
func (b *Builder) freeRouter() domain.ID {
	for i := range b.R.Design.Devices {
		r := &b.R.Design.Devices[i]
		if !b.P.Book.Find(r.Type).Routes {
			continue
		}
		children := 0
		for j := range b.R.Design.Devices {
			if b.R.Design.Devices[j].Parent == r.ID {
				children++
			}
		}
		if children < 6 {
			return r.ID
		}
	}
	panic("domaintest: no router has room for another child")
}

// acts are what the buttons of a working station do, from the first.
var acts = []struct{ label, cell string }{{"On", "100"}, {"Off", "0"}, {"Raise", "UP"}, {"Lower", "DN"}, {"On/Off", "TGL"}, {"Last", "LAST"}}

func (b *Builder) linkAll(id domain.ID, t *equipment.Type) {
	tr := t.Kind.Traits()
	for n := 1; tr.Buttons && !tr.OwnOnly && n <= t.Buttons; n++ {
		b.Set("devices/"+string(id)+"/buttons/"+strconv.Itoa(n), acts[n-1].label)
	}
	for i := range b.R.Design.Loads {
		l := b.R.Design.Loads[i]
		lighting := l.Kind == domain.Lighting
		switch {
		case tr.OwnOnly:
		case tr.Buttons:
			for n := 1; n <= t.Buttons; n++ {
				b.Link(id, n, domain.Press, l.ID, either(lighting, acts[n-1].cell, "-"))
			}
		case tr.Inputs:
			b.Link(id, 1, "", l.ID, either(lighting, "ACT", "-"))
		case tr.Daylight:
			b.Link(id, 0, "", l.ID, either(l.Zone == domain.ZoneWindow, "ACT", "-"))
		case tr.Presence:
			b.Link(id, 0, "", l.ID, "ACT")
		case tr.Links:
			b.Link(id, 0, "", l.ID, either(lighting, "ACT", "-"))
		}
	}
	intent := domain.ID("for-" + string(id))
	switch {
	case tr.Inputs:
		b.Do(edit.AddIntent{ID: intent, Kind: domain.ByContact}).Set("intents/"+string(intent)+"/device", string(id))
	case t.Kind == equipment.AV:
		b.Do(edit.AddIntent{ID: intent, Kind: domain.ByAV}).Set("intents/"+string(intent)+"/device", string(id))
	}
}

func either(first bool, yes, no string) string {
	if first {
		return yes
	}
	return no
}

// Spoil changes the design by hand, past the edits: what an old file or a
// change of a typical may leave behind.
func (b *Builder) Spoil(change func(*domain.Design)) *Builder {
	b.R.Design = b.R.Design.Clone()
	change(&b.R.Design)
	if b.R.Typical == nil {
		b.R.Room.Design = b.R.Design
	}
	return b
}
