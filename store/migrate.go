package store

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/jmoiron/sqlx"
	"github.com/pressly/goose/v3"
)

// applicationID stands in the file's header: "SCOP".
const applicationID = 0x53434F50

// leastEngine is the SQLite version in which a rare loss on resetting the
// write-ahead log was mended.
var leastEngine = [3]int{3, 51, 3}

func checkEngine(ctx context.Context, db *sqlx.DB) error {
	var text string
	if err := db.GetContext(ctx, &text, "SELECT sqlite_version()"); err != nil {
		return err
	}
	var have [3]int
	for i, part := range strings.SplitN(text, ".", 3) {
		have[i], _ = strconv.Atoi(part)
	}
	for i := range have {
		if have[i] != leastEngine[i] {
			if have[i] > leastEngine[i] {
				return nil
			}
			return fmt.Errorf("this program was built with SQLite %s, which may lose edits: build it with %d.%d.%d or newer", text, leastEngine[0], leastEngine[1], leastEngine[2])
		}
	}
	return nil
}

// latest gives the version that this program writes: the highest migration.
func latest(schema fs.FS) (int, error) {
	names, err := fs.Glob(schema, "*.sql")
	if err != nil || len(names) == 0 {
		return 0, fmt.Errorf("store: no migrations: %w", err)
	}
	number, _, _ := strings.Cut(names[len(names)-1], "_")
	return strconv.Atoi(number)
}

// inspect looks at a file before anything writes to it, and gives its version,
// 0 for one that is new or was never finished.
func inspect(ctx context.Context, o Options) (int, error) {
	newest, err := latest(o.schema)
	if err != nil {
		return 0, err
	}
	info, err := os.Stat(o.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && o.ReadOnly:
		return 0, notFound("there is no database %s", o.Path)
	case errors.Is(err, fs.ErrNotExist):
		return 0, checkFolder(o.Path)
	case err != nil:
		return 0, &Failure{ErrDisk, fmt.Sprintf("%s cannot be opened: check that it may be read", o.Path), err.Error()}
	case info.IsDir():
		return 0, &Failure{ErrNotDatabase, fmt.Sprintf("%s is a folder: name a file in it", o.Path), ""}
	}
	if !o.ReadOnly && (!writable(o.Path) || !writable(filepath.Dir(o.Path))) {
		return 0, &Failure{ErrReadOnly, fmt.Sprintf("%s is marked read-only: make the file and its folder writable, or open it only to read", o.Path), ""}
	}
	if info.Size() == 0 {
		return 0, nil
	}
	if err := inspectHeader(o.Path, info.Size(), newest); err != nil {
		return 0, err
	}
	return inspectContent(ctx, o, newest)
}

func checkFolder(path string) error {
	folder := filepath.Dir(path)
	info, err := os.Stat(folder)
	switch {
	case err != nil || !info.IsDir():
		return &Failure{ErrDisk, fmt.Sprintf("the folder %s does not exist: create it, or name a database elsewhere", folder), ""}
	case !writable(folder):
		return &Failure{ErrReadOnly, fmt.Sprintf("the folder %s is read-only, so no database can be created in it: make it writable, or name a database elsewhere", folder), ""}
	}
	return nil
}

// inspectHeader reads the first hundred bytes (sqlite.org/fileformat2.html,
// section 1.3) and so refuses a file without SQLite ever touching it.
func inspectHeader(path string, size int64, newest int) error {
	f, err := os.Open(path)
	if err != nil {
		return &Failure{ErrDisk, fmt.Sprintf("%s cannot be read: check its permissions", path), err.Error()}
	}
	defer f.Close()
	var head [100]byte
	if _, err := io.ReadFull(f, head[:]); err != nil || string(head[:16]) != "SQLite format 3\x00" {
		return notOurs(path)
	}
	word := func(at int) int { return int(binary.BigEndian.Uint32(head[at:])) }
	if err := judge(path, word(68), word(60), newest); err != nil {
		return err
	}
	pageSize := int64(binary.BigEndian.Uint16(head[16:]))
	if pageSize == 1 {
		pageSize = 65536
	}
	if _, err := os.Stat(path + "-wal"); err != nil && pageSize*int64(word(28)) > size {
		return &Failure{ErrCorrupt, fmt.Sprintf("%s is cut short: %d bytes of %d are there. Keep a copy of it as it is, and restore the newest backup", path, size, pageSize*int64(word(28))), ""}
	}
	return nil
}

