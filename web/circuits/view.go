package circuits

import (
	"fmt"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/domain/electrical"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Project  domain.ID
	Count    string
	Breaker  string // where none is stated
	Share    string
	Unnamed  string // loads that name no circuit; empty: none
	Grid     ui.Grid
	Choices  []ui.ChoiceList
	Findings []finding
}

// finding is what the rules say of a circuit.
type finding struct {
	Severity, Word, Message, Title, Explain string
	Rooms                                   []link
}

type link struct{ Name, Path string }

// mostLinks is how many rooms one finding names with a link.
const mostLinks = 12

// facts are the fields that a circuit's row lets people edit: its name is what
// loads call it.
var facts = domain.CircuitFields[1:]

func (s Screen) load(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	shares, err := s.Store.CircuitShares(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.desk().Page(r, p, "Circuits", "Circuits")
	return edits.View{
		Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: content(newView(p, shares)),
		Value: func(path string) (string, string) { return value(p, path) },
	}, err
}

func newView(p *domain.Project, shares []domain.CircuitShare) view {
	v := view{Project: p.ID, Choices: ui.FieldChoices(domain.Env{Project: p}, facts, "circuit"),
		Breaker: number(p.Limits.Value(domain.CircuitRating)) + " A", Share: number(p.Limits.Value(domain.OutputShare)) + " %",
		Grid: ui.Grid{ID: "circuits", Columns: columns(), Empty: "No load names a circuit yet. Name the circuits of loads in the rooms, or list one above."}}
	found := &rule.ProjectFacts{Project: p, Circuits: shares}
	totals := found.Totals()
	seen, panel := map[domain.ID]bool{}, ""
	n, homeless, rooms := 0, 0, 0
	for i := range totals {
		t := &totals[i]
		if t.Name == "" {
			homeless, rooms = homeless+t.Loads+t.Receptacles, rooms+len(t.Rooms())
			continue
		}
		row := newRow(p, t, seen)
		if name := panelOf(p, t); name != panel {
			panel, row.Group = name, name
		}
		v.Grid.Rows = append(v.Grid.Rows, row)
		n++
	}
	v.Count = edits.Count(n, "circuit")
	v.Findings = findingsOf(found)
	if homeless > 0 {
		v.Unnamed = fmt.Sprintf("%s in %s without a circuit", edits.Count(homeless, "load"), edits.Count(rooms, "room"))
	}
	return v
}

func columns() []ui.Column {
	out := []ui.Column{{Title: "Circuit"}, {Title: "Rooms", Wide: true}, {Title: "Loads", Number: true}, {Title: "On volts", Number: true, Hint: "that its loads state"},
		{Title: "Current", Number: true}, {Title: "Used", Number: true, Hint: "of what its breaker may carry for hours"}, {Title: "Inrush", Number: true, Hint: "peak of all drivers, of what the breaker stands"}, {Title: "Verdict"}}
	stated := ui.FieldColumns(facts, "circuit")
	for i, f := range facts {
		stated[i].Number = f.Name == "breaker_a" || f.Name == "volts"
	}
	return append(out, stated...)
}

func newRow(p *domain.Project, t *domain.CircuitTotal, seen map[domain.ID]bool) ui.GridRow {
	k := domain.Circuit{ID: idOf(t.Name), Name: t.Name}
	if t.Facts != nil {
		k = *t.Facts
	}
	id := "circuits/" + string(k.ID)
	row := ui.GridRow{ID: id, Cells: append(reckoned(p, t), ui.FieldCells(domain.Env{Project: p}, facts, id, &k)...)}
	again := seen[k.ID] // the same name in another building: its facts are edited once
	if again {
		row.ID += "/" + string(t.Building)
	}
	seen[k.ID] = true
	for i, f := range facts {
		c := &row.Cells[len(row.Cells)-len(facts)+i]
		if f.Name == "breaker_a" || f.Name == "volts" {
			c.Class = "num"
		}
		if c.Text == "" {
			c.Title = f.Empty
		}
		if again {
			c.Path, c.Title = "", "stated above, of the circuit of that name in another building"
		}
	}
	if t.Facts != nil && !again {
		row.Actions = []ui.RowAction{{Name: "Forget", Title: "Forget what is stated of circuit " + t.Name, Path: ui.Circuits(p.ID) + "/remove"}}
	}
	return row
}

// reckoned gives the cells that are worked out from the rooms.
func reckoned(p *domain.Project, t *domain.CircuitTotal) []ui.Cell {
	rooms := t.Rooms()
	var list []string
	for i, s := range rooms {
		if i == 8 {
			list = append(list, fmt.Sprintf("and %d more", len(rooms)-i))
			break
		}
		list = append(list, s.Number)
	}
	volts := make([]string, len(t.Volts))
	for i, v := range t.Volts {
		volts[i] = number(float64(v))
	}
	current, used := "", ""
	if t.Loads > 0 || t.Rest > 0 {
		current = number(float64(t.Amps+t.Rest)) + " A"
		if allowed := t.Allowed(p); allowed > 0 {
			used = units.Trim(100*float64(t.Counted(p)/allowed), 1) + " %"
		}
	}
	return []ui.Cell{{Text: t.Name}, {Text: strings.Join(list, ", ")}, {Text: fmt.Sprint(t.Loads + t.Receptacles), Class: "num"}, {Text: strings.Join(volts, " and "), Class: "num"},
		{Text: current, Class: "num"}, {Text: used, Class: "num"}, {Text: inrush(p, t), Class: "num"}, {Text: verdict(p, t)}}
}

// inrush gives the peak of a circuit's drivers over what its breaker stands.
func inrush(p *domain.Project, t *domain.CircuitTotal) string {
	switch {
	case t.Loads == 0:
		return ""
	case t.Unstated > 0:
		return "not checked"
	}
	return number(float64(t.Inrush)) + " of " + units.Trim(float64(electrical.BreakerPeak(p, t)), 0) + " A"
}

// verdict says in words how a circuit stands.
func verdict(p *domain.Project, t *domain.CircuitTotal) string {
	over := t.Counted(p) - t.Allowed(p)
	switch {
	case t.Loads+t.Receptacles == 0:
		return "no loads"
	case !units.AtMost(float64(t.Counted(p)), float64(t.Allowed(p))):
		return "over by " + number(float64(over)) + " A"
	case t.Loads > 0 && t.Unstated == 0 && !units.AtMost(float64(t.Inrush), float64(electrical.BreakerPeak(p, t))):
		return "inrush over by " + units.Trim(float64(t.Inrush)-float64(electrical.BreakerPeak(p, t)), 0) + " A"
	case len(t.Volts) > 1 || len(t.Volts) == 1 && t.Facts != nil && t.Facts.Volts > 0 && t.Facts.Volts != t.Volts[0]:
		return "two voltages"
	case t.Loads == 0 && t.Rest == 0:
		return "receptacles, not reckoned"
	case t.Unknown > 0:
		return edits.Count(t.Unknown, "load") + " unknown"
	case t.Receptacles > 0 && t.Rest == 0:
		return "within, receptacles not reckoned"
	}
	return "within"
}

func panelOf(p *domain.Project, t *domain.CircuitTotal) string {
	panel, _ := domain.PanelOf(t.Name)
	name := "Panel " + panel
	if panel == "" {
		name = "No panel named"
	}
	for i := range p.Buildings {
		if b := &p.Buildings[i]; len(p.Buildings) > 1 && b.ID == t.Building {
			return b.Name + ": " + name
		}
	}
	return name
}

func findingsOf(f *rule.ProjectFacts) []finding {
	var out []finding
	for _, found := range validate.Project(f) {
		if !strings.HasPrefix(found.Rule, "power-") {
			continue
		}
		v := finding{Severity: string(found.Severity), Word: found.Severity.Word(), Message: found.Message, Explain: ui.Rules(found.Rule)}
		if one := validate.ByID(found.Rule); one != nil {
			v.Title = one.Title
		}
		for _, s := range found.Subjects {
			if s.Part == "rooms" && len(v.Rooms) < mostLinks {
				v.Rooms = append(v.Rooms, link{s.Tag, ui.Room(f.Project.ID, s.ID)})
			}
		}
		out = append(out, v)
	}
	return out
}

// value tells of a cell how it is called and what it holds.
func value(p *domain.Project, path string) (title, now string) {
	id, name := split(path)
	f, ok := domain.FieldNamed(facts, name)
	if !ok {
		return path, "gone"
	}
	k := find(p, id)
	if k == nil {
		return "Circuit, " + strings.ToLower(f.Title), ""
	}
	return "Circuit " + k.Name + ", " + strings.ToLower(f.Title), f.Show(domain.Env{Project: p}, k)
}

func number(v float64) string { return units.Trim(v, 2) }
