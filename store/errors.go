package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"modernc.org/sqlite"
)

// What can go wrong, for errors.Is. The error itself carries a sentence that
// says what, where and how to mend it.
var (
	ErrNotFound      = errors.New("not found")
	ErrRefused       = errors.New("refused")
	ErrNewer         = errors.New("the database is of a newer version")
	ErrNotDatabase   = errors.New("not a Scopewright database")
	ErrReadOnly      = errors.New("the database is read-only")
	ErrLocked        = errors.New("the database is locked")
	ErrFull          = errors.New("the disk is full")
	ErrDisk          = errors.New("the disk reports an error")
	ErrCorrupt       = errors.New("the database is damaged")
	ErrExists        = errors.New("the file exists")
	ErrClosed        = errors.New("the database is closed")
	ErrNothingToUndo = errors.New("there is nothing to undo here")
	ErrNothingToRedo = errors.New("there is nothing to redo here")
)

// Failure is an error with a sentence for people. Cause is what lay beneath,
// as text for the log; no type of the driver passes this door.
type Failure struct {
	Kind     error // one of the errors above
	Sentence string
	Cause    string
}

func (f *Failure) Error() string        { return f.Sentence }
func (f *Failure) Is(target error) bool { return target == f.Kind }

func refuse(format string, args ...any) error {
	return &Failure{Kind: ErrRefused, Sentence: fmt.Sprintf(format, args...)}
}

func notFound(format string, args ...any) error {
	return &Failure{Kind: ErrNotFound, Sentence: fmt.Sprintf(format, args...)}
}

// StaleError says that an edit was based on a revision that is no longer the
// newest. Nothing was written. Now is 0 where the thing is gone.
type StaleError struct {
	Subject   string
	Base, Now int64
}

func (e *StaleError) Error() string {
	kind, _, _ := strings.Cut(e.Subject, ":")
	if e.Now == 0 {
		return fmt.Sprintf("this %s has been removed meanwhile; nothing was stored", kind)
	}
	return fmt.Sprintf("this %s was changed meanwhile, by someone else or in another window; nothing was stored: look at the newer state and make the edit again", kind)
}

// ConflictError says that an edit cannot be undone or redone because what it
// changed has changed since. Nothing was written.
type ConflictError struct {
	Said     string // the edit that was to be undone or redone
	Path     string // the first part that no longer fits
	Sentence string
}

func (e *ConflictError) Error() string { return e.Sentence }

// SQLite's primary result codes (sqlite.org/rescode.html).
const (
	codePerm     = 3
	codeBusy     = 5
	codeLocked   = 6
	codeNoMem    = 7
	codeReadOnly = 8
	codeIO       = 10
	codeCorrupt  = 11
	codeFull     = 13
	codeCantOpen = 14
	codeNotADB   = 26
)

// codeNoRoomToShare is SQLITE_IOERR_SHMSIZE: the file by which connections
// share the log could not grow. Seen on a full disk, where it hits readers too.
const codeNoRoomToShare = 4874

func codeOf(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		if e.Code() == codeNoRoomToShare {
			return codeFull
		}
		return e.Code() & 0xff
	}
	return 0
}

// endsTransaction tells that SQLite may have rolled the whole transaction back
// by itself, or that going on in it would be unsafe.
func endsTransaction(err error) bool {
	switch codeOf(err) {
	case codeNoMem, codeIO, codeCorrupt, codeFull, codeReadOnly, codeBusy, codeNotADB:
		return true
	}
	return errors.Is(err, sql.ErrConnDone) || errors.Is(err, sql.ErrTxDone)
}

// translate is the one place where errors of the driver become ours. doing
// completes "while".
func (s *Store) translate(err error, doing string) error {
	return translate(err, s.options.Path, doing)
}

func translate(err error, path, doing string) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return fmt.Errorf("%s: %w", doing, err)
	case errors.Is(err, sql.ErrConnDone):
		return &Failure{ErrClosed, "the database " + path + " is closed", err.Error()}
	}
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	sentence, kind := meaning(codeOf(err), path)
	if kind == nil {
		return &Failure{ErrDisk, fmt.Sprintf("the database %s refused a statement while %s: %s", path, doing, e.Error()), e.Error()}
	}
	return &Failure{kind, sentence, doing + ": " + e.Error()}
}

func meaning(code int, path string) (sentence string, kind error) {
	switch code {
	case codeFull:
		return fmt.Sprintf("the disk that holds %s is full: nothing was stored. Free some space and try again; reading goes on", path), ErrFull
	case codeReadOnly, codePerm:
		return fmt.Sprintf("%s cannot be written: nothing was stored. Make the file and its folder writable, or open it only to read", path), ErrReadOnly
	case codeBusy, codeLocked:
		return fmt.Sprintf("%s is locked by another program: nothing was stored. Close the other program or wait until it is done, then try again", path), ErrLocked
	case codeNotADB:
		return fmt.Sprintf("%s is not a Scopewright database: choose another file; it was not touched", path), ErrNotDatabase
	case codeCorrupt:
		return fmt.Sprintf("%s is damaged: keep a copy of the file as it is, and restore the newest backup", path), ErrCorrupt
	case codeIO, codeNoMem:
		return fmt.Sprintf("the disk reported an error on %s: nothing was stored. Check the disk, then try again; reading goes on", path), ErrDisk
	case codeCantOpen:
		return fmt.Sprintf("%s cannot be opened: check that its folder exists and may be read and written", path), ErrDisk
	}
	return "", nil
}
