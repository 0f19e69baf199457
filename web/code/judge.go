package code

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/web/edits"
)

// building is a project's rooms judged by its energy code, in the order of lists.
type building struct {
	Project  *domain.Project
	Revision int64
	Pack     *energycode.Pack // nil: none is chosen, or the one named is not known
	Lines    []store.RoomLine
	Rooms    []*domain.Resolved
	Found    []energycode.Found
	Report   energycode.Report // empty without a pack
	Docs     energycode.Documents
}

// judge reads all rooms of a project and judges them: sums over the building need each.
// Without a code they are read for their kinds of space alone.
func (s Screen) judge(ctx context.Context, project domain.ID) (*building, error) {
	b := &building{}
	var err error
	if b.Project, b.Revision, err = s.Store.Project(ctx, project); err != nil {
		return nil, err
	}
	if b.Lines, _, err = s.Store.RoomLines(ctx, project, store.Filter{}); err != nil {
		return nil, err
	}
	scope, err := s.Store.Load(ctx, project)
	if err != nil {
		return nil, err
	}
	b.Project, b.Pack = &scope.Project, energycode.PackOf(&scope.Project)
	if err := b.read(scope, s.Now()); err != nil {
		return nil, err
	}
	if b.Pack != nil {
		b.Report = energycode.JudgeAll(b.Pack, b.Project, b.Found)
		b.Docs = b.Report.Documents()
	}
	return b, nil
}

// read takes the rooms of the scope in the order of the lines; a room that came or went
// between the two readings is left out, since its page will be fetched anew.
func (b *building) read(scope *domain.Scope, today time.Time) error {
	byID := make(map[domain.ID]*domain.Room, len(scope.Rooms))
	for i := range scope.Rooms {
		byID[scope.Rooms[i].ID] = &scope.Rooms[i]
	}
	kinds := energycode.KindsOf(b.Project)
	lines := b.Lines[:0:0]
	for _, l := range b.Lines {
		room := byID[l.ID]
		if room == nil {
			continue
		}
		r, err := scope.Resolve(room)
		if err != nil {
			return err
		}
		lines, b.Rooms = append(lines, l), append(b.Rooms, r)
		var claims []energycode.Claim
		if len(room.Waivers) > 0 { // only then has the room to be judged by the rules as well
			claims = validate.Claims(validate.Room(b.Project, r, today))
		}
		b.Found = append(b.Found, energycode.RoomOf(kinds, b.Project, r, claims))
	}
	b.Lines = lines
	return nil
}

// place gives where a room lies in the lists, below 0 where it does not.
func (b *building) place(id domain.ID) int {
	for i := range b.Lines {
		if b.Lines[i].ID == id {
			return i
		}
	}
	return -1
}

// theRoom judges the project and finds the room that a request names.
func (s Screen) theRoom(r *http.Request) (b *building, at int, err error) {
	if b, err = s.judge(r.Context(), edits.ProjectID(r)); err != nil {
		return nil, 0, err
	}
	if at = b.place(roomID(r)); at < 0 {
		return nil, 0, &store.Failure{Kind: store.ErrNotFound, Sentence: fmt.Sprintf("there is no room %s in this project: it may have been removed", roomID(r))}
	}
	return b, at, nil
}
