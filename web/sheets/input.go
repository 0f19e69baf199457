package sheets

import (
	"context"
	"strconv"
	"time"

	"scopewright/domain"
	"scopewright/export"
	"scopewright/export/sheet"
	"scopewright/store"
)

// input gathers what an order is printed from.
func (s Screen) input(ctx context.Context, o order) (sheet.Input, error) {
	if o.revision == 0 && len(o.only.Rooms) == 1 && len(o.only.Storeys) == 0 && o.kind.Per == export.PerRoom {
		return s.oneRoom(ctx, o.project, o.only.Rooms[0])
	}
	return Gather(ctx, s.Store, o.project, o.revision, s.Now(), o.kind.ID == "set")
}

// Gather is what a project's documents are made of: the project as it is now
// (revision 0), judged as of today, or a revision exactly as it went out:
// its contents, its date, and the rules as of that day. What changed since the
// issue before is always told of a revision, and of the state now on request.
func Gather(ctx context.Context, s *store.Store, project domain.ID, revision int, today time.Time, changes bool) (sheet.Input, error) {
	scope, line, err := stateOf(ctx, s, project, revision)
	if err != nil {
		return sheet.Input{}, err
	}
	if revision > 0 {
		today = line.At
	}
	in, err := export.InputOf(scope, today)
	if err != nil {
		return in, err
	}
	lines, err := s.Revisions(ctx, project)
	if err != nil {
		return in, err
	}
	in.Issue, in.Earlier = issueOf(in.Issue, lines, revision, line), earlier(lines, revision)
	if len(in.Earlier) == 0 || revision == 0 && !changes {
		return in, nil
	}
	before, _, err := s.Revision(ctx, project, len(in.Earlier)) // numbers have no gaps
	if err != nil {
		return in, err
	}
	in.Changes, err = domain.Compare(before, scope)
	return in, err
}

func stateOf(ctx context.Context, s *store.Store, project domain.ID, revision int) (*domain.Scope, store.RevisionLine, error) {
	if revision > 0 {
		return s.Revision(ctx, project, revision)
	}
	scope, err := s.Load(ctx, project)
	return scope, store.RevisionLine{}, err
}

// oneRoom is the short way to the sheets of a single room, which costs the
// same in a project of any size.
func (s Screen) oneRoom(ctx context.Context, project, room domain.ID) (sheet.Input, error) {
	state, err := s.Store.Room(ctx, room)
	if err != nil {
		return sheet.Input{}, err
	}
	if state.ProjectID != project {
		return sheet.Input{}, notThere("There is no such room in this project: it may have been removed.")
	}
	scope := &domain.Scope{Project: *state.Project, Rooms: []domain.Room{*state.Resolved.Room}}
	if t := state.Resolved.Typical; t != nil {
		scope.Typicals = []domain.Typical{*t}
	}
	if err := s.surround(ctx, scope); err != nil {
		return sheet.Input{}, err
	}
	if scope.Reviews, err = s.Store.Reviews(ctx, project, room); err != nil {
		return sheet.Input{}, err
	}
	if scope.SignOffs, err = s.Store.SignOffs(ctx, project, room); err != nil {
		return sheet.Input{}, err
	}
	in, err := export.InputOf(scope, s.Now())
	if err != nil {
		return in, err
	}
	lines, err := s.Store.Revisions(ctx, project)
	in.Issue, in.Earlier = issueOf(in.Issue, lines, 0, store.RevisionLine{}), earlier(lines, 0)
	return in, err
}

// surround adds what the plan of a room shows around it: the walls of its
// storey or, where there are none, the outlines of the other rooms.
func (s Screen) surround(ctx context.Context, scope *domain.Scope) error {
	room := &scope.Rooms[0]
	if _, storey := scope.Project.FindStorey(room.StoreyID); storey == nil || room.Outline.Empty() {
		return nil
	}
	plan, _, err := s.Store.Plan(ctx, scope.Project.ID, room.StoreyID)
	if err != nil {
		return err
	}
	scope.Plans = []domain.Plan{*plan}
	if len(plan.Walls) > 0 {
		return nil
	}
	others, err := s.Store.StoreyRooms(ctx, scope.Project.ID, room.StoreyID)
	for _, o := range others {
		if r := o.Resolved.Room; r.ID != room.ID {
			scope.Rooms = append(scope.Rooms, domain.Room{ID: r.ID, StoreyID: r.StoreyID, Number: r.Number, Outline: r.Outline})
		}
	}
	return err
}

// issueOf says as what a print goes out: as the revision that it is, or as a
// working print between two.
func issueOf(now sheet.Issue, lines []store.RevisionLine, revision int, line store.RevisionLine) sheet.Issue {
	switch {
	case revision > 0:
		return asIssue(line)
	case len(lines) > 0:
		now.Purpose = "working print after revision " + strconv.Itoa(lines[0].Number)
	}
	return now
}

// earlier lists the issues before a number, oldest first; 0 takes all.
func earlier(lines []store.RevisionLine, before int) []sheet.Issue {
	var out []sheet.Issue
	for i := len(lines) - 1; i >= 0; i-- {
		if before == 0 || lines[i].Number < before {
			out = append(out, asIssue(lines[i]))
		}
	}
	return out
}

func asIssue(l store.RevisionLine) sheet.Issue {
	return sheet.Issue{Revision: strconv.Itoa(l.Number), Date: l.At.Local().Format(time.DateOnly), Purpose: l.Purpose, Author: l.Author, Note: l.Note}
}
