package building

import (
	"net/http"
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

func (s *screen) kindsOf(rooms ...domain.ID) (out []domain.SpaceType) {
	s.T.Helper()
	for _, id := range rooms {
		state, err := s.Store.Room(s.T.Context(), id)
		require.NoError(s.T, err)
		out = append(out, state.Resolved.Space)
	}
	return out
}

func TestTable_showsKindsOfSpace(t *testing.T) {
	scope := webtest.School()
	scope.Typicals[0].Space = "laboratory"
	s := open(t, scope)
	body := s.Get("/projects/p1").Body.String()
	assert.Contains(t, body, "classroom, lecture, training (proposed)")
	assert.Contains(t, body, ">laboratory, not a classroom<", "of the typical")
	assert.Contains(t, body, `aria-label="Confirm the kind of space of room 101"`)
	assert.NotContains(t, body, `aria-label="Confirm the kind of space of room 103"`)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/set", "path", "rooms/r1/space_type", "text", "classroom_lecture_training").Code, "what the button sends")
	assert.Equal(t, []domain.SpaceType{"classroom_lecture_training"}, s.kindsOf("r1"))
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post("/projects/p1/set", "path", "rooms/r1/space_type", "text", "dungeon").Code)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code)
	assert.Equal(t, []domain.SpaceType{""}, s.kindsOf("r1"))
}

func TestBulk_confirmsKindsAsProposed(t *testing.T) {
	scope := webtest.School()
	scope.Rooms[1].Use = "other" // of which nothing is proposed
	scope.Rooms[2].Space = "laboratory"
	s := open(t, scope)
	said, done := s.bulk([]string{"r1", "r2", "r3"}, "do", "kind", "kind", asProposed)
	assert.Contains(t, said, "Confirm in 1 room")
	assert.Contains(t, said, "1 room has no proposal")
	assert.Contains(t, said, "1 room stays as confirmed")
	assert.Contains(t, done, "kind of space confirmed as proposed in 101")
	assert.Equal(t, []domain.SpaceType{"classroom_lecture_training", "", "laboratory"}, s.kindsOf("r1", "r2", "r3"))
	said, _ = s.bulk([]string{"r1", "r2", "r3"}, "do", "kind", "kind", "laboratory")
	assert.Contains(t, said, "Set in 2 rooms")
	assert.Equal(t, []domain.SpaceType{"laboratory", "laboratory", "laboratory"}, s.kindsOf("r1", "r2", "r3"))
	s.bulk([]string{"r1", "r2"}, "do", "kind", "kind", "")
	assert.Equal(t, []domain.SpaceType{"", "", "laboratory"}, s.kindsOf("r1", "r2", "r3"))
	for range 3 {
		require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code, "each is one step")
	}
	assert.Equal(t, []domain.SpaceType{"", "", "laboratory"}, s.kindsOf("r1", "r2", "r3"))
	bad := s.Ask(http.MethodPost, "/projects/p1/bulk", url.Values{"room": {"r1"}, "do": {"kind"}, "kind": {"dungeon"}, "stamp": {"look"}})
	assert.Contains(t, bad.Body.String(), "Choose the kind of space.")
}

func TestBulk_setsReceptacles(t *testing.T) {
	s := open(t, webtest.School())
	s.bulk([]string{"r1", "r2"}, "do", "field", "field", "receptacles", "text", "12")
	state, err := s.Store.Room(t.Context(), "r2")
	require.NoError(t, err)
	assert.Equal(t, 12, state.Resolved.Outlets)
}
