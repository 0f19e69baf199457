package store

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
	"time"

	"github.com/jmoiron/sqlx"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/migrations"
)

// raw opens a file beside the store, as another program would.
func raw(t testing.TB, path string) *sqlx.DB {
	t.Helper()
	db, err := sqlx.Open("sqlite", dsn(path, nil))
	require.NoError(t, err)
	db.SetMaxOpenConns(1)
	t.Cleanup(func() { _ = db.Close() })
	return db
}

// withNext gives the migrations and one more, as the next version would.
func withNext(t testing.TB) fstest.MapFS {
	out := fstest.MapFS{"0004_more.sql": {Data: []byte("-- +goose Up\nPRAGMA user_version = 4;\nALTER TABLE projects ADD COLUMN region TEXT NOT NULL DEFAULT 'nowhere';\n")}}
	names, err := fs.Glob(migrations.Files, "*.sql")
	require.NoError(t, err)
	require.Len(t, names, 3)
	for _, name := range names {
		body, err := migrations.Files.ReadFile(name)
		require.NoError(t, err)
		out[name] = &fstest.MapFile{Data: body}
	}
	return out
}

// closedFile builds a small file of the version at hand, closed.
func closedFile(t testing.TB) string {
	s := open(t, invented(3, 3))
	require.NoError(t, s.Close())
	return s.Path()
}

func content(t testing.TB, path string) []byte {
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	return b
}

func files(t testing.TB, folder string) []string {
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestNewerFileIsRefusedUntouched(t *testing.T) {
	for _, inLog := range []bool{false, true} {
		path := closedFile(t)
		db := raw(t, path)
		_, err := db.Exec("PRAGMA journal_mode(WAL); PRAGMA user_version = 99")
		require.NoError(t, err)
		if inLog {
			// The version stands only in the write-ahead log of a program that
			// died: a copy of both files as they are.
			dead := filepath.Join(t.TempDir(), "dead.db")
			require.NoError(t, os.WriteFile(dead, content(t, path), 0o600))
			require.NoError(t, os.WriteFile(dead+"-wal", content(t, path+"-wal"), 0o600))
			path = dead
		} else {
			require.NoError(t, db.Close())
		}
		before := content(t, path)
		_, err = Open(ctx, Options{Path: path})
		require.ErrorIs(t, err, ErrNewer)
		assert.Contains(t, err.Error(), "file version 99, this program knows up to 3")
		assert.Equal(t, before, content(t, path))
		if inLog {
			assert.FileExists(t, path+"-wal")
		} else {
			assert.Equal(t, []string{"project.db"}, files(t, filepath.Dir(path)))
		}
	}
}

func TestOldFileMigratesBehindABackup(t *testing.T) {
	path := closedFile(t)
	old := reopen(t, path)
	before := bytesOf(t, old)
	require.NoError(t, old.Close())

	s := reopen(t, path, func(o *Options) { o.schema = withNext(t) })
	assert.Equal(t, before, bytesOf(t, s))
	var region string
	require.NoError(t, s.one(ctx, "SELECT region FROM projects", nil, &region))
	assert.Equal(t, "nowhere", region)
	require.NoError(t, s.Close())

	_, err := Open(ctx, Options{Path: path})
	assert.ErrorIs(t, err, ErrNewer, "the old program refuses it now")
	backup := reopen(t, path+".v3.backup")
	assert.Equal(t, before, bytesOf(t, backup))
}

func TestAFailedMigrationLeavesTheFileAsItWas(t *testing.T) {
	path := closedFile(t)
	broken := withNext(t)
	broken["0004_more.sql"].Data = append(broken["0004_more.sql"].Data, "INSERT INTO nowhere VALUES (1);\n"...)
	_, err := Open(ctx, Options{Path: path, schema: broken})
	assert.ErrorContains(t, err, "from version 3 to 4")
	before := bytesOf(t, reopen(t, path)) // still version 3, opened by the old program
	assert.NotEmpty(t, before)
	s := reopen(t, closedFile(t), func(o *Options) { o.schema = withNext(t) }) // and a good one still works
	assert.Equal(t, before, bytesOf(t, s))
}

func TestAStartThatWasKilledHalfWayIsDoneAgain(t *testing.T) {
	for name, half := range map[string]func(path string){
		"an empty file": func(path string) { require.NoError(t, os.WriteFile(path, nil, 0o600)) },
		"only a header": func(path string) {
			_, err := raw(t, path).Exec("PRAGMA journal_mode(WAL); CREATE TABLE goose_db_version (id INTEGER PRIMARY KEY AUTOINCREMENT, version_id INTEGER NOT NULL, is_applied INTEGER NOT NULL, tstamp TIMESTAMP DEFAULT (datetime('now'))); INSERT INTO goose_db_version (version_id, is_applied) VALUES (0, 1)")
			require.NoError(t, err)
		},
		"a header alone": func(path string) { _, err := raw(t, path).Exec("PRAGMA journal_mode(WAL)"); require.NoError(t, err) },
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "half.db")
			half(path)
			s := reopen(t, path)
			require.NoError(t, s.ImportScope(ctx, "", invented(3, 3), false, nil))
			assert.NotEmpty(t, bytesOf(t, s))
		})
	}
}

