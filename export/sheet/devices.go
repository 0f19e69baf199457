package sheet

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// deviceColumns are the columns of a device table after the tag.
func deviceColumns() []Column {
	return []Column{
		{Title: "Type", Width: 3.4}, {Title: "Place", Width: 2.2}, {Title: "Mounting, height", Width: 2},
		{Title: "Supply", Width: 1.7}, {Title: "Parent", Width: 1.3}, {Title: "Settings", Width: 4},
	}
}

// deviceTable lists the devices of one room.
func (r *room) deviceTable() Table {
	t := Table{Caption: "Devices", Columns: append([]Column{{Title: "Tag", Width: 1.2}}, deviceColumns()...),
		Empty: "No devices have been chosen yet.", Note: "Heights are to the center of the device, above finished floor."}
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		cells := append([]Cell{markIf(TextCell(or(d.Tag, "no tag")), r.departures().added("devices", d.ID))}, r.deviceCells(d)...)
		t.Rows = append(t.Rows, Row{Cells: cells, Changed: r.changedIn("devices", d.ID)})
	}
	if len(t.Rows) > 0 && !slices.ContainsFunc(r.Design.Devices, func(d domain.Device) bool { return d.Place != "" }) {
		t.dropColumn(2)
		t.Note += " Places are not stated: settle them with the designer."
	}
	return t
}

// dropColumn takes a column out of the table.
func (t *Table) dropColumn(at int) {
	t.Columns = slices.Delete(t.Columns, at, at+1)
	for i := range t.Rows {
		if !t.Rows[i].Group {
			t.Rows[i].Cells = slices.Delete(t.Rows[i].Cells, at, at+1)
		}
	}
}

func (r *room) deviceCells(d *domain.Device) []Cell {
	t := r.c.project.Book.Find(d.Type)
	differ := func(c Cell, fields ...string) Cell {
		return markIf(c, r.departures().field("devices", d.ID, fields...))
	}
	return []Cell{
		differ(TextCell(typeName(t, d.Type)), "type"),
		differ(TextCell(or(d.Place, notStated)), "place"),
		differ(TextCell(r.mounting(d, t)), "mounting", "height_m"),
		differ(TextCell(r.supply(d, t)), "fed_by"),
		differ(TextCell(r.parent(d, t)), "parent"),
		differ(TextCell(or(strings.Join(r.settings(d, t), "; "), none)), "presence", "delay_s", "loop", "sending", "hears", "buttons"),
	}
}

func typeName(t *equipment.Type, id string) string {
	if t == nil {
		return id + " (not in the equipment book)"
	}
	return t.Name
}

func (r *room) mounting(d *domain.Device, t *equipment.Type) string {
	where := d.Mounting
	if where == "" && t != nil {
		where = t.Mounting
	}
	where = or(where, notStated)
	if d.Height > 0 {
		where += ", " + units.Length(d.Height, r.c.project.Units)
	}
	return where
}

func (r *room) supply(d *domain.Device, t *equipment.Type) string {
	if t == nil {
		return notStated
	}
	switch t.Supply {
	case equipment.Battery:
		return "battery " + or(t.Cell, "(cell not stated)")
	case equipment.Wired:
		if feed := r.Design.Device(d.FedBy); feed != nil {
			return "wired from " + feed.Tag
		}
		return "wired, feed not stated"
	case equipment.Mains:
	}
	return string(t.Supply)
}

func (r *room) parent(d *domain.Device, t *equipment.Type) string {
	if t == nil || t.Supply != equipment.Battery {
		return none
	}
	if p := r.Design.Device(d.Parent); p != nil {
		return p.Tag
	}
	return "not assigned"
}

// settings says in words what has to be set at a device, and what hangs on it.
func (r *room) settings(d *domain.Device, t *equipment.Type) []string {
	if t == nil {
		return nil
	}
	var out []string
	tr := t.Kind.Traits()
	if tr.Loads {
		out = append(out, fmt.Sprintf("%d of %s used", r.outputsUsed(d.ID), count(t.Outputs, "output", "outputs")))
	}
	if tr.Presence {
		out = append(out, r.presenceSettings(d)...)
	}
	if tr.Daylight {
		out = append(out, or(string(d.Loop), "loop not stated"))
	}
	if tr.Buttons && !tr.OwnOnly {
		out = append(out, count(t.Buttons, "button", "buttons"))
	}
	if tr.Inputs {
		out = append(out, count(max(1, t.Inputs), "input", "inputs"))
	}
	if t.Kind == equipment.Gateway {
		out = append(out, r.network()...)
	}
	out = append(out, sendingWords(d)...)
	if fed := r.tagsWhere(func(x *domain.Device) bool { return x.FedBy == d.ID }); len(fed) > 0 {
		out = append(out, "feeds "+joined(fed))
	}
	if children := r.tagsWhere(func(x *domain.Device) bool { return x.Parent == d.ID }); len(children) > 0 {
		out = append(out, "parent of "+joined(children))
	}
	return out
}

func (r *room) outputsUsed(id domain.ID) int {
	var used []int
	for i := range r.Design.Loads {
		if l := &r.Design.Loads[i]; l.Controller == id {
			used = addOnce(used, l.Output)
		}
	}
	return len(used)
}

func (r *room) presenceSettings(d *domain.Device) []string {
	kind := or(string(d.Presence), "kind not stated")
	delays, _ := r.sensorDelays(domain.Input{Device: d.ID})
	if d.Delay > 0 {
		delays = []units.Seconds{d.Delay}
	}
	if len(delays) == 0 {
		return []string{kind, "delay not stated"}
	}
	words := make([]string, len(delays))
	for i, s := range delays {
		words[i] = units.Duration(s)
	}
	return []string{kind, "delay " + joined(words)}
}

func (r *room) network() []string {
	if r.on.storey == nil {
		return nil
	}
	var out []string
	if n := r.on.storey.Backbone; n != "" {
		out = append(out, "backbone "+n)
	}
	if n := r.on.storey.Server; n != "" {
		out = append(out, "server "+n)
	}
	return out
}

func sendingWords(d *domain.Device) []string {
	switch d.Sending {
	case domain.ToRoom:
		return []string{"sends to the whole room"}
	case domain.ToGroup:
		return []string{"sends to a group"}
	case domain.ToLoads:
		return []string{"sends to its linked loads"}
	}
	return nil
}

func (r *room) tagsWhere(want func(*domain.Device) bool) []string {
	var out []string
	for i := range r.Design.Devices {
		if d := &r.Design.Devices[i]; want(d) {
			out = append(out, d.Tag)
		}
	}
	return out
}
