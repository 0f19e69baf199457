package energy

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// ratesGrid lists what energy costs; nothing is built in.
func ratesGrid(p *domain.Project) ui.Grid {
	env := domain.Env{Project: p}
	g := ui.Grid{ID: "rates", Columns: []ui.Column{{Title: "Rate"}, {Title: "Value", Number: true}, {Title: "Unit"}, {Title: "Of", Hint: "the date for which it holds, YYYY-MM-DD"}, {Title: "Where it comes from", Wide: true}}}
	word := p.Currency
	if word == "" {
		word = "currency"
	}
	for _, k := range domain.RateKinds() {
		r := p.Rate(k.ID)
		id := "rates/" + string(k.ID)
		cells := ui.FieldCells(env, domain.RateFields, id, &r)
		unit := k.Per
		if k.Money {
			unit = strings.TrimSpace(word + " " + k.Per)
		}
		cells[0].Class, cells[2].Class = "num", "wrap"
		g.Rows = append(g.Rows, ui.GridRow{ID: id, Cells: []ui.Cell{{Text: k.Title}, cells[0], {Text: unit}, cells[1], cells[2]}})
	}
	g.Rows = append(g.Rows, ui.GridRow{ID: "project/currency", Cells: []ui.Cell{{Text: "Currency's word"}, {Path: "project/currency", Text: p.Currency}, {}, {}, {}}})
	return g
}

// profilesGrid lists the hours of the uses that rooms have, by source.
func profilesGrid(p *domain.Project, rooms map[domain.Use]int) ui.Grid {
	env := domain.Env{Project: p}
	columns := append([]ui.Column{{Title: "Use of rooms"}, {Title: "Rooms", Number: true}}, ui.FieldColumns(domain.ProfileFields, "profile")...)
	for i := 2; i < 6; i++ {
		columns[i].Number = true
	}
	g := ui.Grid{ID: "profiles", Columns: columns, Empty: "No room has a use yet."}
	for _, info := range domain.Uses() {
		n := rooms[info.Use]
		u, own := profileOf(p, info.Use)
		if n == 0 && !own {
			continue
		}
		id := "profiles/" + string(info.Use)
		cells := ui.FieldCells(env, domain.ProfileFields, id, &u)
		for i := range cells[:4] {
			cells[i].Class = "num"
		}
		cells[4].Class = "wrap"
		row := ui.GridRow{ID: id, Cells: append([]ui.Cell{{Text: info.Name}, {Text: edits.Count(n, "room"), Class: "num"}}, cells...)}
		if own {
			row.Cells[2].Class, row.Cells[2].Title = "num exception", "this project's own hours"
			row.Actions = []ui.RowAction{{Name: "Back to built-in", Title: "Back to the built-in hours: " + info.Name, Path: ui.Energy(p.ID) + "/built-in"}}
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// factorsGrid lists the numbers of the method, those of one source together.
func factorsGrid(p *domain.Project) ui.Grid {
	env := domain.Env{Project: p}
	g := ui.Grid{ID: "factors", Columns: []ui.Column{{Title: "Factor"}, {Title: "Value", Number: true}, {Title: "Built-in value", Number: true}, {Title: "Source", Wide: true}}}
	for i, l := range domain.EnergyLimits() {
		built, now := l, p.Limits.Find(l.ID)
		id := "limits/" + string(l.ID)
		cells := ui.FieldCells(env, domain.LimitFields, id, &now)
		cells[1].Class = "wrap"
		row := ui.GridRow{ID: id, Group: groupOf(i), Cells: []ui.Cell{{Text: l.Title, Class: "wrap"}, cells[0], {Text: built.Text(p.Units), Class: "num"}, cells[1]}}
		row.Cells[1].Class = "num"
		if now.Value != built.Value || now.Source != built.Source {
			row.Cells[1].Class, row.Cells[1].Title = "num exception", "differs from the built-in value: let its source say where it comes from"
			row.Actions = []ui.RowAction{{Name: "Back to built-in", Title: "Back to the built-in value: " + l.Title, Path: ui.Energy(p.ID) + "/built-in"}}
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// groupOf gives a heading above the limit at that place where a kind of them begins.
func groupOf(i int) string {
	kind := func(i int) string {
		title := domain.EnergyLimits()[i].Title
		for _, k := range []struct{ begins, name string }{{"F_OC", "F_OC: occupancy, by control"}, {"F_D,C", "F_D,C: what control takes of the daylight"}, {"F_D,S", "F_D,S: what the sky supplies, a less the fall times the latitude"}} {
			if strings.HasPrefix(title, k.begins) {
				return k.name
			}
		}
		return "Standby, charging, habits"
	}
	if i > 0 && kind(i-1) == kind(i) {
		return ""
	}
	return kind(i)
}

// usesOf counts rooms by use.
func usesOf(years []*energy.Year) map[domain.Use]int {
	out := map[domain.Use]int{}
	for _, y := range years {
		u := y.Room.Use
		if !slices.ContainsFunc(domain.Uses(), func(x domain.UseInfo) bool { return x.Use == u }) {
			u = "other"
		}
		out[u]++
	}
	return out
}
