package book

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// What the models of radio and sight read of a type stands in panels of its own:
// beside the ratings the rows would not fit a screen.
var (
	radioFields = []string{"tx_dbm", "gain_dbi", "sensitivity_dbm"}
	sightFields = []string{"senses", "major_m", "minor_m", "stated_at_m", "stated_on", "angle_deg", "lowest_m", "highest_m", "most_radius_m", "coverage_m2"}
)

func apart(name string) bool {
	return slices.Contains(radioFields, name) || slices.Contains(sightFields, name)
}

// physicsViews are the panels of what types state of their radio and of what
// they see.
func physicsViews(env domain.Env, b equipment.Book) []kindView {
	radio := physicsView(env, "radio", "Radio", radioFields, b, func(t *equipment.Type) bool { return t.Supply != equipment.Wired })
	sight := physicsView(env, "sight", "What presence sensors see", sightFields, b, func(t *equipment.Type) bool { return t.Kind.Traits().Presence })
	radio.Note = "An empty power is 0 dBm, an empty gain 0 dBi. A type that states no sensitivity is reckoned with the radio that the limits assume."
	sight.Note = "Radii hold at the height stated, on the plane stated: that of what is to be seen, or the floor under a cone; the radius of small motion holds at 36 in (0.914 m) under a cone, where NEMA WD 7 tests it. A type that states none is a disc of its coverage."
	return slices.DeleteFunc([]kindView{radio, sight}, func(v kindView) bool { return len(v.Grid.Rows) == 0 })
}

func physicsView(env domain.Env, id, title string, names []string, b equipment.Book, want func(*equipment.Type) bool) kindView {
	var fields []domain.Field[equipment.Type]
	for _, name := range names {
		if f, ok := domain.FieldNamed(domain.EquipmentFields, name); ok {
			fields = append(fields, f)
		}
	}
	grid := ui.Grid{ID: "book-" + id, Columns: append([]ui.Column{{Title: "Type"}}, columnsOf(fields)...)}
	for i := range b {
		if !want(&b[i]) {
			continue
		}
		grid.Rows = append(grid.Rows, ui.GridRow{ID: id + "/" + b[i].ID, Cells: append([]ui.Cell{{Text: b[i].Name}}, cellsOf(env, fields, &b[i])...)})
	}
	return kindView{ID: "kind-" + id, Title: title, Count: edits.Count(len(grid.Rows), "type"), Grid: grid}
}
