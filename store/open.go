// Package store keeps projects in one SQLite file: documents with revisions,
// the journal of edits with undo and redo, reviews, sign-offs and issued
// revisions. Only this package knows SQL. One edit writes at a
// time, several connections read; what was acknowledged is on the disk.
package store

import (
	"context"
	"fmt"
	"io/fs"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/jmoiron/sqlx"

	"scopewright/domain"
	"scopewright/migrations"
)

// Options say which file to open and how.
type Options struct {
	Path string
	Log  *slog.Logger     // nil: nothing is logged
	Now  func() time.Time // nil: time.Now
	// Summarize gives the numbers that lists show of a room. It is called
	// inside the transaction, possibly from several goroutines at once; the
	// *domain.Resolved that it is given is the very one that Room returns after
	// the commit, so findings may be remembered by it. nil: CountOnly.
	Summarize func(*domain.Project, *domain.Resolved) Summary
	// Hash gives what a room's sheet would print, as SignOff.Hash holds it, so
	// that lists can show which sign-offs are stale. Of the project it may depend
	// on what changesJudgement lists only, as Summarize may: a change of anything
	// else judges no room again. nil: none ever is stale.
	Hash func(*domain.Project, *domain.Resolved) string
	// Judgement names what Summarize and Hash judge by just now, their version and
	// the day, so that Refresh knows numbers that are of before. nil: Refresh
	// always works.
	Judgement func() string
	ReadOnly  bool
	Wait      time.Duration // how long to wait for a lock of another program; 0: 5 s

	schema    fs.FS // tests put further migrations here
	maxPages  int   // tests fill the "disk" with it
	cacheSize int   // bytes of documents kept decoded; 0: 64 MiB
}

// Store is an open database. Its methods may be called from any goroutine.
type Store struct {
	options Options
	readers *pool
	write   *sqlx.DB
	cache   *cache
	events  hub

	jobs   chan *job
	turn   chan *work // holds the writer while nobody writes
	closed sync.Once
}

const (
	waiting          = 256 // edits that may queue for the writer
	defaultCacheSize = 64 << 20
	defaultWait      = 5 * time.Second
)

// Open opens the database, creating it where there is none and bringing an old
// one up to date behind a backup. A newer one is refused and not touched.
func Open(ctx context.Context, o Options) (*Store, error) {
	o = o.withDefaults()
	if o.Path == "" {
		return nil, refuse("no database file was named: say which with --db FILE")
	}
	version, err := inspect(ctx, o)
	if err != nil {
		return nil, err
	}
	s := &Store{options: o, cache: newCache(o.cacheSize), turn: make(chan *work, 1), jobs: make(chan *job, waiting)}
	if !o.ReadOnly {
		if err := s.openWriter(ctx, version); err != nil {
			return nil, err
		}
	}
	db, err := sqlx.Open("sqlite", readDSN(o))
	if err != nil {
		_ = s.Close()
		return nil, s.translate(err, "opening")
	}
	s.readers = newPool(db)
	var n int
	if err := s.one(ctx, "SELECT count(*) FROM projects", nil, &n); err != nil {
		_ = s.Close()
		return nil, s.translate(err, "opening")
	}
	return s, nil
}

func (o Options) withDefaults() Options {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Summarize == nil {
		o.Summarize = CountOnly
	}
	if o.Wait == 0 {
		o.Wait = defaultWait
	}
	if o.schema == nil {
		o.schema = migrations.Files
	}
	if o.cacheSize == 0 {
		o.cacheSize = defaultCacheSize
	}
	return o
}

func (s *Store) openWriter(ctx context.Context, version int) (err error) {
	if s.write, err = sqlx.Open("sqlite", writeDSN(s.options)); err != nil {
		return s.translate(err, "opening")
	}
	s.write.SetMaxOpenConns(1)
	s.write.SetMaxIdleConns(1)
	defer func() {
		if err != nil {
			_ = s.write.Close()
		}
	}()
	if err = checkEngine(ctx, s.write); err != nil {
		return s.translate(err, "opening")
	}
	if err = migrate(ctx, s.write, s.options, version); err != nil {
		return err
	}
	w := newWork(s)
	if err = w.connect(); err != nil {
		return s.translate(err, "opening")
	}
	s.turn <- w
	return nil
}

// Close waits for the edits that were begun and closes the file. It may be
// called again.
func (s *Store) Close() error {
	var err error
	s.closed.Do(func() {
		if s.write != nil {
			s.lastTurn()
		}
		if s.readers != nil {
			err = s.readers.close()
		}
		if s.write != nil {
			if e := s.write.Close(); err == nil {
				err = e
			}
		}
		s.events.close()
	})
	return s.translate(err, "closing")
}

// Path gives the file that is open.
func (s *Store) Path() string { return s.options.Path }

func (s *Store) now() time.Time { return s.options.Now().UTC() }

// stamp is how times are stored: UTC, sortable as text.
func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000000000Z") }

func unstamp(text string) time.Time {
	t, _ := time.Parse(time.RFC3339Nano, text) // what we wrote ourselves; empty gives the zero time
	return t
}

// The settings stand in the connection string, because a pragma set once on a
// pool holds for one of its connections only; busy_timeout comes first, so
// that the others may wait.
func writeDSN(o Options) string {
	pragmas := []string{busy(o), "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)", "cache_size(-65536)", "temp_store(MEMORY)"}
	if o.maxPages > 0 {
		pragmas = append(pragmas, fmt.Sprintf("max_page_count(%d)", o.maxPages))
	}
	return dsn(o.Path, url.Values{"_txlock": {"immediate"}, "_pragma": pragmas})
}

func readDSN(o Options) string {
	values := url.Values{"_pragma": {busy(o), "query_only(1)", "cache_size(-65536)", "temp_store(MEMORY)"}}
	if o.ReadOnly {
		values.Set("mode", "ro")
		if standsStill(o.Path) {
			values.Set("immutable", "1")
		}
	}
	return dsn(o.Path, values)
}

func busy(o Options) string { return fmt.Sprintf("busy_timeout(%d)", o.Wait.Milliseconds()) }

func dsn(path string, values url.Values) string {
	return (&url.URL{Scheme: "file", Opaque: (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath(), RawQuery: values.Encode()}).String()
}

// standsStill tells that nobody can be writing: the folder may not be written
// and no write-ahead log lies there. SQLite then needs no files beside it.
func standsStill(path string) bool {
	if _, err := os.Stat(path + "-wal"); err == nil {
		return false
	}
	return !writable(filepath.Dir(path))
}

// writable reads the permission bits, which hold for careful people also where
// the account, such as an administrator's, may ignore them.
func writable(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().Perm()&0o222 != 0
}