func notOurs(path string) error {
	return &Failure{ErrNotDatabase, fmt.Sprintf("%s is not a Scopewright database: choose another file; it was not touched", path), ""}
}

func judge(path string, application, version, newest int) error {
	switch {
	case application != applicationID && (application != 0 || version != 0):
		return notOurs(path)
	case version > newest:
		return &Failure{ErrNewer, fmt.Sprintf("%s was written by a newer version of this program (file version %d, this program knows up to %d): update the program; the file was not touched", path, version, newest), ""}
	}
	return nil
}

// inspectContent asks SQLite, which also sees what is still in the write-ahead
// log, on a connection that cannot write.
func inspectContent(ctx context.Context, o Options, newest int) (int, error) {
	values := url.Values{"mode": {"ro"}, "_pragma": {busy(o), "query_only(1)"}}
	if standsStill(o.Path) {
		values.Set("immutable", "1")
	}
	db, err := sqlx.Open("sqlite", dsn(o.Path, values))
	if err != nil {
		return 0, translate(err, o.Path, "opening")
	}
	defer db.Close()
	var found struct {
		Application int `db:"application_id"`
		Version     int `db:"user_version"`
		Foreign     int `db:"others"`
	}
	err = db.GetContext(ctx, &found, `SELECT (SELECT application_id FROM pragma_application_id) AS application_id,
		(SELECT user_version FROM pragma_user_version) AS user_version,
		(SELECT count(*) FROM sqlite_master WHERE name NOT LIKE 'sqlite\_%' ESCAPE '\' AND name NOT LIKE 'goose\_%' ESCAPE '\') AS others`)
	if err != nil {
		return 0, translate(err, o.Path, "opening")
	}
	if err := judge(o.Path, found.Application, found.Version, newest); err != nil {
		return 0, err
	}
	switch {
	case found.Application != applicationID && found.Foreign > 0:
		return 0, notOurs(o.Path)
	case found.Version < newest && o.ReadOnly:
		return 0, &Failure{ErrReadOnly, fmt.Sprintf("%s is of an older version and must be brought up to date first: open it once with scopewright serve --db %s", o.Path, o.Path), ""}
	}
	return found.Version, nil
}

// migrate brings the file to the newest version. One that holds data is first
// copied aside. Each migration is one transaction, so that a start that was
// killed half-way just starts again.
func migrate(ctx context.Context, db *sqlx.DB, o Options, version int) error {
	newest, err := latest(o.schema)
	if err != nil || version == newest {
		return err
	}
	if version > 0 {
		if err := backUpOld(ctx, db, o, version); err != nil {
			return err
		}
	}
	provider, err := goose.NewProvider(goose.DialectSQLite3, db.DB, o.schema)
	if err != nil {
		return fmt.Errorf("store: migrations: %w", err)
	}
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("bringing %s from version %d to %d: %w; the file is as it was before that step", o.Path, version, newest, translate(err, o.Path, "migrating"))
	}
	o.Log.Info("database brought up to date", "path", o.Path, "from", version, "to", newest)
	return nil
}

// backUpOld writes PATH.v1.backup; what an earlier, killed attempt left there
// is replaced, since the file has not changed in between.
func backUpOld(ctx context.Context, db *sqlx.DB, o Options, version int) error {
	name := fmt.Sprintf("%s.v%d.backup", o.Path, version)
	if err := vacuumInto(ctx, db, name, true); err != nil {
		return fmt.Errorf("copying %s aside before bringing it up to date: %w", o.Path, translate(err, o.Path, "copying"))
	}
	o.Log.Info("old database copied aside", "path", o.Path, "backup", name)
	return nil
}
