package edits

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/edit"
)

func form(values url.Values) *http.Request {
	r := httptest.NewRequest(http.MethodPost, "/", strings.NewReader(values.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return r
}

func TestReadCells(t *testing.T) {
	cells, err := ReadCells(form(url.Values{"edits": {`[["a/b","x"],["c/d","Größe\ttab"]]`}}))
	require.NoError(t, err)
	assert.Equal(t, []Cell{{"a/b", "x"}, {"c/d", "Größe\ttab"}}, cells)
	cells, err = ReadCells(form(url.Values{"path": {"a/b"}, "text": {"y"}}))
	require.NoError(t, err)
	assert.Equal(t, []Cell{{"a/b", "y"}}, cells)
	for _, bad := range []string{"", "x", "{}", "[]", `[1]`, "[[\"a\",\"b\"]", "[" + strings.Repeat(`["a","b"],`, mostCells) + `["a","b"]]`} {
		_, err := ReadCells(form(url.Values{"edits": {bad}}))
		var refused *edit.Refused
		assert.ErrorAs(t, err, &refused, "%.30s", bad)
	}
	_, err = ReadCells(form(url.Values{"edits": {strings.Repeat("x", mostBytes)}}))
	status, _ := Status(err)
	assert.Equal(t, http.StatusRequestEntityTooLarge, status)
}

func TestSetField_saysWhatChanged(t *testing.T) {
	env := domain.Env{Project: &domain.Project{Units: "SI"}}
	room := domain.Room{Number: "101", Area: 20}
	said, err := SetField(env, domain.RoomFields, &room, Cell{"rooms/r/area_m2", "30"}, "area_m2", "room 101")
	require.NoError(t, err)
	assert.Equal(t, "room 101: area 20 m2 -> 30 m2", said)
	said, err = SetField(env, domain.RoomFields, &room, Cell{"rooms/r/area_m2", "30.0"}, "area_m2", "room 101")
	require.NoError(t, err)
	assert.Empty(t, said, "nothing changed")
	_, err = SetField(env, domain.RoomFields, &room, Cell{"rooms/r/area_m2", "wide"}, "area_m2", "room 101")
	var field *edit.FieldError
	require.True(t, errors.As(err, &field))
	assert.Equal(t, "rooms/r/area_m2", field.Path)
	assert.InDelta(t, 30, float64(room.Area), 0)
}

func TestTold(t *testing.T) {
	assert.Equal(t, "nothing changed", Told([]string{"", ""}))
	assert.Equal(t, "a", Told([]string{"", "a"}))
	assert.Equal(t, "a and 2 more", Told([]string{"a", "", "b", "c"}))
}

func TestQuery_isThatOfTheOpenPage(t *testing.T) {
	r := httptest.NewRequest(http.MethodGet, "/projects/p/fresh?have=1", nil)
	r.Header.Set("HX-Current-URL", "http://localhost/projects/p?q=lobby")
	assert.Equal(t, "1", Query(r).Get("have"), "a whole page has its own")
	r.Header.Set("HX-Request", "true")
	assert.Equal(t, "lobby", Query(r).Get("q"))
}

func TestSetEach_stopsAtTheCellThatIsRefused(t *testing.T) {
	set := func(c Cell) (string, error) {
		if c.Text == "bad" {
			return "", c.Gone("this " + c.Path)
		}
		return c.Path + " set", nil
	}
	said, err := SetEach([]Cell{{"a", "1"}, {"b", "2"}, {"c", "3"}}, set)
	require.NoError(t, err)
	assert.Equal(t, "a set and 2 more", said)
	said, err = SetEach([]Cell{{"a", "1"}, {"room", "bad"}}, set)
	assert.Empty(t, said)
	var field *edit.FieldError
	require.ErrorAs(t, err, &field)
	assert.Equal(t, "room", field.Path)
	assert.Contains(t, err.Error(), "this room is no longer there")
}

func TestSentenceOf(t *testing.T) {
	for text, want := range map[string]string{"": "", "too long": "Too long.", "Is it so?": "Is it so?", "done.": "Done."} {
		assert.Equal(t, want, SentenceOf(errors.New(text)))
	}
}
