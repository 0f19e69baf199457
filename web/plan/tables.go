package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// roomGrid is the rooms of the storey in numbers; they are edited on their own
// pages and, as shapes, on the plan.
func (st *state) roomGrid() ui.Grid {
	sys := st.Project.Units
	g := ui.Grid{ID: "plan-rooms", Fit: true, Empty: "No rooms on this storey yet.", Columns: []ui.Column{
		{Title: "Room"}, {Title: "Name"}, {Title: "Area stated", Number: true}, {Title: "Area drawn", Number: true}, {Title: "Perimeter", Number: true},
		{Title: "Corners", Number: true}, {Title: "Width", Hint: "of the outline, along x", Number: true}, {Title: "Depth", Hint: "of the outline, along y", Number: true}, {Title: "Not placed"},
	}}
	for _, state := range st.Rooms {
		r := state.Resolved
		cells := []ui.Cell{{Text: r.Number}, {Text: r.Name}, {Class: "num"}, {Class: "num", Text: "not drawn"}, {Class: "num"}, {Class: "num"}, {Class: "num"}, {Class: "num"}, {}}
		if r.Area > 0 {
			cells[2].Text = units.Area(r.Area, sys)
		}
		if !r.Outline.Empty() {
			box := r.Outline.Bounds()
			cells[3].Text, cells[4].Text = units.Area(r.Measured(), sys), units.Length(units.Metres(r.Outline.Perimeter()), sys)
			cells[5].Text = fmt.Sprint(len(r.Outline.Outer))
			cells[6].Text, cells[7].Text = units.Length(units.Metres(box.Width()), sys), units.Length(units.Metres(box.Height()), sys)
		}
		if devices, luminaires := r.Unplaced(); devices+luminaires > 0 {
			cells[8].Text = edits.Count(devices, "device") + ", " + edits.Count(luminaires, "luminaire")
		}
		g.Rows = append(g.Rows, ui.GridRow{ID: "rooms/" + string(r.ID), Cells: cells})
	}
	return g
}

// placeGrid is every device, luminaire and seat with its place in numbers.
func (st *state) placeGrid() ui.Grid {
	g := ui.Grid{ID: "plan-places", Fit: true, Empty: "Nothing to place on this storey yet: give its rooms devices.", Columns: []ui.Column{
		{Title: "Thing"}, {Title: "What"},
		{Title: "x", Hint: "to the right from the plan's origin; empty: not placed", Number: true}, {Title: "y", Hint: "up the sheet from the plan's origin", Number: true},
		{Title: "Turned", Hint: "degrees, counterclockwise from right; of a device 0 is not stated and 360 to the right", Number: true}, {Title: "Height", Hint: "to its center; edited on the room's page", Number: true},
	}}
	for _, state := range st.Rooms {
		rows := st.placeRows(state.Resolved)
		if len(rows) > 0 {
			rows[0].Group = state.Resolved.Label()
		}
		g.Rows = append(g.Rows, rows...)
	}
	return g
}

func (st *state) placeRows(r *domain.Resolved) []ui.GridRow {
	var out []ui.GridRow
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		out = append(out, st.placeRow("device/"+string(r.ID)+"/"+string(d.ID), d.Tag, st.typeName(d), d.At, &d.Turn, d.Height))
	}
	for i := range r.Fixtures {
		f := &r.Fixtures[i]
		name := "no load"
		if l := r.Design.Load(f.Load); l != nil {
			name = l.Tag
		}
		out = append(out, st.placeRow("fixture/"+string(r.ID)+"/"+string(f.ID), name, "luminaire", &f.At, &f.Turn, 0))
	}
	for i := range r.Sitting {
		s := &r.Sitting[i]
		out = append(out, st.placeRow("seat/"+string(r.ID)+"/"+string(s.ID), fmt.Sprintf("Seat %d", i+1), "seat", &s.At, nil, 0))
	}
	return out
}