func TestFullDiskStoresNothing(t *testing.T) {
	s := open(t, invented(6, 6))
	require.NoError(t, s.Close())
	var pages int
	require.NoError(t, raw(t, s.Path()).Get(&pages, "PRAGMA page_count"))
	s = reopen(t, s.Path(), func(o *Options) { o.maxPages = pages + 4 })
	before := bytesOf(t, s)
	grow := func(n int) func(*Tx) (string, error) {
		return func(tx *Tx) (string, error) {
			r, err := tx.Room(roomID(0))
			if err != nil {
				return "", err
			}
			r.Notes = string(bytes.Repeat([]byte("x"), n))
			return "wrote much", tx.PutRoom(r)
		}
	}
	events, cancel := s.Subscribe()
	defer cancel()
	_, err := s.Edit(ctx, Request{ProjectID: projectID}, grow(400_000))
	require.ErrorIs(t, err, ErrFull)
	assert.Contains(t, err.Error(), "Free some space")
	assert.Equal(t, before, bytesOf(t, s), "reading goes on")
	assert.Empty(t, events)
	history, err := s.History(ctx, projectID, HistoryFilter{Subject: RoomSubject(roomID(0))})
	require.NoError(t, err)
	assert.Empty(t, history)
	_, err = s.Edit(ctx, Request{ProjectID: projectID}, rename(roomID(0), "Small"))
	require.NoError(t, err, "what fits is still stored")
	require.NoError(t, s.Close())
	assert.Equal(t, "Small", room(t, reopen(t, s.Path()), roomID(0)).Resolved.Name)
}

// A job that meets the full disk ends the whole group: none is acknowledged.
func TestFullDiskInAGroupAcknowledgesNone(t *testing.T) {
	s := open(t, invented(6, 6))
	require.NoError(t, s.Close())
	var pages int
	require.NoError(t, raw(t, s.Path()).Get(&pages, "PRAGMA page_count"))
	s = reopen(t, s.Path(), func(o *Options) { o.maxPages = pages + 4 })
	hold, held, errs := make(chan struct{}), make(chan struct{}), make(chan error, 2)
	go func() {
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) { close(held); <-hold; return rename(roomID(0), "x")(tx) })
		errs <- err
	}()
	<-held
	go func() {
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) {
			r, err := tx.Room(roomID(1))
			if err != nil {
				return "", err
			}
			r.Notes = string(bytes.Repeat([]byte("x"), 400_000))
			return "wrote much", tx.PutRoom(r)
		})
		errs <- err
	}()
	waitInLine(s, 1)
	close(hold)
	assert.ErrorIs(t, <-errs, ErrFull)
	assert.ErrorIs(t, <-errs, ErrFull)
	assert.Equal(t, "Room", room(t, s, roomID(0)).Resolved.Name)
	edit(t, s, "", rename(roomID(0), "later"))
	assert.Equal(t, "later", room(t, s, roomID(0)).Resolved.Name)
}

func TestReadOnlyFile(t *testing.T) {
	path := closedFile(t)
	before := content(t, path)
	require.NoError(t, os.Chmod(path, 0o400))
	_, err := Open(ctx, Options{Path: path})
	require.ErrorIs(t, err, ErrReadOnly)
	assert.Contains(t, err.Error(), "make the file and its folder writable")

	folder := filepath.Dir(path)
	require.NoError(t, os.Chmod(folder, 0o500))
	defer func() { _ = os.Chmod(folder, 0o700) }()
	_, err = Open(ctx, Options{Path: filepath.Join(folder, "new.db")})
	require.ErrorIs(t, err, ErrReadOnly)

	s := reopen(t, path, func(o *Options) { o.ReadOnly = true })
	assert.NotEmpty(t, bytesOf(t, s))
	_, err = s.Edit(ctx, Request{ProjectID: projectID}, rename(roomID(0), "X"))
	require.ErrorIs(t, err, ErrReadOnly)
	require.NoError(t, s.Close())
	assert.Equal(t, before, content(t, path))
	assert.Equal(t, []string{"project.db"}, files(t, folder))
}

