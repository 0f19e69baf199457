package rehearse

import (
	"context"
	"net/http"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// bench is what a rehearsal is about: a room, or a typical where room is nil.
type bench struct {
	project *domain.Project
	room    *domain.Resolved
	typical *domain.Typical // that is rehearsed, where room is nil
	design  *domain.Design
	base    string
	// Of a room with a place on a plan: what is drawn around it.
	plan   *domain.Plan
	around []*domain.Resolved
	// Of a typical: the rooms that follow it.
	followers []*domain.Resolved
}

func (b *bench) env() domain.Env { return domain.Env{Project: b.project, Design: b.design} }

func (b *bench) label() string {
	if b.room == nil {
		return "Typical " + b.typical.Name
	}
	return b.room.Label()
}

// workbench is the page on which the design is edited.
func (b *bench) workbench() string {
	if b.room == nil {
		return ui.Typical(b.project.ID, b.typical.ID)
	}
	return ui.Room(b.project.ID, b.room.ID)
}

func (b *bench) path() string { return ui.Rehearsal(b.workbench()) }

func (s Screen) load(r *http.Request) (edits.View, error) {
	b, err := s.read(r)
	if err != nil {
		return edits.View{}, err
	}
	if err := s.surround(r.Context(), b); err != nil {
		return edits.View{}, err
	}
	page, err := s.desk(r).Page(r, b.project, b.label()+", rehearsal", "Rooms")
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: b.label(), Path: b.workbench()}, ui.Crumb{Name: "Rehearsal"})
	shown := newView(b)
	shown.Day = b.day(r.URL.Query(), s.Now())
	return edits.View{Page: page, Base: b.base, Main: content(shown), Value: b.value}, err
}

// read gives the room or typical as it is now, without what is around it.
func (s Screen) read(r *http.Request) (*bench, error) {
	if id := chi.URLParam(r, "room"); id != "" {
		return s.readRoom(r.Context(), edits.ProjectID(r), domain.ID(id))
	}
	return s.readTypical(r.Context(), edits.ProjectID(r), domain.ID(chi.URLParam(r, "typical")))
}

func (s Screen) readRoom(ctx context.Context, project, id domain.ID) (*bench, error) {
	state, err := s.Store.Room(ctx, id)
	if err != nil {
		return nil, err
	}
	if state.ProjectID != project {
		return nil, store.ErrNotFound
	}
	b := &bench{project: state.Project, room: state.Resolved, design: &state.Resolved.Design, base: edits.FormatBase(edits.Subject("room", id), state.Revision)}
	if t := state.Resolved.Typical; t != nil {
		b.base += "," + edits.FormatBase(edits.Subject("typical", t.ID), state.TypicalRevision)
	}
	return b, nil
}

func (s Screen) readTypical(ctx context.Context, project, id domain.ID) (*bench, error) {
	p, _, err := s.Store.Project(ctx, project)
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
	return &bench{project: p, typical: line.Typical, design: &line.Typical.Design, base: edits.FormatBase(edits.Subject("typical", id), line.Revision)}, nil
}

// mostFollowers is in how many rooms a typical's scenarios are run on its page.
const mostFollowers = 200

// surround reads what is shown around: the plan of a room that has a place on
// one, the rooms that follow a typical.
func (s Screen) surround(ctx context.Context, b *bench) error {
	if b.room == nil {
		return s.readFollowers(ctx, b)
	}
	if b.room.Outline.Empty() {
		return nil
	}
	var err error
	if b.plan, _, err = s.Store.Plan(ctx, b.project.ID, b.room.StoreyID); err != nil {
		return err
	}
	states, err := s.Store.StoreyRooms(ctx, b.project.ID, b.room.StoreyID)
	for _, state := range states {
		b.around = append(b.around, state.Resolved)
	}
	return err
}

func (s Screen) readFollowers(ctx context.Context, b *bench) error {
	lines, err := s.Store.Followers(ctx, b.typical.ID)
	if err != nil {
		return err
	}
	for _, line := range lines[:min(len(lines), mostFollowers)] {
		state, err := s.Store.Room(ctx, line.ID)
		if err != nil {
			return err
		}
		b.followers = append(b.followers, state.Resolved)
	}
	return nil
}
