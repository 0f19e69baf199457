package sheet

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// BatteryPlan tells the operator which cell sits where and when it is due.
func BatteryPlan(c *Content) []Sheet {
	s := Sheet{ID: "battery", Number: numberBattery, Title: "Battery plan", Head: c.head()}
	plan, due := c.batteryTables()
	s.Blocks = withoutNil([]Block{c.partialNote(), plan, due, toCaution(domain.CautionBattery)})
	return []Sheet{s}
}

type yearCell struct {
	year, cell string
}

func (c *Content) batteryTables() (plan, due Table) {
	plan = Table{Caption: "Battery devices", Empty: "No battery devices.", Note: "Replace by: the day the cell was fitted and its life. Life is what the maker states or the project's limit; radio traffic and cold shorten it.",
		Columns: []Column{{Title: "Room", Width: 1}, {Title: "Tag", Width: 1}, {Title: "Type", Width: 3.2}, {Title: "Place", Width: 2}, {Title: "Cell", Width: 1.2}, {Title: "Life", Unit: "years", Kind: Number, Width: 0.9}, {Title: "Fitted", Width: 1.4}, {Title: "Replace by", Width: 1.4}}}
	n := map[yearCell]int{}
	for _, s := range c.storeys {
		headed := false
		for _, r := range s.rooms {
			for i := range r.Design.Devices {
				d := &r.Design.Devices[i]
				t := c.project.Book.Find(d.Type)
				if t == nil || t.Supply != equipment.Battery {
					continue
				}
				if !headed {
					plan.Rows = append(plan.Rows, groupRow(s.name(c)))
					headed = true
				}
				life := c.batteryLife(t)
				by, year := replaceBy(d.Fitted, life)
				n[yearCell{year, or(t.Cell, notStated)}]++
				plan.Rows = append(plan.Rows, Row{Cells: []Cell{TextCell(r.Number), TextCell(d.Tag), TextCell(t.Name), TextCell(or(d.Place, notStated)), TextCell(or(t.Cell, notStated)),
					NumberCell(life, decimalsOf(life)), TextCell(or(d.Fitted, "not yet")), TextCell(by)}})
			}
		}
	}
	return plan, dueTable(n)
}

func dueTable(n map[yearCell]int) Table {
	due := Table{Caption: "Cells by year", Empty: "No battery devices.", Columns: []Column{{Title: "Replace in", Width: 2}, {Title: "Cell", Width: 2}, {Title: "Quantity", Kind: Number, Width: 1}}}
	keys := make([]yearCell, 0, len(n))
	for k := range n {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b yearCell) int { return cmp.Or(cmp.Compare(a.year, b.year), cmp.Compare(a.cell, b.cell)) })
	for _, k := range keys {
		due.Rows = append(due.Rows, Row{Cells: []Cell{TextCell(k.year), TextCell(k.cell), NumberCell(float64(n[k]), 0)}})
	}
	return due
}

// batteryLife is the type's own, else the project's limit for its kind, in years.
func (c *Content) batteryLife(t *equipment.Type) float64 {
	switch {
	case t.LifeYears > 0:
		return t.LifeYears
	case t.Kind.Traits().Buttons:
		return c.project.Limits.Value(domain.StationBatteryLife)
	}
	return c.project.Limits.Value(domain.SensorBatteryLife)
}

// replaceBy adds the life to the day of fitting, by whole years and the rest in days of a
// year of 365.25.
func replaceBy(fitted string, years float64) (by, year string) {
	t, err := time.Parse(time.DateOnly, fitted)
	if err != nil {
		return "after " + units.Trim(years, 1) + " years", "not fitted yet"
	}
	whole := int(years)
	t = t.AddDate(whole, 0, int((years-float64(whole))*365.25))
	return t.Format(time.DateOnly), strconv.Itoa(t.Year())
}
