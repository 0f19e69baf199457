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
	newer := closedFile(t)
	db := raw(t, newer)
	_, err := db.Exec("PRAGMA user_version = 7")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	assert.ErrorIs(t, Restore(ctx, newer, filepath.Join(folder, "x.db"), false), ErrNewer)
}

// A database that some program made for itself is sound, and no backup of ours.
func TestForeignDatabaseIsNoBackup(t *testing.T) {
	foreign := filepath.Join(t.TempDir(), "foreign.db")
	db := raw(t, foreign)
	_, err := db.Exec("CREATE TABLE songs (title TEXT)")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	target := filepath.Join(t.TempDir(), "x.db")
	require.ErrorIs(t, Restore(ctx, foreign, target, false), ErrNotDatabase)
	assert.NoFileExists(t, target)
}

// A program that has the database open would go on writing to what was moved
// aside, and its edits would be gone.
func TestRestoreDoesNotReplaceADatabaseInUse(t *testing.T) {
	s := open(t, invented(2, 2))
	folder := t.TempDir()
	out := filepath.Join(folder, "backup.db")
	require.NoError(t, s.Backup(ctx, out))
	err := Restore(ctx, out, s.Path(), true)
	require.ErrorIs(t, err, ErrLocked)
	assert.Contains(t, err.Error(), "in use")
	edit(t, s, "", rename(roomID(0), "still here"))
	assert.NoFileExists(t, s.Path()+".replaced")
	require.NoError(t, s.Close())
	require.NoError(t, Restore(ctx, out, s.Path(), true))

	inside := filepath.Join(folder, "kept")
	require.NoError(t, os.Mkdir(inside, 0o700))
	require.ErrorIs(t, Restore(ctx, out, inside, true), ErrExists, "a folder is not moved away")
	damaged := filepath.Join(folder, "damaged.db")
	require.NoError(t, os.WriteFile(damaged, []byte("SQLite format 3\x00 and then nothing"), 0o600))
	require.NoError(t, Restore(ctx, out, damaged, true), "what is damaged may be replaced")
}

func TestBackupOfAReadOnlyStore(t *testing.T) {
	path := closedFile(t)
	require.NoError(t, os.Chmod(filepath.Dir(path), 0o500))
	defer func() { _ = os.Chmod(filepath.Dir(path), 0o700) }()
	s := reopen(t, path, func(o *Options) { o.ReadOnly = true })
	out := filepath.Join(t.TempDir(), "backup.db")
	require.NoError(t, s.Backup(ctx, out))
	assert.Equal(t, bytesOf(t, s), bytesOf(t, reopen(t, out)))
}
