package intake

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"scopewright/domain"
	"scopewright/store/intake/columns"
	"scopewright/store/intake/luminaires"
	"scopewright/store/intake/roomlist"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// previewView says line by line what a file would do.
type previewView struct {
	Path, Name, Kind string
	Notes            []string
	Columns          []columnLine
	Sheets           []domain.Choice // worksheets, where there are several
	Sheet            string
	Storeys          []domain.Choice
	Storey           string
	Placeless        int
	Tabs             []tab
	Lines            []line
	Shown            string
	Before, After    string
	Apply            string // what the button says; "" where there is nothing to do
	Seen             string
	Error            string
	Project          *projectView
	Model            *modelView
}

type columnLine struct{ Header, Meaning, Unit, Note string }

// tab filters the lines by what happens to them.
type tab struct {
	Name, Path string
	Count      int
	On         bool
}

const pageSize = 200

// preview is the page before anything is stored.
func (s Screen) preview(w http.ResponseWriter, r *http.Request) {
	p, err := s.kept(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.renderPreview(w, r, p, http.StatusOK, "")
}

func (s Screen) renderPreview(w http.ResponseWriter, r *http.Request, p *parcel, status int, wrong string) {
	project, _, err := s.Store.Project(r.Context(), p.project)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	switch {
	case p.reading != nil:
		edits.Render(w, r, s.Log, status, progressPage(frame(r, project, "Import of "+p.name, p.name), newProgressView(p)))
		return
	case p.kind == isPicture:
		s.renderPicture(w, r, p, project, status, wrong)
		return
	case p.kind == isPages:
		s.renderPages(w, r, p, project, status)
		return
	case p.kind == isModel:
		s.renderModel(w, r, p, project, status, wrong)
		return
	}
	v := previewView{Path: ui.ImportPreview(p.project, p.token), Name: p.name, Error: wrong}
	if p.kind == isProject {
		err = s.addProject(r.Context(), &v, p, project)
	} else {
		err = s.addLines(r, &v, p, project)
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	edits.Render(w, r, s.Log, status, previewPage(frame(r, project, "Import of "+p.name, p.name), v))
}

func (s Screen) addLines(r *http.Request, v *previewView, p *parcel, project *domain.Project) error {
	lines, err := s.lines(r.Context(), v, p, project)
	if err != nil {
		return err
	}
	v.addTable(p)
	v.Seen = stamp(lines)
	count := map[action]int{}
	for i := range lines {
		count[lines[i].Action]++
	}
	v.Apply = applyWords(p.kind, count)
	if here := count[isUpdate] + count[isSame] + count[missing]; p.kind == isRooms && here+count[isNew] > domain.MaxRooms {
		v.Apply, v.Error = "", fmt.Sprintf("The project would have %d rooms; at most %d fit. Split the list into several projects.", here+count[isNew], domain.MaxRooms)
	}
	v.addTabs(r.URL.Query(), count, len(lines)-count[missing])
	v.addPage(r.URL.Query(), lines)
	return nil
}

// lines plans the file against the project as it is now.
func (s Screen) lines(ctx context.Context, v *previewView, p *parcel, project *domain.Project) ([]line, error) {
	if p.kind == isLuminaires {
		v.Kind = "luminaire schedule"
		v.Columns, v.Notes = columnLines(p.luminaires.Columns), p.luminaires.Notes
		plan := p.luminaires.Plan(project, s.newID)
		v.Notes = append(v.Notes[:len(v.Notes):len(v.Notes)], plan.Notes...)
		return luminaireLines(project, plan), nil
	}
	scope, err := s.Store.Load(ctx, p.project)
	if err != nil {
		return nil, err
	}
	existing := make([]*domain.Room, len(scope.Rooms))
	for i := range scope.Rooms {
		existing[i] = &scope.Rooms[i]
	}
	v.Kind = "room list"
	plan, placeless := p.planRooms(&scope.Project, scope.Typicals, existing, s.newID)
	v.Columns, v.Placeless = columnLines(p.rooms.Columns), placeless
	v.Notes = append(p.rooms.Notes[:len(p.rooms.Notes):len(p.rooms.Notes)], plan.Notes...)
	for _, n := range plan.NewStoreys {
		v.Notes = append(v.Notes, fmt.Sprintf("Storey %q of %s is new and will be added.", n.Storey.Name, n.Building))
	}
	v.Storeys, v.Storey = ui.StoreyChoices(project), string(p.storey)
	return roomLines(project, plan), nil
}

func roomLines(project *domain.Project, plan *roomlist.Plan) []line {
	out := make([]line, 0, len(plan.Steps)+len(plan.Missing))
	for _, st := range plan.Steps {
		room := domain.Room{Number: st.Number, Name: st.Name}
		l := line{Number: st.Line, Action: action(st.Action), Label: room.Label(), Changes: st.Changes, Problem: st.Problem}
		if st.RoomID != "" && st.Action != roomlist.New {
			l.Path = ui.Room(project.ID, st.RoomID)
		}
		out = append(out, l)
	}
	for _, r := range plan.Missing {
		out = append(out, line{Action: missing, Label: r.Label(), Path: ui.Room(project.ID, r.ID)})
	}
	return out
}

func luminaireLines(project *domain.Project, plan *luminaires.Plan) []line {
	out := make([]line, 0, len(plan.Steps)+len(plan.Missing))
	for _, st := range plan.Steps {
		l := line{Number: st.Line, Action: action(st.Action), Label: joined(st.Tag, st.Description), Changes: st.Changes, Problem: st.Problem}
		if st.Action != luminaires.New && st.LuminaireID != "" {
			l.Path = ui.Luminaires(project.ID) + "#luminaires_" + string(st.LuminaireID)
		}
		out = append(out, l)
	}
	for _, l := range plan.Missing {
		out = append(out, line{Action: missing, Label: joined(l.Tag, l.Description), Path: ui.Luminaires(project.ID) + "#luminaires_" + string(l.ID)})
	}
	return out
}

func joined(tag, description string) string {
	if description == "" {
		return tag
	}
	return tag + " " + description
}

func columnLines(list []columns.Match) []columnLine {
	out := make([]columnLine, 0, len(list))
	for _, m := range list {
		out = append(out, columnLine{m.Header, m.Title, m.Unit, m.Note})
	}
	return out
}

func (v *previewView) addTable(p *parcel) {
	if p.table == nil {
		return
	}
	v.Notes = append(append([]string{}, p.table.Notes...), v.Notes...)
	v.Sheet = p.table.Sheet
	if len(p.table.Sheets) > 1 {
		for _, name := range p.table.Sheets {
			v.Sheets = append(v.Sheets, domain.Choice{Value: name, Label: name})
		}
	}
}

// tabNames are the filters in their order.
var tabNames = []struct {
	action action
	name   string
}{{"", "All"}, {isNew, "New"}, {isUpdate, "Changed"}, {isSame, "Unchanged"}, {isSkip, "Left out"}, {missing, "Not in the file"}}

// differing is the filter of rooms whose area here is not that of the drawing.
const differing action = "differs"

func (v *previewView) addTabs(q url.Values, count map[action]int, all int) {
	for _, t := range tabNames {
		n := count[t.action]
		if t.action == "" {
			n = all
		}
		path := v.Path
		if t.action != "" {
			path += "?show=" + string(t.action)
		}
		v.Tabs = append(v.Tabs, tab{t.name, path, n, q.Get("show") == string(t.action)})
	}
}

func (v *previewView) addPage(q url.Values, lines []line) {
	show := action(q.Get("show"))
	var passed []line
	for _, l := range lines {
		if show == "" && l.Action != missing || l.Action == show || show == differing && l.Differs {
			passed = append(passed, l)
		}
	}
	from, _ := strconv.Atoi(q.Get("from"))
	from = min(max(0, from), len(passed))
	to := min(from+pageSize, len(passed))
	v.Lines = passed[from:to]
	if len(passed) > pageSize {
		v.Shown = fmt.Sprintf("%d to %d of %d", from+1, to, len(passed))
	}
	at := func(n int) string {
		q.Set("from", strconv.Itoa(n))
		return v.Path + "?" + q.Encode()
	}
	if from > 0 {
		v.Before = at(max(0, from-pageSize))
	}
	if to < len(passed) {
		v.After = at(to)
	}
}

func applyWords(k kind, count map[action]int) string {
	one, many := "room", "rooms"
	if k == isLuminaires {
		one, many = "luminaire type", "luminaire types"
	}
	switch n, u := count[isNew], count[isUpdate]; {
	case n > 0 && u > 0:
		return "Add " + domain.Count(n, one, many) + " and change " + strconv.Itoa(u)
	case n > 0:
		return "Add " + domain.Count(n, one, many)
	case u > 0:
		return "Change " + domain.Count(u, one, many)
	}
	return ""
}
