package review

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// listView is the page on which the checklist is edited.
type listView struct {
	Project  domain.ID
	Count    string
	Grid     ui.Grid
	Choices  []ui.ChoiceList
	Subjects []string // for the form that adds a question
}

func (s Screen) desk() edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: ui.Checklist, Load: s.loadList}
}

func (s Screen) loadList(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.desk().Page(r, p, "Checklist", "Review")
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: "Review", Path: ui.Review(id)}, ui.Crumb{Name: "Checklist"})
	return edits.View{
		Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: listContent(newListView(p)),
		Value: func(path string) (string, string) { return itemValue(p, path) },
	}, err
}

func newListView(p *domain.Project) listView {
	env := domain.Env{Project: p}
	v := listView{
		Project: p.ID, Choices: ui.FieldChoices(env, domain.ChecklistFields, "check"),
		Grid: ui.Grid{ID: "checklist", Columns: ui.FieldColumns(domain.ChecklistFields, "check"),
			Empty: "The checklist is empty. Take the starting set, or add questions of your own below."},
	}
	rooms := 0
	for i := range p.Checklist {
		c := &p.Checklist[i]
		if c.For == domain.AskRoom {
			rooms++
		}
		if !slices.Contains(v.Subjects, c.Subject) {
			v.Subjects = append(v.Subjects, c.Subject)
		}
		v.Grid.Rows = append(v.Grid.Rows, itemRow(env, i, c))
	}
	v.Count = domain.Count(rooms, "question", "questions") + " asked of every room, " + strconv.Itoa(len(p.Checklist)-rooms) + " of the project"
	return v
}

func itemRow(env domain.Env, i int, c *domain.ChecklistItem) ui.GridRow {
	path, base := "checklist/"+string(c.ID), ui.Checklist(env.Project.ID)
	n := "question " + strconv.Itoa(i+1)
	return ui.GridRow{ID: path, Cells: ui.FieldCells(env, domain.ChecklistFields, path, c), Actions: []ui.RowAction{
		{Name: "Up", Title: "Move " + n + " up", Path: base + "/up"},
		{Name: "Down", Title: "Move " + n + " down", Path: base + "/down"},
		{Name: "Remove", Title: "Remove " + n, Path: base + "/remove"},
	}}
}

// itemValue tells of a cell how it is called and what it holds.
func itemValue(p *domain.Project, path string) (title, now string) {
	id, name := splitItem(path)
	at := itemAt(p, id)
	f, ok := domain.FieldNamed(domain.ChecklistFields, name)
	if at < 0 || !ok {
		return path, "gone"
	}
	return "Question " + strconv.Itoa(at+1) + ", " + strings.ToLower(f.Title), f.Show(domain.Env{Project: p}, &p.Checklist[at])
}

// splitItem reads "checklist/<id>/<field>".
func splitItem(path string) (id domain.ID, field string) {
	steps := strings.Split(path, "/")
	if len(steps) != 3 || steps[0] != "checklist" {
		return "", ""
	}
	return domain.ID(steps[1]), steps[2]
}

func itemAt(p *domain.Project, id domain.ID) int {
	return slices.IndexFunc(p.Checklist, func(c domain.ChecklistItem) bool { return c.ID == id })
}