func TestReadingBesideAWriter(t *testing.T) {
	s := open(t, invented(3, 3))
	reader := reopen(t, s.Path(), func(o *Options) { o.ReadOnly = true })
	edit(t, s, "", rename(roomID(0), "Seen"))
	assert.Equal(t, "Seen", room(t, reader, roomID(0)).Resolved.Name)
}

func TestLockedByAnother(t *testing.T) {
	s := open(t, invented(3, 3), func(o *Options) { o.Wait = 30 * time.Millisecond })
	other := raw(t, s.Path())
	_, err := other.Exec("BEGIN IMMEDIATE")
	require.NoError(t, err)
	_, err = s.Edit(ctx, Request{ProjectID: projectID}, rename(roomID(0), "X"))
	require.ErrorIs(t, err, ErrLocked)
	assert.Contains(t, err.Error(), "locked by another program")
	assert.Equal(t, "Room", room(t, s, roomID(0)).Resolved.Name, "reading goes on")
	_, err = other.Exec("ROLLBACK")
	require.NoError(t, err)
	edit(t, s, "", rename(roomID(0), "Y"))
	assert.Equal(t, "Y", room(t, s, roomID(0)).Resolved.Name)

	path := closedFile(t)
	exclusive := raw(t, path)
	_, err = exclusive.Exec("PRAGMA locking_mode(EXCLUSIVE); PRAGMA journal_mode(DELETE); BEGIN EXCLUSIVE")
	require.NoError(t, err)
	_, err = Open(ctx, Options{Path: path, Wait: 30 * time.Millisecond})
	assert.ErrorIs(t, err, ErrLocked)
}

// Two programs on one file: each sees the other's edits and overwrites none.
func TestAnotherProgramsEditsAreSeen(t *testing.T) {
	a := open(t, invented(3, 3))
	b := reopen(t, a.Path())
	subject := RoomSubject(roomID(0))
	assert.Equal(t, "Room", room(t, a, roomID(0)).Resolved.Name)
	edit(t, b, "", rename(roomID(0), "by b"))
	assert.Equal(t, "by b", room(t, a, roomID(0)).Resolved.Name)
	var stale *StaleError
	_, err := a.Edit(ctx, Request{ProjectID: projectID, Base: map[string]int64{subject: 1}}, rename(roomID(0), "by a"))
	require.ErrorAs(t, err, &stale)
	edit(t, a, "", func(tx *Tx) (string, error) {
		r, err := tx.Room(roomID(0))
		require.NoError(t, err)
		assert.Equal(t, "by b", r.Name)
		r.Seats = 7
		return "seats", tx.PutRoom(r)
	})
	assert.Equal(t, 7, room(t, b, roomID(0)).Resolved.Seats)
}

func TestNotADatabase(t *testing.T) {
	folder := t.TempDir()
	foreign := filepath.Join(folder, "foreign.db")
	db := raw(t, foreign)
	_, err := db.Exec("CREATE TABLE birds (name TEXT)")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	versioned := filepath.Join(folder, "versioned.db")
	db = raw(t, versioned)
	_, err = db.Exec("CREATE TABLE projects (name TEXT); PRAGMA user_version = 1")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	text := filepath.Join(folder, "text.db")
	require.NoError(t, os.WriteFile(text, []byte("Room number,Name\n101,Lobby\n"), 0o600))
	noise := filepath.Join(folder, "noise.db")
	require.NoError(t, os.WriteFile(noise, append([]byte("SQLite format 3\x00"), bytes.Repeat([]byte{0xA5}, 8000)...), 0o600))
	for _, path := range []string{foreign, versioned, text, noise, folder} {
		var before []byte
		if path != folder {
			before = content(t, path)
		}
		_, err := Open(ctx, Options{Path: path})
		require.ErrorIs(t, err, ErrNotDatabase, path)
		if path != folder {
			assert.Equal(t, before, content(t, path))
		}
	}
	_, err = Open(ctx, Options{Path: filepath.Join(folder, "missing", "x.db")})
	assert.ErrorContains(t, err, "does not exist: create it")
	_, err = Open(ctx, Options{Path: filepath.Join(folder, "x.db"), ReadOnly: true})
	assert.ErrorIs(t, err, ErrNotFound)
	_, err = Open(ctx, Options{})
	assert.ErrorContains(t, err, "--db FILE")
}

func TestTruncatedFile(t *testing.T) {
	whole := content(t, closedFile(t))
	for _, size := range []int{60, 100, 4096, len(whole) / 2, len(whole) - 4096, len(whole) - 1} {
		path := filepath.Join(t.TempDir(), "cut.db")
		require.NoError(t, os.WriteFile(path, whole[:size], 0o600))
		_, err := Open(ctx, Options{Path: path})
		if size < 100 {
			require.ErrorIs(t, err, ErrNotDatabase, size)
		} else {
			require.ErrorIs(t, err, ErrCorrupt, size)
			assert.Contains(t, err.Error(), "restore the newest backup")
		}
		assert.Equal(t, whole[:size], content(t, path))
	}
}

