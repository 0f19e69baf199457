package review

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

const pageSize = 100

// projectView is the project's review page.
type projectView struct {
	Path, Summary       string
	Talk                talk
	Text, Storey, State string // the filter
	Storeys             []domain.Choice
	Rooms               []roomLine
	Shown, Empty        string
	Before, After       string // the pages around this one
}

// roomLine is one room of the table.
type roomLine struct {
	Path, Label, Storey, Looked  string
	Objections, Errors, Warnings int
	Class, Sign                  string
}

// reviewStates are what rooms can be filtered by.
var reviewStates = []domain.Choice{
	{Value: "", Label: "all"},
	{Value: string(store.NotSigned), Label: "not signed"},
	{Value: string(store.Signed), Label: "signed and valid"},
	{Value: string(store.StaleSigned), Label: "signed, now stale"},
	{Value: string(store.WithObjects), Label: "with objections"},
}

// showProject is the second opinion on the project and the table of its rooms.
func (s Screen) showProject(w http.ResponseWriter, r *http.Request) {
	p, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	v, err := s.newProjectView(r, p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	page := ui.NewPage(r, "Review")
	page.Project, page.Tab = p.project, "Review"
	page.Crumbs = []ui.Crumb{{Name: p.project.Name, Path: ui.Project(p.project.ID)}, {Name: "Review"}}
	edits.Render(w, r, s.Log, http.StatusOK, projectPage(page, v))
}

func (s Screen) newProjectView(r *http.Request, p *place) (projectView, error) {
	q := r.URL.Query()
	v := projectView{
		Path: p.path(), Talk: newTalk(p, ui.Who(r) != ""),
		Text: q.Get("q"), Storey: q.Get("storey"), State: knownState(q.Get("state")), Storeys: ui.StoreyChoices(p.project),
	}
	v.Talk.Empty = "The checklist asks nothing of the project. Add questions on the checklist page."
	from, _ := strconv.Atoi(q.Get("from"))
	from = max(0, from)
	lines, total, err := s.Store.RoomLines(r.Context(), p.project.ID, store.Filter{
		Storey: domain.ID(v.Storey), Text: v.Text, Review: store.ReviewState(v.State), Limit: pageSize, Offset: from,
	})
	if err != nil {
		return v, err
	}
	looked, err := s.Store.LookedAt(r.Context(), p.project.ID)
	if err != nil {
		return v, err
	}
	v.addRooms(p, lines, looked)
	v.addPages(q, from, total)
	v.Summary, err = s.summary(r, p.project.ID)
	return v, err
}

func knownState(state string) string {
	for _, c := range reviewStates {
		if c.Value == state {
			return state
		}
	}
	return ""
}

func (v *projectView) addRooms(p *place, lines []store.RoomLine, looked map[domain.ID]int) {
	asked := len(domain.Opinions(p.project.Checklist, domain.AskRoom, nil))
	for i := range lines {
		l := &lines[i]
		room := domain.Room{Number: l.Number, Name: l.Name}
		line := roomLine{
			Path: ui.RoomReview(p.project.ID, l.ID), Label: room.Label(), Storey: l.StoreyName,
			Looked:     fmt.Sprintf("%d of %d", min(looked[l.ID], asked), asked),
			Objections: l.Objections, Errors: l.Errors, Warnings: l.Warnings,
		}
		switch {
		case l.SignedHash == "":
			line.Sign = "not signed"
		case l.Stale:
			line.Class, line.Sign = "warning", "stale since "+ui.Day(l.SignedAt)
		default:
			line.Class, line.Sign = "ok", "signed "+ui.Day(l.SignedAt)
		}
		v.Rooms = append(v.Rooms, line)
	}
}

func (v *projectView) addPages(q url.Values, from, total int) {
	v.Shown = domain.Count(total, "room", "rooms")
	if len(v.Rooms) < total && len(v.Rooms) > 0 {
		v.Shown = fmt.Sprintf("%d to %d of %d", from+1, from+len(v.Rooms), total)
	}
	v.Empty = "Add rooms on the Rooms page, or import a room list."
	if v.Text != "" || v.Storey != "" || v.State != "" {
		v.Empty = "No room passes this filter."
	}
	at := func(n int) string {
		q.Set("from", strconv.Itoa(n))
		return v.Path + "?" + q.Encode()
	}
	if from > 0 {
		v.Before = at(max(0, from-pageSize))
	}
	if from+len(v.Rooms) < total {
		v.After = at(from + pageSize)
	}
}

// summary counts the rooms by where their review stands.
func (s Screen) summary(r *http.Request, id domain.ID) (string, error) {
	count := func(state store.ReviewState) (int, error) {
		_, n, err := s.Store.RoomLines(r.Context(), id, store.Filter{Review: state, Limit: 1})
		return n, err
	}
	out := ""
	for _, part := range []struct {
		state store.ReviewState
		word  string
	}{{store.Signed, "signed"}, {store.StaleSigned, "signed but stale"}, {store.NotSigned, "not signed"}, {store.WithObjects, "with objections"}} {
		n, err := count(part.state)
		if err != nil {
			return "", err
		}
		if n == 0 {
			continue
		}
		if out != "" {
			out += ", "
		}
		out += fmt.Sprintf("%d %s", n, part.word)
	}
	return out, nil
}
