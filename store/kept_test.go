package store

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

// kept unpacks a database that an earlier version of the program wrote.
func kept(t testing.TB, name string) string {
	packed, err := os.ReadFile(filepath.Join("testdata", name+".db.gz"))
	require.NoError(t, err)
	z, err := gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	whole, err := io.ReadAll(z)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), name+".db")
	require.NoError(t, os.WriteFile(path, whole, 0o600))
	return path
}

// testdata/version1.db.gz was written by the program before plans came: three
// rooms, an edit, one undone, an issued revision and a review step;
// version1.json is what it loaded itself.
func TestAFileFromBeforePlansOpens(t *testing.T) {
	path := kept(t, "version1")
	_, err := Open(ctx, Options{Path: path, ReadOnly: true})
	require.ErrorIs(t, err, ErrReadOnly, "opening it to read does not migrate it")

	s := reopen(t, path)
	want, err := os.ReadFile(filepath.Join("testdata", "version1.json"))
	require.NoError(t, err)
	assert.Equal(t, string(want), bytesOf(t, s))
	assert.FileExists(t, path+".v1.backup")

	issued, _, err := s.Revision(ctx, projectID, 1)
	require.NoError(t, err)
	assert.Equal(t, "Lab", issued.Rooms[0].Name)
	out, err := s.Redo(ctx, Request{ProjectID: projectID, Scope: RoomSubject(roomID(1))})
	require.NoError(t, err)
	assert.Equal(t, "renamed room 102 to Studio", out.Said)
	_, err = s.Undo(ctx, Request{ProjectID: projectID, Scope: RoomSubject(roomID(0))})
	require.NoError(t, err)

	plan, revision, err := s.Plan(ctx, projectID, "s1")
	require.NoError(t, err)
	assert.Equal(t, &domain.Plan{ID: "s1"}, plan)
	assert.Zero(t, revision)
	edit(t, s, PlanSubject("s1"), drawWall("s1", "w1"))
	assert.Len(t, planOn(t, s, "s1").Walls, 1)
}
