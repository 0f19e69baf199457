package project

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// settingsView is a project's own page, ready to print.
type settingsView struct {
	Project   domain.ID
	Path      string
	Base      string // revisions that edits without script are based on
	Facts     []fact
	Buildings []buildingView
	One       bool // only one building: it cannot be removed
}

// fact is one field that is edited in place.
type fact struct {
	ID, Path, Title, Hint, Text string
	Wide                        bool
	Choices                     []domain.Choice
	Days                        []string // of the calendar: what it makes of typical days
	Order                       []place  // of the order of priority
}

type buildingView struct {
	ID      domain.ID
	Name    fact
	Rooms   string
	Storeys ui.Grid
	Next    string // name that the next storey would have
}

func (s Screen) loadSettings(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	totals, err := s.Store.Totals(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.settings().Page(r, p, "Project", "Project")
	v := newSettingsView(p, totals)
	v.Base = edits.FormatBase(edits.Subject("project", id), revision)
	return edits.View{
		Page: page, Base: v.Base, Main: settingsContent(v),
		Value: func(path string) (string, string) { return value(p, path) },
	}, err
}

func newSettingsView(p *domain.Project, totals []store.StoreyTotals) settingsView {
	env, path := domain.Env{Project: p}, ui.Settings(p.ID)
	v := settingsView{Project: p.ID, Path: path, One: len(p.Buildings) == 1}
	for _, f := range domain.ProjectFields {
		one := newFact(env, f, "project", p)
		switch f.Name {
		case "calendar":
			one.Days = typicalDays(p)
		case "priority":
			one.Order = places(p)
		}
		v.Facts = append(v.Facts, one)
	}
	rooms := map[domain.ID]int{}
	for _, t := range totals {
		rooms[t.Storey] = t.Rooms
	}
	for i := range p.Buildings {
		v.Buildings = append(v.Buildings, newBuildingView(env, &p.Buildings[i], rooms, path))
	}
	return v
}

func newFact[T any](env domain.Env, f domain.Field[T], part string, x *T) fact {
	out := fact{ID: "fact-" + ui.DOMID(part) + "-" + f.Name, Path: part + "/" + f.Name, Title: f.Title, Hint: f.Hint, Text: f.Show(env, x), Wide: f.Wide}
	if f.Choices != nil {
		out.Choices = f.Choices(env, x)
	}
	return out
}

func newBuildingView(env domain.Env, b *domain.Building, rooms map[domain.ID]int, path string) buildingView {
	part := "buildings/" + string(b.ID)
	grid := ui.Grid{ID: "storeys-" + string(b.ID), Columns: ui.FieldColumns(domain.StoreyFields, "storey"), Empty: "This building has no storeys: add one below."}
	grid.Columns[1].Hint, grid.Columns[2].Hint = "empty: the building's own", "empty: the building's own"
	grid.Columns = append(grid.Columns, ui.Column{Title: "Rooms", Number: true})
	total := 0
	for i := range b.Storeys {
		st := &b.Storeys[i]
		row := ui.GridRow{ID: part + "/storeys/" + string(st.ID)}
		row.Cells = append(ui.FieldCells(env, domain.StoreyFields, row.ID, st), ui.Cell{Text: fmt.Sprint(rooms[st.ID]), Class: "num"})
		row.Actions = storeyActions(path, st.Name, i, len(b.Storeys))
		grid.Rows = append(grid.Rows, row)
		total += rooms[st.ID]
	}
	return buildingView{ID: b.ID, Name: newFact(env, domain.BuildingFields[0], part, b), Rooms: edits.Count(total, "room"), Storeys: grid, Next: nextStorey(b)}
}

func storeyActions(path, name string, i, n int) []ui.RowAction {
	var out []ui.RowAction
	if i > 0 {
		out = append(out, ui.RowAction{Name: "Up", Title: "Move " + name + " up", Path: path + "/storey/up"})
	}
	if i < n-1 {
		out = append(out, ui.RowAction{Name: "Down", Title: "Move " + name + " down", Path: path + "/storey/down"})
	}
	return append(out, ui.RowAction{Name: "Remove", Title: "Remove " + name, Path: path + "/storey/remove"})
}

// nextStorey counts up from the last storey's name: "Level 3" after "Level 2".
func nextStorey(b *domain.Building) string {
	if len(b.Storeys) == 0 {
		return "Level 1"
	}
	last := b.Storeys[len(b.Storeys)-1].Name
	stem := strings.TrimRight(last, "0123456789")
	digits := last[len(stem):]
	n, err := strconv.Atoi(digits)
	if err != nil || n > 1e6 {
		return fmt.Sprintf("Level %d", len(b.Storeys)+1)
	}
	return fmt.Sprintf("%s%0*d", stem, len(digits), n+1)
}

// value tells of a field how it is called and what it holds.
func value(p *domain.Project, path string) (title, now string) {
	env := domain.Env{Project: p}
	steps := strings.Split(path, "/")
	name := steps[len(steps)-1]
	switch {
	case len(steps) == 2 && steps[0] == "project":
		if f, ok := domain.FieldNamed(domain.ProjectFields, name); ok {
			return f.Title, f.Show(env, p)
		}
	case len(steps) == 3 && steps[0] == "buildings":
		if b := findBuilding(p, domain.ID(steps[1])); b != nil {
			return "Building", b.Name
		}
	case len(steps) == 5:
		_, st := p.FindStorey(domain.ID(steps[3]))
		if f, ok := domain.FieldNamed(domain.StoreyFields, name); ok && st != nil {
			return st.Name + ", " + strings.ToLower(f.Title), f.Show(env, st)
		}
	}
	return path, "gone"
}

func findBuilding(p *domain.Project, id domain.ID) *domain.Building {
	for i := range p.Buildings {
		if p.Buildings[i].ID == id {
			return &p.Buildings[i]
		}
	}
	return nil
}
