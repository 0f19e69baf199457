package room

import (
	"fmt"
	"slices"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/web/ui"
)

// finish marks what differs from the typical, and turns the cells of a typical
// under lock into cells to read.
func (b *bench) finish(row ui.GridRow) ui.GridRow {
	b.markExceptions(row.Cells)
	if b.locked {
		row.Actions = nil
		for i := range row.Cells {
			row.Cells[i].Path = ""
		}
	}
	return row
}

func (b *bench) rowActions(kind string) []ui.RowAction {
	return []ui.RowAction{
		{Name: "Copy", Title: "Add a copy of this " + kind, Path: b.path() + "/duplicate"},
		{Name: "Remove", Title: "Remove this " + kind, Path: b.path() + "/remove"},
	}
}

// takesColumn is where what a load takes stands: behind its count.
const takesColumn = 5

// loadGrid is the load table with what each load takes.
func (b *bench) loadGrid() ui.Grid {
	g := ui.Grid{ID: "grid-loads", Columns: slices.Insert(ui.FieldColumns(domain.LoadFields, "ch-loads"), takesColumn, ui.Column{Title: "Takes", Number: true})}
	for i := range b.design.Loads {
		g.Rows = append(g.Rows, b.loadRow(&b.design.Loads[i]))
	}
	return g
}

func (b *bench) loadRow(l *domain.Load) ui.GridRow {
	path := "loads/" + string(l.ID)
	row := ui.GridRow{ID: path, Cells: ui.FieldCells(b.env(), domain.LoadFields, path, l), Actions: b.rowActions("load")}
	takes := "not known"
	if w, a, known := l.Power(b.project); known {
		takes = fmt.Sprintf("%s W, %s A", units.Trim(float64(w), 1), units.Trim(float64(a), 2))
	} else if l.Kind == domain.Receptacle && l.Rating > 0 {
		takes = "up to " + units.Trim(float64(l.Rating), 1) + " A"
	}
	row.Cells = slices.Insert(row.Cells, takesColumn, ui.Cell{Text: takes, Class: "num"})
	if l.Kind == domain.Receptacle {
		mute(row.Cells, "luminaire", "count", "layer", "zone", "egress", "bypass", "dimming")
	} else {
		mute(row.Cells, "rating_a")
		if !l.Egress {
			mute(row.Cells, "bypass")
		}
		if l.Luminaire != "" {
			mute(row.Cells, "watts")
		}
	}
	return b.finish(row)
}

// mute empties cells of fields that mean nothing for a row.
func mute(cells []ui.Cell, fields ...string) {
	for i := range cells {
		for _, f := range fields {
			if fieldOf(cells[i].Path) == f {
				cells[i] = ui.Cell{Class: "mute", Title: "does not apply"}
			}
		}
	}
}

func fieldOf(path string) string {
	for i := len(path) - 1; i >= 0; i-- {
		if path[i] == '/' {
			return path[i+1:]
		}
	}
	return path
}

// deviceGrid is the device table; fields that a kind has no use for are empty.
func (b *bench) deviceGrid() ui.Grid {
	g := ui.Grid{ID: "grid-devices", Columns: ui.FieldColumns(domain.DeviceFields, "ch-devices"), Rows: make([]ui.GridRow, len(b.design.Devices))}
	for i := range b.design.Devices {
		g.Rows[i] = b.deviceRow(&b.design.Devices[i])
	}
	return g
}

func (b *bench) deviceRow(d *domain.Device) ui.GridRow {
	path := "devices/" + string(d.ID)
	row := ui.GridRow{ID: path, Cells: ui.FieldCells(b.env(), domain.DeviceFields, path, d), Actions: b.rowActions("device")}
	if t := b.project.Book.Find(d.Type); t != nil {
		muteDevice(row.Cells, t)
		if d.Mounting == "" && t.Mounting != "" {
			fallback(row.Cells, "mounting", t.Mounting)
		}
		if d.Delay == 0 && t.Kind.Traits().Presence {
			fallback(row.Cells, "delay_s", "as the intent says")
		}
		if len(d.Hears) == 0 && t.Supply == equipment.Battery {
			fallback(row.Cells, "hears", "all")
		}
	}
	return b.finish(row)
}

// fallback shows what holds where a field is empty.
func fallback(cells []ui.Cell, field, text string) {
	for i := range cells {
		if fieldOf(cells[i].Path) == field {
			cells[i].Class, cells[i].Title, cells[i].Text = "from-typical", "not set here: "+text, text
		}
	}
}

func muteDevice(cells []ui.Cell, t *equipment.Type) {
	tr := t.Kind.Traits()
	if !tr.Presence {
		mute(cells, "presence", "delay_s")
	}
	if !tr.Daylight {
		mute(cells, "loop")
	}
	if !tr.Presence && (!tr.Buttons || tr.OwnOnly) {
		mute(cells, "sending")
	}
	if t.Supply != equipment.Battery {
		mute(cells, "parent", "hears", "fitted")
	}
	if t.Supply != equipment.Wired {
		mute(cells, "fed_by")
	}
}

