package migrations_test

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/migrations"
)

func TestEachMigrationSaysItsNumber(t *testing.T) {
	names, err := fs.Glob(migrations.Files, "*.sql")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for i, name := range names {
		assert.True(t, strings.HasPrefix(name, fmt.Sprintf("%04d_", i+1)), "%s: numbers run from 0001 without a gap", name)
		body, err := fs.ReadFile(migrations.Files, name)
		require.NoError(t, err)
		assert.Contains(t, string(body), fmt.Sprintf("PRAGMA user_version = %d;", i+1), name)
		assert.NotContains(t, string(body), "NO TRANSACTION", "%s: a migration is one transaction", name)
	}
}
