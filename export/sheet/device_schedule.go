package sheet

import (
	"scopewright/domain"
	"scopewright/domain/equipment"
)

// DeviceSchedule lists all devices by storey and room, then counts them by type for each
// room, storey and building.
func DeviceSchedule(c *Content) []Sheet {
	s := Sheet{ID: "devices", Number: numberDevices, Title: "Device schedule", Head: c.head(), Landscape: true}
	s.Blocks = withoutNil([]Block{c.partialNote(), c.deviceList(), Heading{1, "Totals"}, c.deviceCounts(), toCaution(domain.CautionMains)})
	return []Sheet{s}
}

func (c *Content) deviceList() Table {
	t := Table{Caption: "Devices", Columns: append([]Column{{Title: "Room", Width: 1}, {Title: "Tag", Width: 1.1}}, deviceColumns()...),
		Empty: "No devices have been chosen yet.", Note: "Heights are to the center of the device, above finished floor."}
	for _, s := range c.storeys {
		var rows []Row
		for _, r := range s.rooms {
			for i := range r.Design.Devices {
				d := &r.Design.Devices[i]
				cells := append([]Cell{TextCell(r.Number), TextCell(d.Tag)}, r.deviceCells(d)...)
				rows = append(rows, Row{Cells: cells, Changed: r.changedIn("devices", d.ID)})
			}
		}
		if len(rows) > 0 {
			t.Rows = append(append(t.Rows, groupRow(s.name(c)+": "+count(len(rows), "device", "devices"))), rows...)
		}
	}
	return t
}

// usedType is a type of which rooms hold devices.
type usedType struct {
	id   string
	typ  *equipment.Type // nil: not in the book
	name string
}

// usedTypes lists the types in use, in the order of kinds and of the book; types that the
// book lacks stand last.
func (c *Content) usedTypes() []usedType {
	used := map[string]bool{}
	var strangers []string
	for _, r := range c.rooms() {
		for i := range r.Design.Devices {
			id := r.Design.Devices[i].Type
			if !used[id] && c.project.Book.Find(id) == nil {
				strangers = append(strangers, id)
			}
			used[id] = true
		}
	}
	var out []usedType
	for _, k := range equipment.Kinds() {
		for i := range c.project.Book {
			if t := &c.project.Book[i]; t.Kind == k && used[t.ID] {
				out = append(out, usedType{t.ID, t, t.Name})
			}
		}
	}
	for _, id := range strangers {
		out = append(out, usedType{id: id, name: typeName(nil, id)})
	}
	return out
}

// countTypes counts the devices of some rooms by type.
func countTypes(rooms []*room) map[string]int {
	out := map[string]int{}
	for _, r := range rooms {
		for i := range r.Design.Devices {
			out[r.Design.Devices[i].Type]++
		}
	}
	return out
}

func (c *Content) deviceCounts() Table {
	types := c.usedTypes()
	t := Table{Caption: "Counts by type", Columns: []Column{{Title: "Room", Width: 3}}, Empty: "No devices have been chosen yet.",
		Note: "A dash means none."}
	for _, u := range types {
		t.Columns = append(t.Columns, Column{Title: u.name, Align: Center, Kind: Number, Width: 1})
	}
	t.Columns = append(t.Columns, Column{Title: "All types", Align: Center, Kind: Number, Width: 1})
	if len(types) == 0 {
		return t
	}
	add := func(name string, rooms []*room, total bool) {
		n := countTypes(rooms)
		row, all := Row{Total: total, Cells: []Cell{TextCell(name)}}, 0
		for _, u := range types {
			row.Cells = append(row.Cells, countCell(n[u.id]))
			all += n[u.id]
		}
		row.Cells = append(row.Cells, countCell(all))
		t.Rows = append(t.Rows, row)
	}
	for i, s := range c.storeys {
		for j, r := range s.rooms {
			if len(r.Design.Devices) > 0 {
				add(r.Label(), s.rooms[j:j+1], false)
			}
		}
		if len(s.rooms) > 0 {
			add(s.name(c), s.rooms, true)
		}
		if s.lastOfBuilding(c, i) && len(c.project.Buildings) > 1 {
			add(s.building.Name, c.roomsOf(s.building), true)
		}
	}
	add("All rooms", c.rooms(), true)
	return t
}

func (c *Content) roomsOf(b *domain.Building) []*room {
	var out []*room
	for _, s := range c.storeys {
		if s.building == b {
			out = append(out, s.rooms...)
		}
	}
	return out
}

// countCell prints a dash for none, so that the eye finds what is there.
func countCell(n int) Cell {
	if n == 0 {
		return TextCell(none)
	}
	return NumberCell(float64(n), 0)
}
