// Package room is the workbench: everything about one room, or about one
// typical, on one page that is edited in place.
package room

import (
	"context"
	"log/slog"
	"net/http"
	"net/url"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the workbench.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
	Judge func(*domain.Project, *domain.Resolved) []rule.Finding // runs the rules as of today
}

// bench is what the workbench shows: a room, or a typical where room is nil.
type bench struct {
	projectID domain.ID
	project   *domain.Project
	room      *domain.Resolved
	typical   *domain.Typical // the one that is edited, or that the room follows
	design    *domain.Design
	base      string // the revisions that an edit here is based on
	watch     string // revisions that change what is shown, but refuse no edit
	holds     bool   // the matrix has rows for holding each button
	findings  []rule.Finding
	locked    bool             // a typical that rooms follow, before the designer said yes
	followers []store.RoomLine // of a typical
	talk      []ui.Objection   // a reviewer's open objections to the room
	undo      string
	redo      string
	who       string
}

func (b *bench) isTypical() bool { return b.room == nil }

func (b *bench) env() domain.Env { return domain.Env{Project: b.project, Design: b.design} }

// daylit tells that the room has windows or rooflights, by what it states or by the plan.
func (b *bench) daylit() bool {
	if b.room.Windows {
		return true
	}
	s := daylight.NewSpace(b.project, b.room, daylight.AssumedOf(b.project))
	return s != nil && len(s.Windows)+len(s.Rooflights) > 0
}

func (b *bench) path() string {
	if b.isTypical() {
		return ui.Typical(b.projectID, b.typical.ID)
	}
	return ui.Room(b.projectID, b.room.ID)
}

func (b *bench) subject() string {
	if b.isTypical() {
		return edits.Subject("typical", b.typical.ID)
	}
	return edits.Subject("room", b.room.ID)
}

// load reads the bench that a request names.
func (s Screen) load(r *http.Request) (*bench, error) {
	project := domain.ID(chi.URLParam(r, "project"))
	var b *bench
	var err error
	if id := chi.URLParam(r, "room"); id != "" {
		b, err = s.loadRoom(r.Context(), project, domain.ID(id))
	} else {
		b, err = s.loadTypical(r, project, domain.ID(chi.URLParam(r, "typical")))
	}
	if err != nil {
		return nil, err
	}
	s.read(b, r)
	b.undo, b.redo, err = s.Store.UndoState(r.Context(), b.subject())
	return b, err
}

// read takes what the request says of the person and their page.
func (s Screen) read(b *bench, r *http.Request) {
	b.who, b.holds = ui.Who(r), pageQuery(r).Get("holds") != ""
}

func (s Screen) loadRoom(ctx context.Context, project, id domain.ID) (*bench, error) {
	state, err := s.Store.Room(ctx, id)
	if err != nil {
		return nil, err
	}
	if state.ProjectID != project {
		return nil, store.ErrNotFound
	}
	return s.benchOf(state), nil
}

// benchOf shows a room as it was read or committed.
func (s Screen) benchOf(state *store.RoomState) *bench {
	id := state.Resolved.ID
	base := edits.FormatBase(edits.Subject("room", id), state.Revision)
	if t := state.Resolved.Typical; t != nil {
		base += "," + edits.FormatBase(edits.Subject("typical", t.ID), state.TypicalRevision)
	}
	return &bench{
		projectID: state.ProjectID, project: state.Project, room: state.Resolved, typical: state.Resolved.Typical,
		design: &state.Resolved.Design, base: base,
		watch:    edits.FormatBase(edits.Subject("project", state.ProjectID), state.ProjectRevision),
		findings: s.Judge(state.Project, state.Resolved),
	}
}

func (s Screen) loadTypical(r *http.Request, project, id domain.ID) (*bench, error) {
	ctx := r.Context()
	p, projectRevision, err := s.Store.Project(ctx, project)
	if err != nil {
		return nil, err
	}
	line, owner, err := s.Store.Typical(ctx, id)
	if err != nil {
		return nil, err
	}
	if owner != project {
		return nil, store.ErrNotFound
	}
	t, revision := line.Typical, line.Revision
	followers, err := s.Store.Followers(ctx, id)
	if err != nil {
		return nil, err
	}
	return &bench{
		projectID: project, project: p, typical: t, design: &t.Design, followers: followers,
		base:     edits.FormatBase(edits.Subject("typical", id), revision),
		watch:    edits.FormatBase(edits.Subject("project", project), projectRevision),
		locked:   len(followers) > 0 && pageQuery(r).Get("edit") == "",
		findings: s.judgeTypical(p, t),
	}, nil
}

// judgeTypical runs the room rules over a typical as if it were a room, less
// those that ask for the facts which only a room has.
func (s Screen) judgeTypical(p *domain.Project, t *domain.Typical) []rule.Finding {
	room := &domain.Resolved{Room: &domain.Room{ID: t.ID, Number: t.Name, Name: t.Title, Use: t.Use, Windows: true, Area: 1}, Design: t.Design}
	var kept []rule.Finding
	for _, f := range s.Judge(p, room) {
		if len(f.Subjects) == 0 || f.Subjects[0].Part != "facts" {
			kept = append(kept, f)
		}
	}
	return kept
}

// pageQuery gives the query of the page that is open in the browser: that of
// the request itself, or of the page that sent it.
func pageQuery(r *http.Request) url.Values {
	if u, err := url.Parse(r.Header.Get("HX-Current-URL")); err == nil && ui.IsFragment(r) {
		return u.Query()
	}
	return r.URL.Query()
}

// apply carries out edits on the room or typical that a request names.
func (s Screen) apply(r *http.Request, list ...edit.Edit) (store.Outcome, error) {
	project := domain.ID(chi.URLParam(r, "project"))
	if id := chi.URLParam(r, "room"); id != "" {
		return edits.Room(r.Context(), s.Store, r, project, domain.ID(id), list)
	}
	return edits.Typical(r.Context(), s.Store, r, project, domain.ID(chi.URLParam(r, "typical")), list)
}
