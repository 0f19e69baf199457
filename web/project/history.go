package project

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// entriesAtOnce is how much of the journal one page shows.
const entriesAtOnce = 100

// historyView is a page of the journal, ready to print.
type historyView struct {
	Path    string
	Entries []entryView
	Older   string // address of the next page, empty at the end
	Newest  string // address of the first page, where this is another
}

type entryView struct {
	ID            string
	At, Who, Said string
	State         string // empty for what holds
	Where, Link   string
	Do, DoTitle   string // "Undo", "Redo" or nothing
	Subject       string
}

func (s Screen) loadHistory(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	before, _ := strconv.ParseInt(edits.Query(r).Get("before"), 10, 64) // none or nonsense: the newest
	entries, err := s.Store.History(r.Context(), id, store.HistoryFilter{Before: before, Limit: entriesAtOnce})
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.history().Page(r, p, "History", "Project")
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: "History"})
	v := s.newHistoryView(r, id, entries, before == 0)
	return edits.View{Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: historyContent(v)}, err
}

func (s Screen) newHistoryView(r *http.Request, id domain.ID, entries []store.Entry, newest bool) historyView {
	v := historyView{Path: ui.History(id)}
	steps := newSteps(id)
	for _, e := range entries {
		line := entryView{ID: strconv.FormatInt(e.ID, 10), At: e.At.Local().Format("2006-01-02 15:04:05"), Who: e.Who, Said: e.Said, State: stateWords(e)}
		line.Where, line.Link = s.where(r, id, e.Changes)
		if newest {
			line.Do, line.Subject = steps.next(e)
			line.DoTitle = line.Do + ": " + e.Said
		}
		v.Entries = append(v.Entries, line)
	}
	if len(entries) == entriesAtOnce {
		v.Older = v.Path + "?before=" + strconv.FormatInt(entries[len(entries)-1].ID, 10)
	}
	if !newest {
		v.Newest = v.Path
	}
	return v
}

func stateWords(e store.Entry) string {
	switch e.State {
	case store.Undone, store.Dropped:
		return fmt.Sprintf("undone %s by %s", e.UndoneAt.Local().Format("2006-01-02 15:04:05"), e.UndoneBy)
	case store.Note:
		return "cannot be undone"
	}
	return ""
}

// where says what an entry changed, with a link where that is one place.
func (s Screen) where(r *http.Request, project domain.ID, changes delta.Changes) (text, link string) {
	rooms, typicals, whole := map[domain.ID]delta.Change{}, map[domain.ID]bool{}, false
	for _, c := range changes {
		steps := strings.Split(c.Path, "/")
		switch {
		case steps[0] == "rooms" && len(steps) > 1:
			rooms[domain.ID(steps[1])] = c
		case steps[0] == "typicals" && len(steps) > 1:
			typicals[domain.ID(steps[1])] = true
		default:
			whole = true
		}
	}
	var parts []string
	if len(rooms) == 1 {
		for id, c := range rooms {
			text, link = s.oneRoom(r, project, id, c)
			parts = append(parts, text)
		}
	} else if len(rooms) > 1 {
		parts = append(parts, edits.Count(len(rooms), "room"))
	}
	if len(typicals) > 0 {
		parts = append(parts, edits.Count(len(typicals), "typical"))
		for id := range typicals {
			if link == "" && len(typicals) == 1 && len(rooms) == 0 {
				link = ui.Typical(project, id)
			}
		}
	}
	if whole {
		parts = append(parts, "project")
	}
	return strings.Join(parts, ", "), link
}

func (s Screen) oneRoom(r *http.Request, project, id domain.ID, c delta.Change) (text, link string) {
	if state, err := s.Store.Room(r.Context(), id); err == nil {
		return "room " + state.Resolved.Number, ui.Room(project, id)
	}
	var gone domain.Room
	if json.Unmarshal(c.Before, &gone) == nil && gone.Number != "" {
		return "room " + gone.Number + " (removed)", ""
	}
	return "a room that is gone", ""
}
