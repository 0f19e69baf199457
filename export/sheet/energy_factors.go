package sheet

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
)

// bySource puts rows under the source that they share, in the order in which the
// sources come first.
type bySource struct {
	order []string
	rows  map[string][]Row
}

func (b *bySource) add(source string, cells ...Cell) {
	if b.rows == nil {
		b.rows = map[string][]Row{}
	}
	if b.rows[source] == nil {
		b.order = append(b.order, source)
	}
	b.rows[source] = append(b.rows[source], Row{Cells: cells})
}

func (b *bySource) list() (out []Row) {
	for _, source := range b.order {
		out = append(append(out, groupRow(source)), b.rows[source]...)
	}
	return out
}

// profiles lists the hours of the uses that the rooms have, by source.
func (e *yearOf) profiles() Block {
	rooms := map[domain.Use][]string{}
	var uses []domain.Use
	for i := range e.years {
		u := e.years[i].Use
		if !slices.Contains(uses, u) {
			uses = append(uses, u)
		}
		rooms[u] = append(rooms[u], e.years[i].Number)
	}
	slices.SortFunc(uses, func(a, b domain.Use) int { return strings.Compare(a.Name(), b.Name()) })
	var by bySource
	for _, u := range uses {
		p := energy.ProfileOf(e.c.project, u)
		whose := "built in"
		if p.Own {
			whose = "this project's"
		}
		name := u.Name()
		if name == "" {
			name = "not stated"
		}
		by.add(p.Source, TextCell(name), TextCell(number(p.Day)), TextCell(number(p.Night)), NumberCell(roundTo(100*p.Absence, 1), 0), TextCell(units.Light(units.Lux(p.Lx), e.c.project.Units)), NumberCell(float64(len(rooms[u])), 0), TextCell(whose))
	}
	return Table{Caption: "Hours of use a year, by source", Empty: "No rooms.", Columns: []Column{{Title: "Use of rooms", Width: 2.4}, {Title: "Hours with daylight", Align: Right, Width: 1.2}, {Title: "Hours without", Align: Right, Width: 1.2}, {Title: "Empty", Unit: "%", Kind: Number, Width: 0.8}, {Title: "Task", Align: Right, Width: 1}, {Title: "Rooms", Kind: Number, Width: 0.8}, {Title: "Whose", Width: 1.2}}, Rows: by.list()}
}

// factors lists the numbers of the method as the project has them, by source.
func (e *yearOf) factors() Block {
	var by bySource
	for _, g := range domain.EnergyLimits() {
		l := e.c.project.Limits.Find(g.ID)
		built := none
		if l.Value != g.Value {
			built = g.Text(e.c.project.Units)
		}
		by.add(l.Source, TextCell(l.Title), TextCell(l.Text(e.c.project.Units)), TextCell(built))
	}
	return Table{Caption: "Factors, by source", Columns: []Column{{Title: "Factor", Width: 5}, {Title: "Value", Align: Right, Width: 1}, {Title: "Built in, where it differs", Align: Right, Width: 1.4}}, Rows: by.list(),
		Note: "F_D,S = a - fall x latitude, for 38 to 60 degrees north. F_OC goes by the control, F_D,C is what the control takes of what the sky supplies. F_C counts for loads that a sensor dims, where a maintenance factor is stated."}
}
