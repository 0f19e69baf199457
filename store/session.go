package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"

	"github.com/jmoiron/sqlx"
)

// steady is the context of all statements. A caller's context counts while it
// waits for its turn; what was begun ends soon, and the driver needs no second
// goroutine to watch it.
var steady = context.Background()

// session is one connection with its prepared statements. One goroutine uses
// it at a time.
type session struct {
	db    *sqlx.DB
	conn  *sqlx.Conn // nil: not connected yet
	stmts map[string]*sql.Stmt
}

// keptStatements bounds the prepared statements of a session; the combinations
// of filters are many.
const keptStatements = 200

func (c *session) connect() error {
	if c.conn != nil {
		return nil
	}
	conn, err := c.db.Connx(steady)
	if err != nil {
		return err
	}
	c.conn, c.stmts = conn, map[string]*sql.Stmt{}
	return nil
}

func (c *session) stmt(query string) (*sql.Stmt, error) {
	if known := c.stmts[query]; known != nil {
		return known, nil
	}
	if err := c.connect(); err != nil {
		return nil, err
	}
	if len(c.stmts) >= keptStatements {
		c.closeStatements()
	}
	stmt, err := c.conn.PrepareContext(steady, query)
	if err == nil {
		c.stmts[query] = stmt
	}
	return stmt, err
}

func (c *session) exec(query string, args ...any) (sql.Result, error) {
	stmt, err := c.stmt(query)
	if err != nil {
		return nil, err
	}
	return stmt.ExecContext(steady, args...)
}

func (c *session) scan(query string, args []any, into ...any) error {
	stmt, err := c.stmt(query)
	if err != nil {
		return err
	}
	return stmt.QueryRowContext(steady, args...).Scan(into...)
}

func (c *session) query(query string, args ...any) (*sql.Rows, error) {
	stmt, err := c.stmt(query)
	if err != nil {
		return nil, err
	}
	return stmt.QueryContext(steady, args...)
}

func (c *session) closeStatements() {
	for _, stmt := range c.stmts {
		_ = stmt.Close()
	}
	clear(c.stmts)
}

func (c *session) close() {
	if c.conn != nil {
		c.closeStatements()
		_ = c.conn.Close()
		c.conn = nil
	}
}

// lost tells that the connection itself is of no more use.
func lost(err error) bool {
	return errors.Is(err, driver.ErrBadConn) || errors.Is(err, sql.ErrConnDone)
}
