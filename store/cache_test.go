package store

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
)

func change(path string) delta.Change { return delta.Change{Path: path, After: []byte("1")} }

func TestCacheKeepsTheNewestAndStaysWithinItsBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := newCache(100)
		newest := map[domain.ID]int64{}
		for range rapid.IntRange(1, 200).Draw(t, "steps") {
			id := domain.ID(rapid.SampledFrom([]string{"a", "b", "c", "d", "e", "f"}).Draw(t, "id"))
			revision := rapid.Int64Range(1, 9).Draw(t, "revision")
			k := key{aRoom, id}
			switch rapid.IntRange(0, 3).Draw(t, "do") {
			case 0:
				if e := c.get(k, revision); e != nil && (e.revision != revision || e.id != id) {
					t.Fatalf("asked for %v at %d, got %v at %d", k, revision, e.key, e.revision)
				}
			case 1:
				c.remove(k)
				newest[id] = 0
			default:
				c.put(&entry{key: k, revision: revision, size: rapid.IntRange(1, 60).Draw(t, "size")})
				newest[id] = max(newest[id], revision)
			}
			if at := c.byKey[k]; at != nil && at.Value.(*entry).revision > newest[id] {
				t.Fatal("holds what was never put")
			}
			if c.held > c.most && c.order.Len() > 1 || c.order.Len() != len(c.byKey) {
				t.Fatalf("holds %d bytes in %d of %d entries", c.held, c.order.Len(), len(c.byKey))
			}
		}
	})
}

func TestAnOlderRevisionNeverPushesOutANewerOne(t *testing.T) {
	c := newCache(100)
	k := key{aRoom, "a"}
	c.put(&entry{key: k, revision: 5, size: 1})
	old := &entry{key: k, revision: 4, size: 1}
	assert.Same(t, old, c.put(old), "it still serves the reader who brought it")
	assert.NotNil(t, c.get(k, 5))
	assert.Nil(t, c.get(k, 4))
}

func TestDeepCopySharesNothing(t *testing.T) {
	from := &invented(3, 4).Project
	margin := 2.0
	type holder struct {
		Project domain.Project
		Rooms   []domain.Room
		Named   map[string][]int
		Margin  *float64
	}
	a := &holder{*from, invented(3, 4).Rooms, map[string][]int{"x": {1}}, &margin}
	b := deepCopy(a)
	assert.Equal(t, a, b)
	a.Project.Buildings[0].Storeys[0].Name = "changed"
	a.Project.Book[0].Dims[0] = "changed"
	a.Rooms[0].Design.Devices[2].Buttons[0].Label = "changed"
	a.Named["x"][0] = 9
	*a.Margin = 3
	assert.Equal(t, "Level 1", b.Project.Buildings[0].Storeys[0].Name)
	assert.NotEqual(t, "changed", string(b.Project.Book[0].Dims[0]))
	assert.Equal(t, "On", b.Rooms[0].Design.Devices[2].Buttons[0].Label)
	assert.Equal(t, 1, b.Named["x"][0])
	assert.Equal(t, 2.0, *b.Margin)
}
