package store

import (
	"context"
	"fmt"

	"github.com/jmoiron/sqlx"
)

// readers is how many reads run at once. A read holds one connection for all
// of its statements: one that had to wait for a second would wait for ever when
// all the others did the same.
const readers = 4

// pool hands out the readers' connections; they connect when first used.
type pool struct {
	db   *sqlx.DB
	free chan *session
}

func newPool(db *sqlx.DB) *pool {
	db.SetMaxOpenConns(readers)
	db.SetMaxIdleConns(readers)
	p := &pool{db: db, free: make(chan *session, readers)}
	for range readers {
		p.free <- &session{db: db}
	}
	return p
}

// use runs read on a connection of its own.
func (p *pool) use(ctx context.Context, read func(*session) error) error {
	var c *session
	select {
	case c = <-p.free:
	default:
		select {
		case c = <-p.free:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	if c == nil {
		return errClosedPool
	}
	defer func() { p.free <- c }()
	err := read(c)
	if lost(err) {
		c.close()
	}
	return err
}

var errClosedPool = &Failure{ErrClosed, "the database is closed: start the program again", ""}

// close waits for the reads that run; later ones find it closed.
func (p *pool) close() error {
	for range readers {
		if c := <-p.free; c != nil {
			c.close()
		}
	}
	close(p.free)
	return p.db.Close()
}

// view reads in one snapshot: what it sees belongs together.
func (s *Store) view(ctx context.Context, doing string, read func(source) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	err := s.readers.use(ctx, func(c *session) (err error) {
		if _, err = c.exec("BEGIN"); err != nil {
			return err
		}
		defer func() {
			if _, e := c.exec("ROLLBACK"); e != nil && err == nil { // nothing was written: it only ends the snapshot
				err = fmt.Errorf("ending a read: %w", e)
			}
		}()
		return read(source{c.query, c.scan, s.cache.get, s.cache.put})
	})
	return s.translate(err, doing)
}

// one reads one row outside of any transaction.
func (s *Store) one(ctx context.Context, query string, args []any, into ...any) error {
	return s.readers.use(ctx, func(c *session) error { return c.scan(query, args, into...) })
}
