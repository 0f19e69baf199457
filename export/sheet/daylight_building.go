package sheet

import (
	"slices"

	"scopewright/domain/daylight"
	"scopewright/domain/units"
)

// building is one row a room, storey by storey, with the sums of what adds up.
func (d *daylit) building() Block {
	_, unit := units.AreaIn(0, d.c.project.Units)
	t := Table{Caption: "Rooms with windows or rooflights", Empty: "No plan shows a window or a rooflight of a room with an outline.", Columns: []Column{{Title: "Room", Width: 2.4}, {Title: "Glazing", Unit: unit, Kind: Number, Width: 0.9},
		{Title: "Primary zone", Unit: unit, Kind: Number, Width: 0.9}, {Title: "Secondary zone", Unit: unit, Kind: Number, Width: 1}, {Title: "Toplit zone", Unit: unit, Kind: Number, Width: 0.9},
		{Title: "In primary", Unit: "W", Kind: Number, Width: 0.9}, {Title: "In secondary", Unit: "W", Kind: Number, Width: 1}, {Title: "In toplit", Unit: "W", Kind: Number, Width: 0.9},
		{Title: "Daylight factor, mean", Unit: "%", Kind: Number, Width: 1}, {Title: "Least", Unit: "%", Kind: Number, Width: 0.8}, {Title: "Floor of 2 % and over", Unit: "%", Kind: Number, Width: 1}, {Title: "Power of what follows daylight, mixed sky", Unit: "%", Kind: Number, Width: 1.3}},
		Note: "Power: of full, of the loads that follow daylight, in the room's hours of use; – where none does, or the project states no place. Glazing is the area of the openings."}
	for _, s := range d.c.storeys {
		headed := false
		for i := range d.rooms {
			r := &d.rooms[i]
			if r.on != s {
				continue
			}
			if !headed {
				t.Rows, headed = append(t.Rows, groupRow(s.name(d.c))), true
			}
			t.Rows = append(t.Rows, Row{Cells: append(r.areaCells(d, r.Label()), r.lightCells(d)...)})
		}
	}
	if len(d.rooms) > 1 {
		t.Rows = append(t.Rows, Row{Total: true, Cells: append(d.sums(), TextCell(none), TextCell(none), TextCell(none), savedPower(d, d.rooms))})
	}
	if !d.roofed() {
		t.dropColumn(7)
		t.dropColumn(4)
	}
	return t
}

// roofed tells that some room has rooflights.
func (d *daylit) roofed() bool {
	return slices.ContainsFunc(d.rooms, func(r daylitRoom) bool { return len(r.space.Rooflights) > 0 })
}

// figures are what of a room adds up.
func (r *daylitRoom) figures() [7]float64 {
	sys := r.c.project.Units
	in := func(a units.SquareMetres) float64 { v, _ := units.AreaIn(a, sys); return v }
	return [7]float64{in(r.glazing()), in(r.zones.Primary.Area), in(r.zones.Secondary.Area), in(r.zones.Toplit.Area),
		float64(r.tally.Primary.Watts), float64(r.tally.Secondary.Watts), float64(r.tally.Toplit.Watts)}
}

// glazing is the area of all openings of the room.
func (r *daylitRoom) glazing() units.SquareMetres { return r.light.Surfaces().Glass }

func (r *daylitRoom) areaCells(d *daylit, name string) []Cell {
	cells := []Cell{TextCell(name)}
	for k, v := range r.figures() {
		cells = append(cells, NumberCell(units.RoundArea(v, d.decimals(k)), d.decimals(k)))
	}
	return cells
}

// decimals are those of a figure: glazing to a tenth, which codes ask for by 20 sq ft or
// so, zones as the plan prints them, watts whole.
func (d *daylit) decimals(figure int) int {
	if figure == 0 || figure < 4 && d.c.project.Units != units.US {
		return 1
	}
	return 0
}

func (d *daylit) sums() []Cell {
	var sum [7]float64
	for i := range d.rooms {
		for k, v := range d.rooms[i].figures() {
			sum[k] += units.RoundArea(v, d.decimals(k))
		}
	}
	cells := []Cell{TextCell("All")}
	for k, v := range sum {
		cells = append(cells, NumberCell(units.RoundArea(v, d.decimals(k)), d.decimals(k)))
	}
	return cells
}

func (r *daylitRoom) lightCells(d *daylit) []Cell {
	return []Cell{NumberCell(roundTo(r.spread.Mean, 1), 1), NumberCell(roundTo(r.spread.Least, 1), 1), NumberCell(roundTo(100*r.grid.ShareOver(daylitFrom), 0), 0), savedPower(d, []daylitRoom{*r})}
}

// daylitFrom is the daylight factor in percent from which a floor counts as daylit.
// Source: BS 8206-2, from memory, of the average.
const daylitFrom = 2

// savedPower is the mean power of the loads that follow daylight, by their watts.
func savedPower(d *daylit, rooms []daylitRoom) Cell {
	if d.place != nil {
		return TextCell(none)
	}
	sum, all := 0.0, 0.0
	for i := range rooms {
		for j := range rooms[i].loads {
			x := &rooms[i].loads[j]
			if w := rooms[i].watts(x); x.Follows() {
				sum, all = sum+w*x.Mixed.Power, all+w
			}
		}
	}
	if all == 0 {
		return TextCell(none)
	}
	return NumberCell(roundTo(100*sum/all, 0), 0)
}

func (r *daylitRoom) watts(x *daylight.Prediction) float64 {
	w, _, _ := x.Load.Power(r.c.project)
	return float64(w)
}
