package store

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func TestAnImportedProjectIsTheSame(t *testing.T) {
	scope := invented(7, 5)
	scope.Rooms[0].Waivers = []domain.Waiver{{ID: "w1", Rule: "capacity-devices", Reason: "agreed <on site>", Name: "Cy Example", Date: "2026-03-31"}}
	scope.Reviews = []domain.Review{{ID: "v1", RoomID: roomID(0), ItemID: "i1", At: "2026-03-31T12:00:00Z", Name: "Cy Example", Verdict: domain.Object}}
	scope.SignOffs = []domain.SignOff{{ID: "o1", RoomID: roomID(1), Name: "Cy Example", Role: "reviewer", At: "2026-03-31T12:00:00Z", Hash: "abc"}}
	before, err := json.Marshal(scope)
	require.NoError(t, err)
	steps := 0
	s := open(t, nil)
	require.NoError(t, s.ImportScope(ctx, "Ada Example", scope, false, func(done, total int) { steps++; assert.Equal(t, 7, total); assert.Equal(t, 7, done) }))
	assert.Equal(t, 1, steps)
	after, err := json.Marshal(scope)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after), "the caller's scope is left alone")

	second := open(t, nil)
	loaded, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	require.NoError(t, second.ImportScope(ctx, "", loaded, false, nil))
	assert.Equal(t, bytesOf(t, s), bytesOf(t, second))
	assert.Equal(t, 1, line(t, s, roomID(0)).Objections)
	assert.Equal(t, "abc", line(t, s, roomID(1)).SignedHash)
}

func TestImportReplacesOnlyWhenTold(t *testing.T) {
	s := open(t, invented(5, 5))
	edit(t, s, ProjectSubject(projectID), rename(roomID(0), "Mine"))
	held := room(t, s, roomID(0))
	err := s.ImportScope(ctx, "", invented(3, 2), false, nil)
	require.ErrorIs(t, err, ErrExists)
	assert.Equal(t, "Mine", room(t, s, roomID(0)).Resolved.Name)

	require.NoError(t, s.ImportScope(ctx, "Ada Example", invented(3, 2), true, nil))
	now := room(t, s, roomID(0))
	assert.Equal(t, "Room", now.Resolved.Name)
	assert.Len(t, now.Resolved.Design.Devices, 2)
	assert.Greater(t, now.Revision, held.Revision)
	_, err = s.Room(ctx, roomID(4))
	assert.ErrorIs(t, err, ErrNotFound)
	_, err = s.Undo(ctx, Request{Scope: ProjectSubject(projectID)})
	assert.ErrorIs(t, err, ErrNothingToUndo)
	entries, err := s.History(ctx, projectID, HistoryFilter{})
	require.NoError(t, err)
	assert.Equal(t, "imported project Invented annex", entries[0].Said)
	assert.Equal(t, Note, entries[0].State)
	assert.Equal(t, Dropped, entries[1].State)
}

func TestImportRefusesWhatDoesNotBelongTogether(t *testing.T) {
	s := open(t, invented(2, 2))
	other := invented(2, 2)
	other.Project.ID, other.Project.Name = "p2", "Other"
	err := s.ImportScope(ctx, "", other, false, nil)
	require.ErrorIs(t, err, ErrRefused)
	assert.Contains(t, err.Error(), "project Invented annex uses already")
	projects, err := s.Projects(ctx)
	require.NoError(t, err)
	assert.Len(t, projects, 1, "nothing of it was stored")

	empty := open(t, nil)
	for name, spoil := range map[string]func(*domain.Scope){
		"usable ID":        func(s *domain.Scope) { s.Project.ID = "" },
		"storey \"s9\"":    func(s *domain.Scope) { s.Rooms[0].StoreyID = "s9" },
		"follows typical":  func(s *domain.Scope) { s.Rooms[0].TypicalID = "t9" },
		"no ID of its own": func(s *domain.Scope) { s.Rooms[1].ID = s.Rooms[0].ID },
		"typical CR-1 has": func(s *domain.Scope) { s.Typicals = append(s.Typicals, s.Typicals[0]) },
		"review step":      func(s *domain.Scope) { s.Reviews = []domain.Review{{ID: "v1", RoomID: "nope"}} },
		"sign-off":         func(s *domain.Scope) { s.SignOffs = []domain.SignOff{{ID: "o1", RoomID: "nope"}} },
		"room 101: exceptions": func(s *domain.Scope) {
			s.Rooms[0].TypicalID = typicalID
			s.Rooms[0].Exceptions = append(s.Rooms[0].Exceptions, change("nowhere/x"))
		},
	} {
		scope := invented(2, 2)
		spoil(scope)
		assert.ErrorContains(t, empty.ImportScope(ctx, "", scope, false, nil), name)
	}
	projects, err = empty.Projects(ctx)
	require.NoError(t, err)
	assert.Empty(t, projects)
}

func TestCreateProject(t *testing.T) {
	s := open(t, nil)
	require.NoError(t, s.CreateProject(ctx, "Ada Example", invented(0, 0).Project))
	p, revision, err := s.Project(ctx, projectID)
	require.NoError(t, err)
	assert.Equal(t, "Invented annex", p.Name)
	assert.EqualValues(t, 1, revision)
	assert.ErrorIs(t, s.CreateProject(ctx, "Ada Example", invented(0, 0).Project), ErrExists)
}