func (st *state) placeRow(path, name, what string, at *geom.Point, turn *float64, height units.Metres) ui.GridRow {
	sys := st.Project.Units
	cells := []ui.Cell{{Text: name}, {Text: what}, {Path: path + "/x", Class: "num"}, {Path: path + "/y", Class: "num"}, {Class: "num mute", Title: "does not apply"}, {Class: "num"}}
	if at != nil {
		cells[2].Text, cells[3].Text = units.Offset(units.Metres(at.X), sys), units.Offset(units.Metres(at.Y), sys)
		if turn != nil {
			cells[4] = ui.Cell{Path: path + "/turn", Class: "num", Text: units.Trim(*turn, 2)}
		}
	}
	if height > 0 {
		cells[5].Text = units.Length(height, sys)
	}
	return ui.GridRow{ID: path, Cells: cells}
}

// wallGrid is every wall in numbers.
func (st *state) wallGrid() ui.Grid {
	sys := st.Project.Units
	g := ui.Grid{ID: "plan-walls", Fit: true, Empty: "No walls are drawn on this storey.", Columns: []ui.Column{
		{Title: "Wall"}, {Title: "From x", Number: true}, {Title: "From y", Number: true}, {Title: "To x", Number: true}, {Title: "To y", Number: true},
		{Title: "Length", Number: true}, {Title: "Thickness", Number: true},
		{Title: "Material", Choices: materialList}, {Title: "Radio loss", Hint: radioLossHint, Number: true}, {Title: "Height", Hint: "of a partition; empty or 0: as high as the limits say", Number: true},
	}}
	for i := range st.Plan.Walls {
		w := &st.Plan.Walls[i]
		path := "wall/" + string(w.ID)
		g.Rows = append(g.Rows, ui.GridRow{ID: path, Cells: []ui.Cell{
			{Text: wallName(w, i)}, st.offsetCell(path+"/ax", units.Metres(w.A.X)), st.offsetCell(path+"/ay", units.Metres(w.A.Y)),
			st.offsetCell(path+"/bx", units.Metres(w.B.X)), st.offsetCell(path+"/by", units.Metres(w.B.Y)), {Class: "num", Text: units.Length(units.Metres(w.A.Distance(w.B)), sys)},
			st.offsetCell(path+"/thickness", w.Thickness), materialCell(path, w), lossCell(w), st.statedCell(path+"/height", w.Height),
		}})
	}
	return g
}

func wallName(w *domain.Wall, i int) string { return fmt.Sprintf("%s %d", w.Kind, i+1) }

func (st *state) offsetCell(path string, v units.Metres) ui.Cell {
	return ui.Cell{Path: path, Class: "num", Text: units.Offset(v, st.Project.Units)}
}

// statedCell is offsetCell of a length that is empty where it is not stated.
func (st *state) statedCell(path string, v units.Metres) ui.Cell {
	if v == 0 {
		return ui.Cell{Path: path, Class: "num"}
	}
	return st.offsetCell(path, v)
}

// openingGrid is every door, window and gap in numbers, wall by wall.
func (st *state) openingGrid() ui.Grid {
	g := ui.Grid{ID: "plan-openings", Fit: true, Empty: "No doors or windows are drawn on this storey.", Columns: []ui.Column{
		{Title: "Opening"}, {Title: "At", Hint: "from the wall's first end to the opening's near end", Number: true}, {Title: "Width", Number: true},
	}}
	g.Columns = append(g.Columns, columnsOf(domain.OpeningFields(domain.Window), st.emptyOf)...)
	for i := range st.Plan.Walls {
		w := &st.Plan.Walls[i]
		for j := range w.Openings {
			o := &w.Openings[j]
			path := "opening/" + string(w.ID) + "/" + string(o.ID)
			row := ui.GridRow{ID: path, Cells: append([]ui.Cell{
				{Text: fmt.Sprintf("%s %d", o.Kind, j+1)}, st.offsetCell(path+"/at", o.At), st.offsetCell(path+"/width", o.Width),
			}, st.glazing(path, o)...)}
			if j == 0 {
				row.Group = "In " + wallName(w, i)
			}
			g.Rows = append(g.Rows, row)
		}
	}
	return g
}
