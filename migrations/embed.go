// Package migrations holds the numbered SQL that brings a database from one
// version to the next. A migration that was released is never edited.
package migrations

import "embed"

// Files are the migrations. Each sets PRAGMA user_version to its own number in
// its own transaction, so that a file always says which version it is.
//
//go:embed *.sql
var Files embed.FS
