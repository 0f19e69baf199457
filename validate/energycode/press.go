package energycode

import (
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// key is a button to come: its label and what it does to loads.
type key struct{ label, cell string }

// press gives loads some more keys: on a station with as many free buttons, else on a
// new one of the equipment book.
func (m *mending) press(loads []*rule.Load, keys ...key) {
	if len(loads) == 0 {
		m.stuck = true
		return
	}
	for _, d := range m.devices((*rule.Device).Station) {
		if free := m.free(d); len(free) >= len(keys) {
			m.wire(d.ID, free, loads, keys)
			m.say("give %s %s", rule.Named(d.Tag), labels(keys))
			return
		}
	}
	t := m.station(len(keys))
	if t == nil {
		m.stuck = true
		return
	}
	id := m.f.FreshID("energy code station")
	m.edits = append(m.edits, edit.AddDevice{ID: id, Type: t.ID})
	if t.Supply == equipment.Battery {
		m.set("devices/"+string(id)+"/parent", string(m.router()))
	}
	buttons := make([]int, len(keys))
	for i := range keys {
		buttons[i] = i + 1
	}
	m.wire(id, buttons, loads, keys)
	m.say("add a wall station with %s", labels(keys))
}

// free gives the buttons that have no label and do nothing.
func (m *mending) free(d *rule.Device) []int {
	used := map[int]bool{}
	for i := range m.f.Links {
		if k := &m.f.Links[i]; k.From == d && k.Does() {
			used[k.Button] = true
		}
	}
	var out []int
	for n := 1; n <= d.Type.Buttons; n++ {
		if !used[n] && d.ButtonLabel(n) == "" {
			out = append(out, n)
		}
	}
	return out
}

// station gives a type with just so many buttons, or a few more, that needs no key.
func (m *mending) station(buttons int) *equipment.Type {
	var best *equipment.Type
	for i := range m.f.Project.Book {
		t := &m.f.Project.Book[i]
		keyed := strings.Contains(strings.ToLower(t.Name), "key")
		if t.Kind != equipment.Station || t.Buttons < buttons || keyed || t.Supply == equipment.Wired || t.Supply == equipment.Battery && m.router() == "" {
			continue
		}
		if best == nil || t.Buttons < best.Buttons {
			best = t
		}
	}
	return best
}

// wire labels buttons and says what each does to every load of the room.
func (m *mending) wire(id domain.ID, buttons []int, loads []*rule.Load, keys []key) {
	for i, k := range keys {
		n := buttons[i]
		m.set("devices/"+string(id)+"/buttons/"+strconv.Itoa(n), k.label)
		for at := range m.f.Loads {
			l, cell := &m.f.Loads[at], "-"
			for _, want := range loads {
				if want.ID == l.ID {
					cell = k.cell
				}
			}
			m.set("links/"+string(domain.LinkID(id, n, domain.Press, l.ID)), cell)
		}
	}
}

func labels(keys []key) string {
	var out []string
	for _, k := range keys {
		out = append(out, k.label)
	}
	return domain.JoinWords(out)
}
