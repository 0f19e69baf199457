package room

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/web/webtest"
)

// While a room states no kind of space, its fact says which one holds and why.
func TestFacts_sayTheKindOfSpaceThatHolds(t *testing.T) {
	scope := webtest.School()
	fact := func(id domain.ID) string {
		for i := range scope.Rooms {
			if r := &scope.Rooms[i]; r.ID == id {
				resolved, err := scope.Resolve(r)
				assert.NoError(t, err)
				for _, f := range (&bench{project: &scope.Project, room: resolved, typical: resolved.Typical}).facts() {
					if f.Path == "facts/space_type" {
						assert.Contains(t, []string{f.Choices[0].Label, "laboratory, not a classroom"}, f.Value)
						return f.Value
					}
				}
			}
		}
		return ""
	}
	assert.Equal(t, "as proposed: classroom, lecture, training", fact("r1"))
	scope.Rooms[1].Use = "other"
	assert.Equal(t, "as proposed", fact("r2"), "nothing is proposed")
	scope.Typicals[0].Space = "corridor"
	assert.Equal(t, "as typical CR-1: corridor", fact("r3"))
	scope.Rooms[2].Space = "laboratory"
	assert.Equal(t, "laboratory, not a classroom", fact("r3"))
}
