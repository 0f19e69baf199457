package book

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/web/ui"
)

var isNumber = map[string]bool{
	"outputs": true, "output_a": true, "min_v": true, "max_v": true, "sink_ma": true, "scenes": true, "buttons": true, "inputs": true,
	"children": true, "aux_w": true, "draw_w": true, "life_years": true, "coverage_m2": true,
	"inrush_a": true, "tx_dbm": true, "gain_dbi": true, "sensitivity_dbm": true,
	"major_m": true, "minor_m": true, "stated_at_m": true, "angle_deg": true, "lowest_m": true, "highest_m": true, "most_radius_m": true,
}

// fieldsOf gives the columns that mean something for a kind. One in which a
// type says something is never hidden, whatever the kind.
func fieldsOf(env domain.Env, k equipment.Kind, types []*equipment.Type) []domain.Field[equipment.Type] {
	tr := k.Traits()
	battery := slices.ContainsFunc(types, func(t *equipment.Type) bool { return t.Supply == equipment.Battery })
	wired := slices.ContainsFunc(types, func(t *equipment.Type) bool { return t.Supply == equipment.Wired })
	means := map[string]bool{
		"name": true, "supply": true, "description": true, "mounting": true, "box": true, "routes": true, "children": true, "source": true,
		"outputs": tr.Loads, "output_a": tr.Loads, "min_v": tr.Loads, "max_v": tr.Loads, "dims": tr.Loads, "sink_ma": tr.Loads, "scenes": tr.Loads,
		"buttons": tr.Buttons, "inputs": tr.Inputs, "aux_w": tr.Power, "draw_w": wired, "life_years": battery, "cell": battery,
		"inrush_tested": tr.Loads, "inrush_a": tr.Loads,
	}
	var out []domain.Field[equipment.Type]
	for _, f := range domain.EquipmentFields {
		if means[f.Name] || f.Name != "kind" && !apart(f.Name) && saysSomething(env, f, types) {
			out = append(out, f)
		}
	}
	return out
}

// columnsOf and cellsOf lay fields out, numbers to the right.
func columnsOf(fields []domain.Field[equipment.Type]) []ui.Column {
	out := ui.FieldColumns(fields, "eq")
	for i, f := range fields {
		out[i].Number = isNumber[f.Name]
	}
	return out
}

func cellsOf(env domain.Env, fields []domain.Field[equipment.Type], t *equipment.Type) []ui.Cell {
	out := ui.FieldCells(env, fields, "book/"+t.ID, t)
	for i, f := range fields {
		if isNumber[f.Name] {
			out[i].Class = "num"
		}
	}
	return out
}

func saysSomething(env domain.Env, f domain.Field[equipment.Type], types []*equipment.Type) bool {
	return slices.ContainsFunc(types, func(t *equipment.Type) bool {
		text := f.Show(env, t)
		return text != "" && text != "no"
	})
}
