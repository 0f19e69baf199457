package plan

import (
	"context"
	"net/http"

	"github.com/a-h/templ"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// state is everything that the page is made of, at one moment.
type state struct {
	Project  *domain.Project
	Building *domain.Building
	Storey   *domain.Storey
	Plan     *domain.Plan
	Revision int64
	Rooms    []*store.RoomState
	Marks    []mark
	counts   map[domain.ID]store.Summary

	neighbours []rule.StoreyNeighbour // the storeys above and below
	Table      bool                   // shown as a table
}

func (s Screen) load(r *http.Request) (edits.View, error) {
	st, err := s.read(r)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.desk(r).Page(r, st.Project, st.Storey.Name+", plan", "Plan")
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: st.Storey.Name})
	v := edits.View{Page: page, Base: st.base(), Value: st.value}
	if st.Table || err != nil {
		v.Main = content(newView(st, nil))
		return v, err
	}
	at := storeyKey{st.Project.ID, st.Storey.ID}
	now, err := s.current(r.Context(), st)
	if err != nil {
		return edits.View{}, err
	}
	whole := newView(st, now)
	whole.Whole = true
	v.Main, v.Version = content(whole), version(v.Base, now.name, ui.Plan(st.Project.ID, st.Storey.ID)+"/fresh")
	v.Since = func(have string) []templ.Component { return s.since(at, now, have, r.Header.Get(overlayHeader)) }
	return v, nil
}

// current gives what a page shows now, and keeps it.
func (s Screen) current(ctx context.Context, st *state) (*shown, error) {
	at := storeyKey{st.Project.ID, st.Storey.ID}
	now, err := s.show(ctx, st, s.kept.newest(at))
	if err != nil {
		return nil, err
	}
	if now.shell, err = rendered(ctx, content(newView(st, now))); err != nil {
		return nil, err
	}
	return s.kept.keep(at, now), nil
}

func (s Screen) read(r *http.Request) (*state, error) {
	ctx, project, storey := r.Context(), edits.ProjectID(r), storeyID(r)
	st := &state{Table: edits.Query(r).Get("show") == "table"}
	var err error
	if st.Project, _, err = s.Store.Project(ctx, project); err != nil {
		return nil, err
	}
	if st.Building, st.Storey = st.Project.FindStorey(storey); st.Storey == nil {
		return nil, store.ErrNotFound
	}
	if st.Plan, st.Revision, err = s.Store.Plan(ctx, project, storey); err != nil {
		return nil, err
	}
	if st.Rooms, err = s.Store.StoreyRooms(ctx, project, storey); err != nil {
		return nil, err
	}
	if !st.Table {
		if st.counts, err = s.counted(ctx, st); err != nil {
			return nil, err
		}
		others := edits.Drawings{Store: s.Store, Project: st.Project}
		st.neighbours, err = others.Neighbours(ctx, st.Storey)
	}
	return st, err
}

// base holds the revisions of the plan and of all rooms on it. Each edit picks
// out those that it changes.
func (st *state) base() string {
	pairs := make([]any, 0, 2*(len(st.Rooms)+1))
	pairs = append(pairs, store.PlanSubject(st.Storey.ID), st.Revision)
	for _, r := range st.Rooms {
		pairs = append(pairs, store.RoomSubject(r.Resolved.ID), r.Revision)
	}
	return edits.FormatBase(pairs...)
}

func (st *state) room(id domain.ID) *domain.Resolved {
	for _, r := range st.Rooms {
		if r.Resolved.ID == id {
			return r.Resolved
		}
	}
	return nil
}

func (st *state) resolved() []*domain.Resolved {
	out := make([]*domain.Resolved, len(st.Rooms))
	for i, r := range st.Rooms {
		out[i] = r.Resolved
	}
	return out
}
