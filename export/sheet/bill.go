package sheet

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// BillOfMaterials lists what has to be bought: devices by type with the count of each
// storey, spares, cells for battery devices and boxes. Its sum is checked against the
// device schedule.
func BillOfMaterials(c *Content) []Sheet {
	s := Sheet{ID: "bill", Number: numberBill, Title: "Bill of materials", Head: c.head(), Landscape: true}
	share := c.project.Limits.Find(domain.SpareShare)
	bill := c.billTable(share.Value)
	s.Blocks = withoutNil([]Block{c.partialNote(), bill, c.billCheck(),
		Heading{1, "Cells and boxes"}, c.sundries("Cells for battery devices", "Cell", share.Value, cellOf),
		c.sundries("Boxes, by the installer", "Box", 0, boxOf),
		Paragraph{Text: "Luminaires, panels, wire, cover plates, guards and network switches are not in this bill."}})
	return []Sheet{s}
}

// spares rounds up: a share of a few is still one.
func spares(n int, percent float64) int {
	return int(math.Ceil(float64(n)*percent/100 - 1e-9))
}

func (c *Content) billTable(share float64) Table {
	t := Table{Caption: "Devices to order", Columns: []Column{{Title: "Type", Width: 3}, {Title: "Description", Width: 4}}, Empty: "No devices have been chosen yet.",
		Note: "Spares: " + number(share) + " % of each type, rounded up. Quantities in pieces."}
	floors := c.occupied()
	for _, s := range floors {
		t.Columns = append(t.Columns, Column{Title: s.name(c), Kind: Number, Width: 1})
	}
	for _, title := range []string{"Total", "Spares", "To order"} {
		t.Columns = append(t.Columns, Column{Title: title, Kind: Number, Width: 1})
	}
	counts := make([]map[string]int, len(floors))
	for i, s := range floors {
		counts[i] = countTypes(s.rooms)
	}
	sums := make([]int, len(floors)+3)
	for _, u := range c.usedTypes() {
		row, total := Row{Cells: []Cell{TextCell(u.name), TextCell(u.description())}}, 0
		for i := range floors {
			n := counts[i][u.id]
			row.Cells = append(row.Cells, countCell(n))
			total += n
			sums[i] += n
		}
		extra := spares(total, share)
		for i, n := range []int{total, extra, total + extra} {
			row.Cells = append(row.Cells, NumberCell(float64(n), 0))
			sums[len(floors)+i] += n
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) > 0 {
		row := Row{Total: true, Cells: []Cell{TextCell("All types"), TextCell("")}}
		for _, n := range sums {
			row.Cells = append(row.Cells, NumberCell(float64(n), 0))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// occupied lists the storeys that hold rooms of this document.
func (c *Content) occupied() []*storey {
	return slices.DeleteFunc(slices.Clone(c.storeys), func(s *storey) bool { return len(s.rooms) == 0 })
}

func (u usedType) description() string {
	if u.typ == nil {
		return "add it to the equipment book before ordering"
	}
	text := u.typ.Description
	if u.typ.MinVolts > 0 && u.typ.MaxVolts > 0 {
		text += "; " + units.Trim(float64(u.typ.MinVolts), 0) + "-" + units.Trim(float64(u.typ.MaxVolts), 0) + " V"
	}
	return or(strings.TrimPrefix(text, "; "), none)
}

// billCheck counts the rows of the device schedule and the sum of the bill, each by its
// own way, and prints the difference.
func (c *Content) billCheck() Table {
	scheduled := 0
	for _, row := range c.deviceList().Rows {
		if !row.Group && !row.Total {
			scheduled++
		}
	}
	billed, n := 0, countTypes(c.rooms())
	for _, u := range c.usedTypes() {
		billed += n[u.id]
	}
	return Table{Caption: "Check against the device schedule", Columns: []Column{
		{Title: "Check", Width: 4}, {Title: "Devices", Kind: Number, Width: 1}},
		Rows: []Row{
			{Cells: []Cell{TextCell("Lines of the device schedule, " + numberDevices), NumberCell(float64(scheduled), 0)}},
			{Cells: []Cell{TextCell("Sum of this bill, without spares"), NumberCell(float64(billed), 0)}},
			{Total: true, Cells: []Cell{TextCell("Difference"), NumberCell(float64(scheduled-billed), 0)}},
		}}
}

func cellOf(t *equipment.Type) string {
	if t.Supply != equipment.Battery {
		return ""
	}
	return or(t.Cell, "cell "+notStated)
}

func boxOf(t *equipment.Type) string {
	if t.Box == "none" {
		return ""
	}
	return t.Box
}

// sundries counts what comes with the devices: one for each device whose type names it.
func (c *Content) sundries(caption, title string, share float64, of func(*equipment.Type) string) Table {
	t := Table{Caption: caption, Columns: []Column{{Title: title, Width: 3}, {Title: "For", Width: 5}, {Title: "Total", Kind: Number, Width: 1}, {Title: "Spares", Kind: Number, Width: 1}, {Title: "To order", Kind: Number, Width: 1}},
		Empty: "None needed.", Note: "One for each device."}
	n := countTypes(c.rooms())
	totals, uses := map[string]int{}, map[string][]string{}
	for _, u := range c.usedTypes() {
		if u.typ == nil || of(u.typ) == "" {
			continue
		}
		name := of(u.typ)
		totals[name] += n[u.id]
		uses[name] = append(uses[name], u.name)
	}
	names := make([]string, 0, len(totals))
	for name := range totals {
		names = append(names, name)
	}
	slices.SortFunc(names, cmp.Compare[string])
	for _, name := range names {
		extra := spares(totals[name], share)
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(name), TextCell(strings.Join(uses[name], "; ")),
			NumberCell(float64(totals[name]), 0), countCell(extra), NumberCell(float64(totals[name]+extra), 0)}})
	}
	return t
}
