package delta_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/delta"
)

type leg struct {
	ID    string `json:"id"`
	Level *int   `json:"level,omitempty"`
}
type part struct {
	ID   string   `json:"id"`
	Seq  int      `json:"seq"`
	Name string   `json:"name,omitempty"`
	Tags []string `json:"tags,omitempty"`
	Legs []leg    `json:"legs,omitempty"`
}
type doc struct {
	Title string `json:"title,omitempty"`
	Parts []part `json:"parts,omitempty"`
	Inner struct {
		N int `json:"n,omitempty"`
	} `json:"inner"`
}

func drawDoc(t *rapid.T) doc {
	var d doc
	d.Title = rapid.StringMatching(`[a-c]{0,2}`).Draw(t, "title")
	d.Inner.N = rapid.IntRange(0, 2).Draw(t, "n")
	for i := range 6 {
		if !rapid.Bool().Draw(t, "has") {
			continue
		}
		p := part{ID: fmt.Sprint("p", i), Seq: rapid.IntRange(0, 3).Draw(t, "seq"), Name: rapid.StringMatching(`[xy]{0,1}`).Draw(t, "name")}
		for j := range rapid.IntRange(0, 2).Draw(t, "tags") {
			p.Tags = append(p.Tags, fmt.Sprint(j))
		}
		for j := range 3 {
			if rapid.Bool().Draw(t, "leg") {
				n := rapid.IntRange(0, 2).Draw(t, "level")
				p.Legs = append(p.Legs, leg{ID: fmt.Sprint("l", j), Level: &n})
			}
		}
		d.Parts = append(d.Parts, p)
	}
	delta.Sort(&d)
	return d
}

func asJSON(t require.TestingT, v any) string {
	b, err := json.Marshal(v)
	require.NoError(t, err)
	return string(b)
}

func copyOf(t require.TestingT, d doc) doc {
	var out doc
	require.NoError(t, json.Unmarshal([]byte(asJSON(t, d)), &out))
	return out
}

func TestApplyingADifferenceLeadsThereAndItsInverseBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawDoc(t), drawDoc(t)
		changes, err := delta.Diff(&a, &b)
		require.NoError(t, err)
		c := copyOf(t, a)
		require.NoError(t, delta.Apply(&c, changes))
		delta.Sort(&c)
		require.Equal(t, asJSON(t, b), asJSON(t, c))
		require.NoError(t, delta.Apply(&c, changes.Inverse()))
		delta.Sort(&c)
		require.Equal(t, asJSON(t, a), asJSON(t, c))
	})
}

func TestNoDifferenceBetweenEquals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawDoc(t)
		b := copyOf(t, a)
		changes, err := delta.Diff(a, b)
		require.NoError(t, err)
		require.Empty(t, changes)
	})
}

func TestApplyRefusesWhatMeanwhileChanged(t *testing.T) {
	a := doc{Parts: []part{{ID: "p1", Name: "x"}}}
	b := doc{Parts: []part{{ID: "p1", Name: "y"}}}
	changes, err := delta.Diff(a, b)
	require.NoError(t, err)
	now := doc{Parts: []part{{ID: "p1", Name: "z"}}}
	err = delta.Apply(&now, changes)
	var c *delta.Conflict
	require.True(t, errors.As(err, &c))
	assert.Equal(t, "parts/p1/name", c.Path)
	assert.Equal(t, `"x"`, string(c.Expected))
	assert.Equal(t, `"z"`, string(c.Now))

	gone := doc{}
	err = delta.Apply(&gone, changes)
	require.True(t, errors.As(err, &c))
	assert.True(t, c.Missing)
}

func TestOverlayKeepsGoingAndNamesOrphans(t *testing.T) {
	base := doc{Parts: []part{{ID: "p1", Name: "x"}}}
	changes := delta.Changes{
		{Path: "parts/p1/name", After: json.RawMessage(`"own"`)},
		{Path: "parts/p9/name", After: json.RawMessage(`"lost"`)},
	}
	orphans, err := delta.Overlay(&base, changes)
	require.NoError(t, err)
	assert.Equal(t, "own", base.Parts[0].Name)
	require.Len(t, orphans, 1)
	assert.Equal(t, "parts/p9/name", orphans[0].Path)
}

func TestAnUnknownFieldIsAnErrorAndNoPanic(t *testing.T) {
	var d doc
	for _, path := range []string{"nope", "title/below", "parts/p1/nope/x", ""} {
		err := delta.Apply(&d, delta.Changes{{Path: path, After: json.RawMessage(`{"id":1}`)}})
		assert.Error(t, err, path)
	}
}

func TestPartAndField(t *testing.T) {
	c := delta.Change{Path: "devices/d7/delay_s"}
	assert.Equal(t, "devices/d7", c.Part(2))
	assert.Equal(t, "delay_s", c.Field())
	assert.Equal(t, "devices", c.Part(1))
}
