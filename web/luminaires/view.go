package luminaires

import (
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Project domain.ID
	Count   string
	Grid    ui.Grid
	Choices []ui.ChoiceList
	NextTag string
	Volts   string // that most types run on
	Drivers []domain.Choice
	Later   bool // uses are counted after the page
}

func (s Screen) load(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	uses, later, err := edits.PageUses(r, s.Store, id, edits.OfLuminaires)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.desk().Page(r, p, "Luminaire schedule", "Luminaires")
	return edits.View{
		Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: content(newView(p, uses, later)),
		Value: func(path string) (string, string) { return value(p, path) },
	}, err
}

func newView(p *domain.Project, uses edits.Uses, later bool) view {
	env := domain.Env{Project: p}
	v := view{
		Project: p.ID, Count: edits.Count(len(p.Luminaires), "type"), NextTag: nextTag(p), Volts: usualVolts(p),
		Choices: ui.FieldChoices(env, domain.LuminaireFields, "lum"), Drivers: driverChoices(), Later: later,
		Grid: ui.Grid{ID: "luminaires", Columns: ui.FieldColumns(domain.LuminaireFields, "lum"),
			Empty: "No luminaire types yet. Add one above, or import the schedule from a spreadsheet."},
	}
	numbers(v.Grid.Columns)
	v.Grid.Columns = append(v.Grid.Columns, ui.Column{Title: "Used", Hint: "in rooms, as they are with their typicals"})
	for i := range p.Luminaires {
		v.Grid.Rows = append(v.Grid.Rows, row(env, &p.Luminaires[i], uses))
	}
	return v
}

func row(env domain.Env, l *domain.Luminaire, uses edits.Uses) ui.GridRow {
	id := "luminaires/" + string(l.ID)
	cells := ui.FieldCells(env, domain.LuminaireFields, id, l)
	for i := range cells {
		if isNumber[domain.LuminaireFields[i].Name] {
			cells[i].Class = "num"
		}
	}
	base := ui.Luminaires(env.Project.ID)
	return ui.GridRow{ID: id, Cells: append(cells, uses.Cell(string(l.ID))), Actions: []ui.RowAction{
		{Name: "Copy", Title: "Copy type " + l.Tag, Path: base + "/duplicate"},
		{Name: "Remove", Title: "Remove type " + l.Tag, Path: base + "/remove"},
	}}
}

var isNumber = map[string]bool{"watts": true, "volts": true, "power_factor": true, "drivers": true, "control_ma": true, "inrush_a": true, "inrush_us": true, "dims_to": true}

func numbers(columns []ui.Column) {
	for i, f := range domain.LuminaireFields {
		columns[i].Number = isNumber[f.Name]
	}
}

func driverChoices() []domain.Choice {
	out := make([]domain.Choice, 0, len(domain.DriverKinds()))
	for _, k := range domain.DriverKinds() {
		out = append(out, domain.Choice{Value: string(k), Label: string(k)})
	}
	return out
}

// value tells of a cell how it is called and what it holds.
func value(p *domain.Project, path string) (title, now string) {
	id, name := split(path)
	l := p.Luminaire(id)
	f, ok := domain.FieldNamed(domain.LuminaireFields, name)
	if l == nil || !ok {
		return path, "gone"
	}
	return "Type " + l.Tag + ", " + strings.ToLower(f.Title), f.Show(domain.Env{Project: p}, l)
}

// split reads "luminaires/<id>/<field>".
func split(path string) (id domain.ID, field string) {
	steps := strings.Split(path, "/")
	if len(steps) != 3 || steps[0] != "luminaires" {
		return "", ""
	}
	return domain.ID(steps[1]), steps[2]
}

// nextTag gives a tag that is free: the last one counted up.
func nextTag(p *domain.Project) string {
	if len(p.Luminaires) == 0 {
		return "A1"
	}
	last := p.Luminaires[len(p.Luminaires)-1].Tag
	stem := strings.TrimRight(last, "0123456789")
	n, _ := strconv.Atoi(last[len(stem):]) // no digits, or too many: begin at 1
	if n >= 1e6 {
		n = 0
	}
	for {
		n++
		if tag := stem + strconv.Itoa(n); tagged(p, tag, "") == nil {
			return tag
		}
	}
}

// tagged gives another type with the tag, in letters of any size.
func tagged(p *domain.Project, tag string, not domain.ID) *domain.Luminaire {
	for i := range p.Luminaires {
		if l := &p.Luminaires[i]; l.ID != not && strings.EqualFold(l.Tag, tag) {
			return l
		}
	}
	return nil
}

// usualVolts gives the line voltage of the last type, else the usual one of
// the project's country: 277 V for lighting in the US, 230 V elsewhere.
func usualVolts(p *domain.Project) string {
	if n := len(p.Luminaires); n > 0 && p.Luminaires[n-1].Volts > 0 {
		return units.Trim(float64(p.Luminaires[n-1].Volts), 1)
	}
	if p.Units == units.US {
		return "277"
	}
	return "230"
}
