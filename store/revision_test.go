package store

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func issue(t *testing.T, s *Store) RevisionLine {
	t.Helper()
	line, err := s.Issue(ctx, projectID, IssueInput{Author: "Ada Example", Purpose: "for review", Note: "first look"})
	require.NoError(t, err)
	return line
}

func TestARevisionFreezesTheProject(t *testing.T) {
	s := open(t, invented(4, 5))
	review(t, s, roomID(0), "i1", domain.Object)
	frozen := bytesOf(t, s)
	first := issue(t, s)
	assert.Equal(t, 1, first.Number)
	assert.Equal(t, hashOf([]byte(frozen)), first.SHA256)

	edit(t, s, "", rename(roomID(0), "Changed"))
	edit(t, s, "", func(tx *Tx) (string, error) { return "removed", tx.RemoveRoom(roomID(1)) })
	second := issue(t, s)
	assert.Equal(t, 2, second.Number)

	scope, line, err := s.Revision(ctx, projectID, 1)
	require.NoError(t, err)
	assert.Equal(t, first, line)
	again, err := json.Marshal(scope)
	require.NoError(t, err)
	assert.Equal(t, frozen, string(again), "an old revision reads exactly as it was")

	changes, err := s.RevisionChanges(ctx, projectID, 2)
	require.NoError(t, err)
	var paths []string
	for _, c := range changes {
		paths = append(paths, c.Path)
	}
	assert.Equal(t, []string{"rooms/r00000/name", "rooms/r00001"}, paths)
	assert.True(t, changes[1].Removed())
	changes, err = s.RevisionChanges(ctx, projectID, 1)
	require.NoError(t, err)
	assert.Empty(t, changes, "the first has nothing before it")

	lines, err := s.Revisions(ctx, projectID)
	require.NoError(t, err)
	assert.Equal(t, []RevisionLine{second, first}, lines)
	_, newest, err := s.Revision(ctx, projectID, 0)
	require.NoError(t, err)
	assert.Equal(t, second, newest)
	_, _, err = s.Revision(ctx, projectID, 3)
	assert.ErrorIs(t, err, ErrNotFound)
	_, err = s.Issue(ctx, projectID, IssueInput{})
	assert.ErrorIs(t, err, ErrRefused)
	_, err = s.Issue(ctx, "nope", IssueInput{Author: "Ada Example"})
	assert.ErrorIs(t, err, ErrNotFound)
}

func TestRevisionIsImmutableAndVerified(t *testing.T) {
	s := open(t, invented(4, 5))
	issue(t, s)
	db := raw(t, s.Path())
	for _, statement := range []string{"UPDATE revisions SET note = 'x'", "DELETE FROM revisions", "UPDATE revisions SET number = 2", "REPLACE INTO revisions SELECT project_id, number, at, 'Mallory', purpose, note, sha256, changes, body FROM revisions"} {
		_, err := db.Exec(statement)
		require.Error(t, err, statement)
	}
	_, _, err := s.Revision(ctx, projectID, 1)
	require.NoError(t, err)

	// Someone who takes the triggers away is found out by the hash.
	for _, spoil := range []string{"UPDATE revisions SET body = substr(body, 1, length(body) - 9)", "UPDATE revisions SET body = X'00'", "UPDATE revisions SET sha256 = 'abc'"} {
		_, err = db.Exec("DROP TRIGGER IF EXISTS revisions_stay; " + spoil)
		require.NoError(t, err)
		_, _, err = s.Revision(ctx, projectID, 1)
		require.ErrorIs(t, err, ErrCorrupt, spoil)
		assert.Contains(t, err.Error(), "revision 1 is no longer what was issued")
	}
	_, err = s.Issue(ctx, projectID, IssueInput{Author: "Ada Example"})
	assert.ErrorIs(t, err, ErrCorrupt, "what is compared with must be whole too")
}

func TestRevisionsOutliveTheirProject(t *testing.T) {
	s := open(t, invented(4, 5))
	scope := invented(4, 5)
	issue(t, s)
	require.NoError(t, s.RemoveProject(ctx, "Ada Example", projectID))
	_, _, err := s.Project(ctx, projectID)
	require.ErrorIs(t, err, ErrNotFound)
	projects, err := s.Projects(ctx)
	require.NoError(t, err)
	assert.Empty(t, projects)
	_, _, err = s.Revision(ctx, projectID, 1)
	require.NoError(t, err)

	require.NoError(t, s.ImportScope(ctx, "", scope, false, nil))
	assert.Equal(t, 2, issue(t, s).Number)
	assert.EqualValues(t, 2, room(t, s, roomID(0)).Revision, "revisions go on where they ended")
}
