package plan

import (
	"fmt"
	"net/http"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// modelField is a field that the panel beside the plan shows: of a window, a
// door, a gap or a rooflight. What it holds comes with each thing.
type modelField struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Hint    string   `json:"hint,omitempty"`
	Empty   string   `json:"empty,omitempty"` // what holds where it is empty
	Choices []string `json:"choices,omitempty"`
}

// modelRooflight is a rooflight as the page's script knows it.
type modelRooflight struct {
	modelThing
	Ring   []geom.Point `json:"ring"`
	Values []string     `json:"values"` // of the fields
}

func (st *state) env() domain.Env { return domain.Env{Project: st.Project} }

// fields are those of all kinds, by what a thing is.
func (st *state) fields() map[string][]modelField {
	out := map[string][]modelField{"rooflight": described(domain.RooflightFields(), st.env(), &domain.Rooflight{}, st.emptyOf)}
	for _, kind := range []domain.OpeningKind{domain.Window, domain.Door, domain.Gap} {
		empty := st.emptyOf
		if kind != domain.Window {
			empty = func(string) string { return "" }
		}
		out[string(kind)] = described(domain.OpeningFields(kind), st.env(), &domain.Opening{Kind: kind}, empty)
	}
	return out
}

func described[T any](fields []domain.Field[T], e domain.Env, x *T, empty func(string) string) []modelField {
	out := make([]modelField, len(fields))
	for i, f := range fields {
		out[i] = modelField{Name: f.Name, Title: f.Title, Hint: f.Hint}
		if held := empty(f.Name); held != "" {
			out[i].Empty = held + " (limits)"
		}
		if f.Choices != nil {
			for _, c := range f.Choices(e, x) {
				out[i].Choices = append(out[i].Choices, c.Value)
			}
		}
	}
	return out
}

func valuesOf[T any](fields []domain.Field[T], e domain.Env, x *T) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f.Show(e, x)
	}
	return out
}

// emptyOf says what holds where a field is left empty: the project's limits.
func (st *state) emptyOf(field string) string {
	limit := st.Project.Limits.Value
	switch field {
	case "sill":
		return units.PlainLength(units.Metres(limit(domain.WindowSill)), st.Project.Units)
	case "head":
		return units.PlainLength(units.Metres(limit(domain.WindowHead)), st.Project.Units)
	case "glass":
		return units.Trim(limit(domain.GlassTransmittance), 1) + " %"
	}
	return ""
}

func (st *state) modelRooflight(i int) modelRooflight {
	l := &st.Plan.Rooflights[i]
	box := l.Box()
	return modelRooflight{
		modelThing: modelThing{Key: "rooflight/" + string(l.ID), Name: fmt.Sprintf("Rooflight %d", i+1), What: "rooflight", At: l.At, Turn: l.Turn, Turns: true,
			Facts: [][2]string{{"Area", units.Area(units.SquareMetres(box.Area()), st.Project.Units)}}},
		Ring: box.Outer, Values: valuesOf(domain.RooflightFields(), st.env(), l),
	}
}

// glazing are the cells of an opening that the fields describe, "does not apply"
// where its kind lacks one.
func (st *state) glazing(path string, o *domain.Opening) []ui.Cell {
	own := domain.OpeningFields(o.Kind)
	var out []ui.Cell
	for _, f := range domain.OpeningFields(domain.Window) {
		one, has := domain.FieldNamed(own, f.Name)
		class := map[bool]string{true: "num"}[f.Choices == nil]
		if !has {
			out = append(out, ui.Cell{Class: "mute " + class, Title: "does not apply"})
			continue
		}
		out = append(out, ui.Cell{Path: path + "/" + f.Name, Class: class, Text: one.Show(st.env(), o)})
	}
	return out
}

func columnsOf[T any](fields []domain.Field[T], empty func(string) string) []ui.Column {
	var out []ui.Column
	for _, f := range fields {
		c := ui.Column{Title: f.Title, Hint: f.Hint, Number: f.Choices == nil}
		if held := empty(f.Name); held != "" {
			c.Hint += ": " + held
		}
		if f.Choices != nil {
			c.Choices = yesNoList
		}
		out = append(out, c)
	}
	return out
}

const yesNoList = "yes-no" // of the datalist

// rooflightGrid is every rooflight in numbers.
func (st *state) rooflightGrid(path string) ui.Grid {
	fields := domain.RooflightFields()
	g := ui.Grid{ID: "plan-rooflights", Fit: true, Empty: "No rooflights are drawn on this storey.",
		Columns: append([]ui.Column{{Title: "Rooflight"}}, columnsOf(fields, st.emptyOf)...)}
	for i := range st.Plan.Rooflights {
		l := &st.Plan.Rooflights[i]
		row := ui.GridRow{ID: "rooflight/" + string(l.ID), Cells: []ui.Cell{{Text: fmt.Sprint(i + 1)}},
			Actions: []ui.RowAction{{Name: "Remove", Title: "Take this rooflight off the plan", Path: path + "/rooflight/remove"}}}
		for _, f := range fields {
			row.Cells = append(row.Cells, ui.Cell{Path: row.ID + "/" + f.Name, Class: "num", Text: f.Show(st.env(), l)})
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// addRooflight adds one by numbers.
func (s Screen) addRooflight(w http.ResponseWriter, r *http.Request) {
	s.fromForm(w, r, func(p *domain.Project) (edit.Gesture, error) {
		l := domain.Rooflight{}
		for _, f := range domain.RooflightFields()[:4] { // place and size
			if err := f.Set(domain.Env{Project: p}, &l, r.PostFormValue(f.Name)); err != nil {
				return nil, edits.Refusef("%s: %w", f.Title, err)
			}
		}
		half := geom.Pt(float64(l.Width)/2, float64(l.Length)/2)
		return edit.AddRooflight{ID: domain.NewID(), A: l.At.Sub(half), B: l.At.Add(half)}, nil
	})
}

// removeRooflight takes one off the plan.
func (s Screen) removeRooflight(w http.ResponseWriter, r *http.Request) {
	s.fromForm(w, r, func(*domain.Project) (edit.Gesture, error) {
		thing, err := edit.ParseThing(r.FormValue("row"))
		if err != nil || thing.Kind != edit.RooflightThing {
			return nil, edits.Refusef("there is no rooflight %.60q", r.FormValue("row"))
		}
		return edit.TakeOff{Things: []edit.Thing{thing}}, nil
	})
}
