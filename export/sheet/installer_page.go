package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// InstallerPage builds one page for each room to be read at arm's length: what to mount
// where, what to wire, what to set, what each button does, what to engrave, and what still
// works when something is gone.
func InstallerPage(c *Content) []Sheet {
	var out []Sheet
	for _, r := range c.rooms() {
		out = append(out, r.installerSheet())
	}
	return out
}

func (r *room) installerSheet() Sheet {
	s := Sheet{ID: "install-" + r.slug, Number: r.installNumber(), Title: "Installer's page, room " + r.Label(), Head: r.head()}
	if len(r.Design.Devices) == 0 {
		s.Blocks = []Block{BigText{"Nothing to mount in this room."}}
		return s
	}
	s.Blocks = []Block{BigText{fmt.Sprintf("%s: mount %s, connect %s.", r.Label(), count(len(r.Design.Devices), "device", "devices"), count(len(r.Design.Loads), "load", "loads"))}}
	if r.hasEgress() {
		s.Blocks = append(s.Blocks, toCaution(domain.CautionEgress))
	}
	s.Blocks = append(s.Blocks, toCaution(domain.CautionMains), Heading{1, "Mount"}, r.mountTable(), Heading{1, "Connect"}, r.wireTable())
	if set := r.settingTable(); len(set.Rows) > 0 {
		s.Blocks = append(s.Blocks, Heading{1, "Set"}, set)
	}
	s.Blocks = append(s.Blocks, r.buttonMaps()...)
	s.Blocks = append(s.Blocks, Heading{1, "What still works"}, r.failureTable(r.powerBackShort()),
		Heading{1, "Done"}, Signatures{Items: []Signature{{Role: "Installer"}}})
	return s
}

// tick is the box to check off; the embedded font has it.
const tick = "☐"

func (r *room) mountTable() Table {
	t := Table{Columns: []Column{{Title: "Done", Align: Center, Width: 0.8}, {Title: "Tag", Width: 1.2}, {Title: "What", Width: 3.4}, {Title: "Where", Width: 3}, {Title: "Box", Width: 2.2}, {Title: "Power", Width: 1.8}}}
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		typ := r.c.project.Book.Find(d.Type)
		where := r.mounting(d, typ)
		if d.Place != "" {
			where = d.Place + "; " + where
		}
		box := notStated
		if typ != nil {
			box = or(typ.Box, notStated)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(tick), TextCell(d.Tag), TextCell(typeName(typ, d.Type)), TextCell(where), TextCell(box), TextCell(r.supply(d, typ))}})
	}
	return t
}

func (r *room) wireTable() Table {
	t := Table{Empty: "No loads.", Columns: []Column{{Title: "Done", Align: Center, Width: 0.8}, {Title: "Output", Width: 1.4}, {Title: "Load", Width: 3}, {Title: "Circuit", Width: 1.5}, {Title: "Volts", Width: 1.2}, {Title: "Dimming", Width: 2}}}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		volts := notStated
		if v := l.Voltage(r.c.project); v > 0 {
			volts = units.Trim(float64(v), 1) + " V"
		}
		name := l.Tag + " " + or(l.Name, r.layerOf(l))
		if l.Egress {
			name += " (egress)"
		}
		dimming := none
		if l.Kind == domain.Lighting {
			dimming = or(string(l.Dimming), "switched") + pairText(l)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(tick), TextCell(r.outputText(l)), TextCell(name), TextCell(or(l.Circuit, notStated)), TextCell(volts), TextCell(dimming)}})
	}
	return t
}

// settingTable lists what is set at sensors and contact inputs; buttons have their map.
func (r *room) settingTable() Table {
	t := Table{Columns: []Column{{Title: "Done", Align: Center, Width: 0.8}, {Title: "Tag", Width: 1.2}, {Title: "Setting", Width: 4}, {Title: "Talks through", Width: 2}}}
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		typ := r.c.project.Book.Find(d.Type)
		if typ == nil {
			continue
		}
		var set []string
		switch tr := typ.Kind.Traits(); {
		case tr.Presence:
			set = r.presenceSettings(d)
		case tr.Daylight:
			set = []string{or(string(d.Loop), "loop not stated")}
		case typ.Supply != equipment.Battery:
			continue
		}
		parent := r.parent(d, typ)
		if parent == none {
			parent = "mains network"
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(tick), TextCell(d.Tag), TextCell(or(joined(set), "buttons as below")), TextCell(parent)}})
	}
	return t
}

// buttonMaps shows every station button by button, then the labels to engrave.
func (r *room) buttonMaps() []Block {
	labels := Table{Columns: []Column{{Title: "Station", Width: 1}, {Title: "Labels, by button", Width: 6}}}
	var maps []Block
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		typ := r.c.project.Book.Find(d.Type)
		if typ == nil || !typ.Kind.Traits().Buttons {
			continue
		}
		b := Buttons{Station: d.Tag + " " + typ.Name, Where: or(d.Place, "place "+notStated) + "; " + r.mounting(d, typ)}
		var engraved []string
		for n := 1; n <= typ.Buttons; n++ {
			b.Items = append(b.Items, ButtonLine{Number: n, Label: or(d.ButtonLabel(n), "no label"), Action: r.buttonAction(d, n)})
			engraved = append(engraved, fmt.Sprintf("%d %s", n, or(d.ButtonLabel(n), "no label")))
		}
		labels.Rows = append(labels.Rows, Row{Cells: []Cell{TextCell(d.Tag), TextCell(strings.Join(engraved, ";  "))}})
		maps = append(maps, b)
	}
	if len(maps) == 0 {
		return nil
	}
	return append(append([]Block{Heading{1, "Buttons"}}, maps...), Heading{1, "Labels to engrave"}, labels)
}

// buttonAction says in few words what a press does, and a hold where it does something.
func (r *room) buttonAction(d *domain.Device, n int) string {
	text := "nothing, on purpose"
	does, open := r.actions(d, domain.Input{Device: d.ID, Button: n, On: domain.Press})
	switch {
	case len(does) > 0:
		text = joined(does)
	case len(open) > 0:
		text = "undecided: ask the designer"
	}
	if held, _ := r.actions(d, domain.Input{Device: d.ID, Button: n, On: domain.Hold}); len(held) > 0 && !r.isOwnOnly(d) {
		text += ". Hold: " + joined(held)
	}
	return sentence(text)
}

func (r *room) isOwnOnly(d *domain.Device) bool {
	t := r.c.project.Book.Find(d.Type)
	return t != nil && t.Kind.Traits().OwnOnly
}
