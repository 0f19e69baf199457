package export_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/export/sheet"
)

func june() time.Time { return time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC) }

func TestSaveWritesWholeOrNotAtAll(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	write := func(text string, err error) error {
		return export.Save(path, func(w io.Writer) error {
			_, _ = io.WriteString(w, text)
			return err
		})
	}
	require.NoError(t, write("first", nil))
	require.NoError(t, write("second", nil), "a file that is there is replaced")
	err := write("third, half", errors.New("no space left"))
	assert.ErrorContains(t, err, "a.txt was not written: no space left")
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "second", string(content))
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "nothing half made is left")
	assert.ErrorContains(t, export.Save(filepath.Join(folder, "nowhere", "a.txt"), nil), "check that its folder is there")
}

func TestKindsNamedKnowsGroups(t *testing.T) {
	for name, want := range map[string][]string{"scope": {"scope"}, "sheets": {"scope"}, "schedule": {"loads", "devices", "bill"}} {
		kinds, err := export.KindsNamed(name)
		require.NoError(t, err)
		var ids []string
		for _, k := range kinds {
			ids = append(ids, k.ID)
		}
		assert.Equal(t, want, ids)
	}
	_, err := export.KindsNamed("poem")
	assert.ErrorContains(t, err, "poem")
}

func TestFilesGiveATableEachAsCSV(t *testing.T) {
	in, err := export.InputOf(demo.Scope(), june())
	require.NoError(t, err)
	only, err := export.RoomNumbered(in.Scope, "1s1")
	require.NoError(t, err)
	require.Len(t, only.Rooms, 1, "numbers are found whatever the case")
	k, err := export.KindByID("loads")
	require.NoError(t, err)
	doc, err := export.Build("loads", in, only)
	require.NoError(t, err)
	paths, err := export.Files(t.TempDir(), k, export.CSV, in, only, export.Options{}, "")
	require.NoError(t, err)
	assert.Len(t, paths, len(doc.Tables()))
	assert.Equal(t, "d-0417_loads_1s1.csv", filepath.Base(paths[0]))
	for _, p := range paths {
		assert.FileExists(t, p)
	}
	_, err = export.Files(t.TempDir(), k, "doc", in, sheet.Only{}, export.Options{}, "")
	assert.ErrorContains(t, err, "does not come as doc")
	_, err = export.RoomNumbered(in.Scope, "999")
	assert.ErrorContains(t, err, "no room 999")
}

func TestRoomHashBindsToWhatTheSheetPrints(t *testing.T) {
	s := demo.Scope()
	hash := export.RoomHash(june)
	demo.Sign(s, hash)
	state := map[string]sheet.SignState{}
	for i := range s.Rooms {
		resolved, err := s.Resolve(&s.Rooms[i])
		require.NoError(t, err)
		var own []domain.SignOff
		for _, o := range s.SignOffs {
			if o.RoomID == resolved.ID {
				own = append(own, o)
			}
		}
		state[resolved.Number], _ = sheet.SignOffState(hash(&s.Project, resolved), own)
	}
	assert.Equal(t, sheet.Signed, state["201"])
	assert.Equal(t, sheet.Signed, state["203"])
	assert.Equal(t, sheet.Stale, state["208"], "signed before a sensor was added")
	assert.Equal(t, sheet.Unsigned, state["301"])
}