// Flipped bytes must never give a wrong answer silently to a frozen revision
// (see TestRevisionIsImmutableAndVerified); anywhere else they must give an
// error or an answer, not a crash.
func TestFlippedBytesGiveErrorsAndNoPanic(t *testing.T) {
	whole := content(t, closedFile(t))
	for at := 100; at < len(whole); at += len(whole) / 40 {
		path := filepath.Join(t.TempDir(), "flip.db")
		bad := bytes.Clone(whole)
		for i := at; i < min(at+64, len(bad)); i++ {
			bad[i] ^= 0xFF
		}
		require.NoError(t, os.WriteFile(path, bad, 0o600))
		s, err := Open(ctx, Options{Path: path})
		if err != nil {
			assertOurs(t, err)
			continue
		}
		if _, err := s.Load(ctx, projectID); err != nil {
			assertOurs(t, err)
		}
		if _, err := s.Edit(ctx, Request{ProjectID: projectID}, rename(roomID(0), "X")); err != nil {
			assertOurs(t, err)
		}
		_ = s.Close()
	}
}

// assertOurs fails for an error without a sentence of ours.
func assertOurs(t *testing.T, err error) {
	t.Helper()
	var f *Failure
	assert.ErrorAs(t, err, &f, "%v", err)
}

func TestStrangeFileNames(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"a b.db", "100%.db", "what?.db", "x#y.db", "gr\u00fc\u00df\u2603.db", "mode=ro&x.db", "no-ending"} {
		path := filepath.Join(folder, name)
		s := reopen(t, path)
		require.NoError(t, s.ImportScope(ctx, "", invented(1, 1), false, nil))
		require.NoError(t, s.Close())
		assert.FileExists(t, path)
	}
	assert.Len(t, files(t, folder), 7)
}

func TestPragmasHoldOnEveryConnection(t *testing.T) {
	s := open(t, nil)
	var all []*session
	for range readers {
		c := <-s.readers.free
		all = append(all, c)
		var only int
		require.NoError(t, c.scan("PRAGMA query_only", nil, &only))
		assert.Equal(t, 1, only)
	}
	for _, c := range all {
		s.readers.free <- c
	}
	err := s.submit(ctx, "looking", func(w *work) (effects, error) {
		for pragma, want := range map[string]int{"synchronous": 2, "foreign_keys": 1, "busy_timeout": 5000} {
			var have int
			require.NoError(t, w.conn.GetContext(ctx, &have, "PRAGMA "+pragma))
			assert.Equal(t, want, have, pragma)
		}
		return effects{}, nil
	})
	require.NoError(t, err)
}

func TestAClosedStoreSaysSo(t *testing.T) {
	s := open(t, invented(1, 1))
	require.NoError(t, s.Close())
	require.NoError(t, s.Close())
	_, err := s.Edit(ctx, Request{ProjectID: projectID}, rename(roomID(0), "X"))
	assert.ErrorIs(t, err, ErrClosed)
}

func TestAnEndedContextStopsAnEditThatWaits(t *testing.T) {
	s := open(t, invented(2, 1))
	hold, held, first := make(chan struct{}), make(chan struct{}), make(chan error)
	go func() {
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) { close(held); <-hold; return rename(roomID(0), "x")(tx) })
		first <- err
	}()
	<-held
	short, cancel := context.WithTimeout(ctx, 20*time.Millisecond)
	defer cancel()
	_, err := s.Edit(short, Request{ProjectID: projectID}, func(*Tx) (string, error) { t.Error("must not run"); return "", nil })
	assert.ErrorIs(t, err, context.DeadlineExceeded)
	close(hold)
	require.NoError(t, <-first)
	edit(t, s, "", rename(roomID(1), "y"))
}

func TestNoDriverErrorPassesTheDoor(t *testing.T) {
	s := open(t, invented(1, 1))
	for _, code := range []string{"SELECT * FROM nowhere", "INSERT INTO rooms (id) VALUES (1)"} {
		err := s.submit(ctx, "trying", func(w *work) (effects, error) { _, err := w.exec(code); return effects{}, err })
		assertOurs(t, err)
		assert.Zero(t, codeOf(err))
	}
	assert.NoError(t, translate(nil, "", ""))
	assert.Equal(t, sql.ErrNoRows, translate(sql.ErrNoRows, "", ""))
	assert.NotEmpty(t, fmt.Sprint(&Failure{Kind: ErrFull, Sentence: "x"}))
}