// buttonGrid is what is engraved on each station's buttons.
func (b *bench) buttonGrid() ui.Grid {
	g := ui.Grid{ID: "grid-buttons", Fit: true, Columns: []ui.Column{{Title: "Button labels"}}}
	most := 0
	for i := range b.design.Devices {
		d := &b.design.Devices[i]
		t := b.project.Book.Find(d.Type)
		if t == nil || !t.Kind.Traits().Buttons {
			continue
		}
		row := ui.GridRow{Cells: []ui.Cell{{Text: d.Tag}}}
		for n := 1; n <= t.Buttons; n++ {
			row.Cells = append(row.Cells, ui.Cell{Path: fmt.Sprintf("devices/%s/buttons/%d", d.ID, n), Text: d.ButtonLabel(n)})
		}
		most = max(most, t.Buttons)
		g.Rows = append(g.Rows, row)
	}
	for n := 1; n <= most; n++ {
		g.Columns = append(g.Columns, ui.Column{Title: strconv.Itoa(n)})
	}
	for i := range g.Rows {
		for len(g.Rows[i].Cells) < len(g.Columns) {
			g.Rows[i].Cells = append(g.Rows[i].Cells, ui.Cell{Class: "mute", Title: "no such button"})
		}
		g.Rows[i] = b.finish(g.Rows[i])
	}
	return g
}

// matrixGrid is who controls what: inputs down, loads across, and at the foot
// how many ways each load has on and off.
func (b *bench) matrixGrid(all bool) ui.Grid {
	g := ui.Grid{ID: "grid-matrix", Fit: true, Columns: []ui.Column{{Title: "Input"}}}
	for i := range b.design.Loads {
		l := &b.design.Loads[i]
		g.Columns = append(g.Columns, ui.Column{Title: l.Tag, Hint: l.Name})
	}
	cells := b.linkTexts()
	for _, in := range domain.MatrixRows(b.project, b.design, all) {
		g.Rows = append(g.Rows, b.matrixRow(in, cells))
	}
	if len(g.Rows) > 0 && len(b.design.Loads) > 0 {
		g.Foot = []ui.GridRow{b.pathsFoot()}
	}
	return g
}

func (b *bench) linkTexts() map[domain.ID]string {
	cells := make(map[domain.ID]string, len(b.design.Links))
	for i := range b.design.Links {
		cells[b.design.Links[i].ID] = b.design.Links[i].Do.String()
	}
	return cells
}

func (b *bench) matrixRow(in domain.MatrixRow, cells map[domain.ID]string) ui.GridRow {
	row := ui.GridRow{ID: fmt.Sprintf("inputs/%s/%d/%s", in.Device, in.Button, in.On), Cells: []ui.Cell{{Text: in.Tag + "  " + in.Label}}}
	for i := range b.design.Loads {
		id := domain.LinkID(in.Device, in.Button, in.On, b.design.Loads[i].ID)
		row.Cells = append(row.Cells, ui.Cell{Path: "links/" + string(id), Text: cells[id], Class: "mark"})
	}
	return b.finish(row)
}

func (b *bench) pathsFoot() ui.GridRow {
	foot := ui.GridRow{Cells: []ui.Cell{{Text: "Ways on / off"}}}
	for i := range b.design.Loads {
		on, off := b.design.Paths(b.project, &b.design.Loads[i])
		c := ui.Cell{Text: fmt.Sprintf("%d / %d", on, off), Class: "mark"}
		if on == 0 || off == 0 && !b.design.Loads[i].Egress {
			c.Class, c.Title = "mark cell-error", "no way on or no way off"
		}
		foot.Cells = append(foot.Cells, c)
	}
	return foot
}

// sceneGrid is the scene table: scenes down, lighting loads across.
func (b *bench) sceneGrid() ui.Grid {
	g := ui.Grid{ID: "grid-scenes", Fit: true, Columns: []ui.Column{{Title: "No."}, {Title: "Scene"}}}
	for i := range b.design.Loads {
		if l := &b.design.Loads[i]; l.Kind == domain.Lighting {
			g.Columns = append(g.Columns, ui.Column{Title: l.Tag, Hint: l.Name})
		}
	}
	for i := range b.design.Scenes {
		g.Rows = append(g.Rows, b.sceneRow(&b.design.Scenes[i]))
	}
	return g
}

func (b *bench) sceneRow(sc *domain.Scene) ui.GridRow {
	path := "scenes/" + string(sc.ID)
	row := ui.GridRow{ID: path, Cells: ui.FieldCells(b.env(), domain.SceneFields, path, sc), Actions: b.rowActions("scene")}
	for i := range b.design.Loads {
		l := &b.design.Loads[i]
		if l.Kind != domain.Lighting {
			continue
		}
		c := ui.Cell{Path: path + "/levels/" + string(l.ID)}
		if level := sc.LevelOf(l.ID); level != nil {
			c.Text = level.Show()
		}
		row.Cells = append(row.Cells, c)
	}
	return b.finish(row)
}
