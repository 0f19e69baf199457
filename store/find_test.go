package store_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/store"
)

func TestFindProjectByIDNumberOrName(t *testing.T) {
	s, err := store.Open(t.Context(), store.Options{Path: filepath.Join(t.TempDir(), "x.db")})
	require.NoError(t, err)
	defer s.Close()
	_, err = s.FindProject(t.Context(), "")
	assert.ErrorIs(t, err, store.ErrNotFound)
	for _, p := range []struct{ id, number, name string }{{"p1", "A-1", "North wing"}, {"p2", "A-2", "South wing"}, {"p3", "A-3", "South wing"}} {
		project := *domaintest.Project("US")
		project.ID, project.Number, project.Name = domain.ID(p.id), p.number, p.name
		require.NoError(t, s.CreateProject(t.Context(), "A. Designer", project))
		if p.id == "p1" {
			id, err := s.FindProject(t.Context(), "")
			require.NoError(t, err)
			assert.Equal(t, domain.ID("p1"), id, "the only one need not be named")
		}
	}
	for text, want := range map[string]domain.ID{"p2": "p2", "a-1": "p1", "NORTH wing": "p1", "A-3": "p3"} {
		id, err := s.FindProject(t.Context(), text)
		require.NoError(t, err, text)
		assert.Equal(t, want, id, text)
	}
	_, err = s.FindProject(t.Context(), "South wing")
	assert.ErrorContains(t, err, `by its ID, "p2" or "p3"`)
	for _, text := range []string{"", "elsewhere"} {
		_, err = s.FindProject(t.Context(), text)
		assert.ErrorContains(t, err, "North wing", "it lists what there is")
	}
}
