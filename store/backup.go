package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"github.com/jmoiron/sqlx"
)

// Backup writes a whole copy of the database while work goes on, and beside it
// OUT.sha256, with which Restore finds later damage. What is there already is
// not overwritten.
func (s *Store) Backup(ctx context.Context, out string) error {
	values := url.Values{"mode": {"ro"}, "_pragma": {busy(s.options)}}
	if s.options.ReadOnly && standsStill(s.options.Path) {
		values.Set("immutable", "1")
	}
	db, err := sqlx.Open("sqlite", dsn(s.options.Path, values))
	if err != nil {
		return s.translate(err, "writing a backup")
	}
	defer db.Close()
	if err := vacuumInto(ctx, db, out, false); err != nil {
		return backupFailed(err, out)
	}
	sum, err := hashFile(out)
	if err != nil {
		return backupFailed(err, out)
	}
	text := fmt.Sprintf("%s  %s\n", sum, filepath.Base(out))
	if err := os.WriteFile(out+".sha256", []byte(text), 0o644); err != nil {
		return backupFailed(err, out+".sha256")
	}
	return nil
}

func backupFailed(err error, out string) error {
	var f *Failure
	if err == nil || errors.As(err, &f) {
		return err
	}
	err = translate(err, out, "writing a backup")
	if errors.As(err, &f) {
		return err
	}
	return &Failure{ErrDisk, fmt.Sprintf("the backup %s could not be written: check its folder and the space there", out), err.Error()}
}

// Restore checks a backup and copies it to out. A database that is there is
// only replaced when told so, and is then kept as OUT.replaced. No program may
// have it open.
func Restore(ctx context.Context, in, out string, replace bool) error {
	info, err := os.Stat(out)
	switch {
	case err == nil && info.IsDir():
		return &Failure{ErrExists, fmt.Sprintf("%s is a folder: name a file in it", out), ""}
	case err == nil && !replace:
		return &Failure{ErrExists, fmt.Sprintf("%s is there already and is not overwritten: name another file, or add --replace", out), ""}
	}
	if err := verifyBackup(ctx, in); err != nil {
		return err
	}
	if err := refuseInUse(ctx, out); err != nil {
		return err
	}
	half := out + ".part"
	if err := copyFile(in, half); err != nil {
		_ = os.Remove(half)
		return &Failure{ErrDisk, fmt.Sprintf("%s could not be written: check its folder and the space there", out), err.Error()}
	}
	if err := setAside(out); err != nil {
		return &Failure{ErrDisk, fmt.Sprintf("%s could not be moved aside: close the program that has it open", out), err.Error()}
	}
	if err := settleFile(half, out); err != nil {
		return &Failure{ErrDisk, fmt.Sprintf("%s could not be written: check its folder and the space there", out), err.Error()}
	}
	return nil
}

// refuseInUse tells whether another program has a database open: one that does
// would go on writing to the file that was moved aside. Every connection to a
// database with a write-ahead log holds a shared lock on it, which an exclusive
// one cannot stand beside (sqlite.org/pragma.html, locking_mode). A file that
// is damaged or no database may be replaced.
func refuseInUse(ctx context.Context, path string) error {
	if _, err := os.Stat(path); err != nil {
		return nil
	}
	values := url.Values{"mode": {"rw"}, "_txlock": {"exclusive"}, "_pragma": {"busy_timeout(200)", "locking_mode(EXCLUSIVE)"}}
	db, err := sqlx.Open("sqlite", dsn(path, values))
	if err != nil {
		return translate(err, path, "restoring")
	}
	defer db.Close()
	tx, err := db.BeginTxx(ctx, nil)
	if err == nil {
		return tx.Rollback()
	}
	if err = translate(err, path, "restoring"); errors.Is(err, ErrLocked) {
		return &Failure{ErrLocked, fmt.Sprintf("%s is in use: close the program that has it open, then restore again; nothing was changed", path), err.Error()}
	}
	return nil
}

func verifyBackup(ctx context.Context, in string) error {
	o := Options{Path: in, ReadOnly: true}.withDefaults()
	newest, err := latest(o.schema)
	if err != nil {
		return err
	}
	info, err := os.Stat(in)
	if err != nil {
		return notFound("there is no backup %s", in)
	}
	if log, err := os.Stat(in + "-wal"); err == nil && log.Size() > 0 {
		return refuse("%s is a database in use, not a backup: make one with scopewright backup --db %s OUT", in, in)
	}
	if err := inspectHeader(in, info.Size(), newest); err != nil {
		return err
	}
	if err := verifyHash(in); err != nil {
		return err
	}
	return verifyIntegrity(ctx, in)
}

func verifyHash(in string) error {
	text, err := os.ReadFile(in + ".sha256")
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	sum, err := hashFile(in)
	if err != nil {
		return err
	}
	if want, _, _ := strings.Cut(strings.TrimSpace(string(text)), " "); want != sum {
		return &Failure{ErrCorrupt, fmt.Sprintf("%s is damaged: its contents do not match %s.sha256. Use another backup", in, in), "sha256 is " + sum}
	}
	return nil
}

func verifyIntegrity(ctx context.Context, in string) error {
	db, err := sqlx.Open("sqlite", dsn(in, url.Values{"mode": {"ro"}, "immutable": {"1"}}))
	if err != nil {
		return translate(err, in, "checking a backup")
	}
	defer db.Close()
	var application int
	if err := db.GetContext(ctx, &application, "PRAGMA application_id"); err != nil {
		return translate(err, in, "checking a backup")
	}
	if application != applicationID {
		return notOurs(in)
	}
	var found []string
	if err := db.SelectContext(ctx, &found, "PRAGMA integrity_check(3)"); err != nil {
		return translate(err, in, "checking a backup")
	}
	if len(found) != 1 || found[0] != "ok" {
		return &Failure{ErrCorrupt, fmt.Sprintf("%s is damaged (%s): use another backup", in, strings.Join(found, "; ")), ""}
	}
	return nil
}

// setAside moves a database with its write-ahead log out of the way: a log that
// stayed would be played into the restored file.
func setAside(path string) error {
	for _, suffix := range []string{"-shm", "-wal", ""} {
		err := os.Rename(path+suffix, path+".replaced"+suffix)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		if errors.Is(err, fs.ErrNotExist) {
			if err := os.Remove(path + ".replaced" + suffix); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
		}
	}
	return nil
}

// vacuumInto writes a copy of the database that is whole or not there at all:
// beside its place first, then moved. Writers may go on meanwhile.
func vacuumInto(ctx context.Context, db *sqlx.DB, out string, replace bool) error {
	if _, err := os.Lstat(out); err == nil && !replace {
		return &Failure{ErrExists, fmt.Sprintf("%s is there already and is not overwritten: name another file", out), ""}
	}
	half := out + ".part"
	if err := os.Remove(half); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", half); err != nil {
		_ = os.Remove(half)
		return err
	}
	return settleFile(half, out)
}

// settleFile brings a finished file to the disk and to its place.
func settleFile(half, out string) error {
	f, err := os.OpenFile(half, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	err = errors.Join(f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(half, out)
	}
	if err != nil {
		_ = os.Remove(half)
		return err
	}
	return syncFolder(filepath.Dir(out))
}

func syncFolder(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

func copyFile(in, out string) error {
	from, err := os.Open(in)
	if err != nil {
		return err
	}
	defer from.Close()
	to, err := os.OpenFile(out, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = io.Copy(to, from)
	return errors.Join(err, to.Close())
}

func hashFile(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
