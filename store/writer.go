package store

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync/atomic"
)

// groupMost is how many waiting edits share one commit, and with it one wait
// for the disk.
const groupMost = 64

// job is one edit on its way through the writer.
type job struct {
	run   func(*work) (effects, error)
	doing string
	done  chan error
	taken atomic.Bool // by the writer, or by a caller who gave up waiting
}

// effects are what a job shows to the world, once it is committed.
type effects struct {
	put    []*entry
	gone   []key
	events []Event
}

// work is the one session that writes. Whoever holds the turn may use it.
type work struct {
	session
	s     *Store
	fresh map[key]*entry // read or written in this group, for the cache once it is committed
	read  []key          // which of them the job at hand read
}

func newWork(s *Store) *work {
	return &work{s: s, session: session{db: s.write}, fresh: map[key]*entry{}}
}

// held gives the document at that revision from this group or from the cache.
func (w *work) held(k key, revision int64) *entry {
	if e := w.fresh[k]; e != nil && e.revision == revision {
		return e
	}
	return w.s.cache.get(k, revision)
}

// submit runs a job in its turn and waits until it is on the disk. A caller who
// finds nobody writing writes himself, and so does one of those in line when
// the turn is given back: he takes all who wait into his group. That spares two
// changes of goroutine on each edit.
//
// A caller whose context ends while the job still waits in line gets that error
// and the job is not run; one that was begun is waited for.
func (s *Store) submit(ctx context.Context, doing string, run func(*work) (effects, error)) error {
	if s.options.ReadOnly {
		return &Failure{ErrReadOnly, fmt.Sprintf("%s was opened only to read: nothing was stored. Open it for writing to make edits", s.options.Path), ""}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	j := &job{run: run, doing: doing, done: make(chan error, 1)}
	select {
	case w := <-s.turn:
		return s.lead(w, j)
	default:
	}
	select {
	case w := <-s.turn:
		return s.lead(w, j)
	case s.jobs <- j:
		return s.inLine(ctx, j)
	case <-ctx.Done():
		return ctx.Err()
	}
}

// lead runs a group that the caller's own job begins. No work comes from a
// closed store.
func (s *Store) lead(w *work, j *job) error {
	if w == nil {
		return s.isClosed()
	}
	defer func() { s.turn <- w }()
	s.group(w, j)
	return <-j.done
}

func (s *Store) inLine(ctx context.Context, j *job) error {
	for {
		select {
		case err := <-j.done:
			return err
		case w := <-s.turn:
			if w == nil && j.taken.CompareAndSwap(false, true) {
				return s.isClosed()
			}
			if w == nil {
				return <-j.done
			}
			s.serve(w)
		case <-ctx.Done():
			if j.taken.CompareAndSwap(false, true) {
				return ctx.Err()
			}
			return <-j.done
		}
	}
}

// serve runs a group of those who wait in line.
func (s *Store) serve(w *work) {
	defer func() { s.turn <- w }()
	if next := s.nextWaiting(); next != nil {
		s.group(w, next)
	}
}

func (s *Store) isClosed() error {
	return &Failure{ErrClosed, fmt.Sprintf("%s is closed: nothing was stored. Start the program again", s.options.Path), ""}
}

// lastTurn runs what was accepted before the end, gives the log back to the
// file, and tells all who come later that the store is closed.
func (s *Store) lastTurn() {
	w := <-s.turn
	for next := s.nextWaiting(); next != nil; next = s.nextWaiting() {
		s.group(w, next)
	}
	if w.conn != nil {
		_, _ = w.conn.ExecContext(steady, "PRAGMA optimize")
		_, _ = w.conn.ExecContext(steady, "PRAGMA wal_checkpoint(TRUNCATE)")
	}
	w.close()
	close(s.turn)
}

// done is a job that ran well within a group that is not yet committed.
type done struct {
	job     *job
	effects effects
}

// group runs the first job and those waiting behind it in one transaction. The
// first needs no savepoint: if it fails, there is nothing else to lose.
func (s *Store) group(w *work, first *job) {
	first.taken.Store(true)
	if err := s.begin(w); err != nil {
		first.done <- s.failed(err, first.doing)
		return
	}
	var good []done
	whole := false
	defer func() {
		if !whole { // an edit ended its goroutine, as a failing test does
			s.rollback(w)
			fail(good, broken("it ended its goroutine"))
		}
	}()
	good = s.runAll(w, first)
	whole = true
	s.commit(w, good)
}

// runAll gives the jobs that ran well; the others have had their answer. None
// is left where the transaction is lost.
func (s *Store) runAll(w *work, first *job) (good []done) {
	ran, err := w.attempt(first)
	if err != nil {
		first.done <- s.failed(err, first.doing)
		return nil
	}
	good = []done{{first, ran}}
	w.keep(ran)
	for len(good) < groupMost {
		next := s.nextWaiting()
		if next == nil {
			break
		}
		ran, err := w.attemptInSavepoint(next)
		if err == nil {
			good = append(good, done{next, ran})
			w.keep(ran)
			continue
		}
		next.done <- s.failed(err, next.doing)
		if endsTransaction(err) {
			fail(good, s.failed(err, "committing"))
			return nil
		}
	}
	return good
}

func (s *Store) nextWaiting() *job {
	for {
		select {
		case j := <-s.jobs:
			if j.taken.CompareAndSwap(false, true) {
				return j
			}
		default:
			return nil
		}
	}
}

// begin starts a transaction, on a new connection where the old one is lost.
func (s *Store) begin(w *work) error {
	_, err := w.exec("BEGIN IMMEDIATE")
	if lost(err) {
		w.close()
		_, err = w.exec("BEGIN IMMEDIATE")
	}
	return err
}

func (s *Store) commit(w *work, good []done) {
	if len(good) == 0 {
		s.rollback(w)
		return
	}
	if _, err := w.exec("COMMIT"); err != nil {
		s.rollback(w)
		fail(good, s.failed(err, "committing"))
		return
	}
	for _, d := range good {
		for _, k := range d.effects.gone {
			s.cache.remove(k)
		}
	}
	for _, e := range w.fresh {
		e.pending = false
		s.cache.put(e)
	}
	clear(w.fresh)
	for _, d := range good {
		d.job.done <- nil
		for _, e := range d.effects.events {
			s.events.send(e)
		}
	}
}

// rollback also serves where SQLite has rolled back by itself; the error that
// it then gives says nothing new.
func (s *Store) rollback(w *work) {
	clear(w.fresh)
	_, _ = w.exec("ROLLBACK")
}

func fail(good []done, err error) {
	for _, d := range good {
		d.job.done <- err
	}
}

func (w *work) keep(e effects) {
	for _, k := range e.gone {
		delete(w.fresh, k)
	}
	for _, x := range e.put {
		w.fresh[x.key] = x
	}
}

func (w *work) attemptInSavepoint(j *job) (effects, error) {
	if _, err := w.exec("SAVEPOINT edit"); err != nil {
		return effects{}, err
	}
	ran, err := w.attempt(j)
	if err != nil && endsTransaction(err) {
		return effects{}, err
	}
	if err != nil {
		if _, e := w.exec("ROLLBACK TO edit"); e != nil {
			return effects{}, e
		}
	}
	if _, e := w.exec("RELEASE edit"); e != nil {
		return effects{}, e
	}
	return ran, err
}

// attempt runs one job; a defect in an edit must not end the writer.
func (w *work) attempt(j *job) (ran effects, err error) {
	returned := false
	defer func() {
		if p := recover(); p != nil {
			w.s.options.Log.Error("an edit broke", "doing", j.doing, "panic", p, "stack", string(debug.Stack()))
			err = broken(fmt.Sprint(p))
		} else if !returned {
			j.done <- broken("it ended its goroutine")
		}
		if err != nil {
			w.forget()
		}
	}()
	w.read = w.read[:0]
	ran, err = j.run(w)
	returned = true
	return ran, err
}

func broken(cause string) error {
	return &Failure{ErrRefused, "this edit broke inside the program and nothing was stored: the log says where", cause}
}

// forget drops what a failed job read: it may have read its own writing, which
// never came to be.
func (w *work) forget() {
	for _, k := range w.read {
		delete(w.fresh, k)
	}
}

// failed turns an error for the caller and logs what is not the caller's doing.
func (s *Store) failed(err error, doing string) error {
	out := s.translate(err, doing)
	if codeOf(err) != 0 {
		s.options.Log.Error("nothing was stored", "doing", doing, "error", err)
	}
	return out
}
