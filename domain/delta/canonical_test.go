package delta_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/delta"
)

type shelf struct {
	Name  string `json:"name,omitempty"`
	Books []book `json:"books,omitempty"`
}

type book struct {
	ID    string  `json:"id"`
	Title string  `json:"title,omitempty"`
	Price float64 `json:"price,omitempty"`
}

func TestCanonicalSpellsValuesAsDiffDoes(t *testing.T) {
	a := shelf{Books: []book{{ID: "b1", Title: "<One>"}}}
	b := shelf{Name: "Left & right", Books: []book{{ID: "b1", Title: "Two", Price: 1000}, {ID: "b2", Title: "Three"}}}
	want, err := delta.Diff(a, b)
	require.NoError(t, err)
	odd := delta.Changes{
		{Path: "name", After: json.RawMessage(` "Left & right" `)},
		{Path: "books/b1/title", Before: json.RawMessage(`"<One>"`), After: json.RawMessage(`"Tw\u006f"`)},
		{Path: "books/b1/price", Before: json.RawMessage(`0`), After: json.RawMessage(`1e3`)},
		{Path: "books/b2", After: json.RawMessage("{\n \"title\": \"Three\", \"id\": \"b2\"}")},
	}
	for i, c := range odd {
		got, err := c.Canonical(&shelf{})
		require.NoError(t, err)
		assert.Equal(t, want[i], got)
	}
}

func TestCanonicalRefusesWhatHasNoPlace(t *testing.T) {
	for path, says := range map[string]string{
		"colour": "no field", "books": "too early", "books/b1/colour": "no field", "books/b1/title/x": "below a value", "": "no field",
	} {
		_, err := delta.Change{Path: path, After: json.RawMessage(`"x"`)}.Canonical(shelf{})
		assert.ErrorContains(t, err, says, path)
	}
	for value, says := range map[string]string{
		`{"id":"b2"}`: "its path says", `{"id":"b1","colour":1}`: "unknown field", `[]`: "cannot unmarshal", `{"id":"b1"} 2`: "more than one",
	} {
		_, err := delta.Change{Path: "books/b1", Before: json.RawMessage(value)}.Canonical(shelf{})
		assert.ErrorContains(t, err, says, value)
	}
}
