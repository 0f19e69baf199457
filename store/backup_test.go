package store

import (
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBackupWhileWriting(t *testing.T) {
	s := open(t, invented(20, 8))
	var edits atomic.Int64
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for n := 1; ; n++ {
			select {
			case <-stop:
				return
			default:
			}
			// Both rooms change in one edit, so a backup must show them equal.
			_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) {
				for _, id := range []int{0, 19} {
					r, err := tx.Room(roomID(id))
					if err != nil {
						return "", err
					}
					r.Seats = n
					if err := tx.PutRoom(r); err != nil {
						return "", err
					}
				}
				return "seats", nil
			})
			if !assert.NoError(t, err) {
				return
			}
			edits.Store(int64(n))
		}
	}()
	folder := t.TempDir()
	for i := range 5 {
		out := filepath.Join(folder, string(rune('a'+i))+".db")
		before := edits.Load()
		require.NoError(t, s.Backup(ctx, out))
		restored := filepath.Join(folder, "restored-"+filepath.Base(out))
		require.NoError(t, Restore(ctx, out, restored, false))
		b := reopen(t, restored)
		seats := room(t, b, roomID(0)).Resolved.Seats
		assert.Equal(t, seats, room(t, b, roomID(19)).Resolved.Seats)
		assert.GreaterOrEqual(t, int64(seats), before, "what was acknowledged before is in the backup")
	}
	close(stop)
	<-stopped
	assert.Positive(t, edits.Load())
	assert.ErrorIs(t, s.Backup(ctx, filepath.Join(folder, "a.db")), ErrExists)
	assert.Error(t, s.Backup(ctx, filepath.Join(folder, "missing", "a.db")))
}

func TestARestoredBackupIsTheSame(t *testing.T) {
	s := open(t, invented(6, 6))
	issue(t, s)
	before := bytesOf(t, s)
	folder := t.TempDir()
	out := filepath.Join(folder, "backup.db")
	require.NoError(t, s.Backup(ctx, out))
	assert.ElementsMatch(t, []string{"backup.db", "backup.db.sha256"}, files(t, folder))

	edit(t, s, "", rename(roomID(0), "after the backup"))
	later := bytesOf(t, s)
	require.NoError(t, s.Close())
	err := Restore(ctx, out, s.Path(), false)
	require.ErrorIs(t, err, ErrExists)
	assert.Contains(t, err.Error(), "not overwritten")
	require.NoError(t, Restore(ctx, out, s.Path(), true))
	restored := reopen(t, s.Path())
	assert.Equal(t, before, bytesOf(t, restored))
	_, _, err = restored.Revision(ctx, projectID, 1)
	require.NoError(t, err)
	assert.Equal(t, later, bytesOf(t, reopen(t, s.Path()+".replaced")), "what was replaced is kept")
}

// A log that is left of the replaced database must not be played into the
// restored one.
func TestRestoreMovesTheOldLogAside(t *testing.T) {
	s := open(t, invented(2, 2))
	out := filepath.Join(t.TempDir(), "backup.db")
	require.NoError(t, s.Backup(ctx, out))
	before := bytesOf(t, s)
	edit(t, s, "", rename(roomID(0), "in the log"))
	dead := filepath.Join(t.TempDir(), "dead.db")
	require.NoError(t, os.WriteFile(dead, content(t, s.Path()), 0o600))
	require.NoError(t, os.WriteFile(dead+"-wal", content(t, s.Path()+"-wal"), 0o600))
	require.NoError(t, Restore(ctx, out, dead, true))
	assert.Equal(t, before, bytesOf(t, reopen(t, dead)))
	assert.Equal(t, "in the log", room(t, reopen(t, dead+".replaced"), roomID(0)).Resolved.Name)
}

func TestDamagedBackupIsRefused(t *testing.T) {
	s := open(t, invented(6, 6))
	folder := t.TempDir()
	good := filepath.Join(folder, "good.db")
	require.NoError(t, s.Backup(ctx, good))
	whole := content(t, good)
	for at := 200; at < len(whole); at += len(whole) / 20 {
		bad := append([]byte(nil), whole...)
		bad[at] ^= 1
		path := filepath.Join(folder, "bad.db")
		require.NoError(t, os.WriteFile(path, bad, 0o600))
		require.NoError(t, os.WriteFile(path+".sha256", content(t, good+".sha256"), 0o600))
		target := filepath.Join(folder, "target.db")
		require.ErrorIs(t, Restore(ctx, path, target, false), ErrCorrupt, "one bit at %d", at)
		assert.NoFileExists(t, target)
	}
	assert.ErrorIs(t, Restore(ctx, s.Path(), filepath.Join(folder, "x.db"), false), ErrRefused, "a database in use is no backup")
	assert.ErrorIs(t, Restore(ctx, filepath.Join(folder, "missing.db"), filepath.Join(folder, "x.db"), false), ErrNotFound)
	text := filepath.Join(folder, "text.db")
	require.NoError(t, os.WriteFile(text, []byte("hello"), 0o600))
	assert.ErrorIs(t, Restore(ctx, text, filepath.Join(folder, "x.db"), false), ErrNotDatabase)
	newer := version1(t)
	db := raw(t, newer)
	_, err := db.Exec("PRAGMA user_version = 7")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	assert.ErrorIs(t, Restore(ctx, newer, filepath.Join(folder, "x.db"), false), ErrNewer)
}

func TestBackupOfAReadOnlyStore(t *testing.T) {
	path := version1(t)
	require.NoError(t, os.Chmod(filepath.Dir(path), 0o500))
	defer func() { _ = os.Chmod(filepath.Dir(path), 0o700) }()
	s := reopen(t, path, func(o *Options) { o.ReadOnly = true })
	out := filepath.Join(t.TempDir(), "backup.db")
	require.NoError(t, s.Backup(ctx, out))
	assert.Equal(t, bytesOf(t, s), bytesOf(t, reopen(t, out)))
}
