package room

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

// The first choice of a room's kind of space says which one holds while the room states
// none, and why.
func TestFacts_sayTheKindOfSpaceThatHolds(t *testing.T) {
	scope := webtest.School()
	fact := func(id domain.ID) (shown, first string) {
		for i := range scope.Rooms {
			if r := &scope.Rooms[i]; r.ID == id {
				resolved, err := scope.Resolve(r)
				require.NoError(t, err)
				for _, f := range (&bench{project: &scope.Project, room: resolved, typical: resolved.Typical}).facts() {
					if f.Path == "facts/space_type" {
						return f.Value, f.Choices[0].Label
					}
				}
			}
		}
		return "", ""
	}
	says := func(id domain.ID, want string) {
		t.Helper()
		shown, first := fact(id)
		assert.Equal(t, want, shown)
		assert.Equal(t, want, first, "what is shown is a choice")
	}
	says("r1", "as proposed: classroom, lecture, training")
	scope.Rooms[1].Use = "other"
	says("r2", "as proposed")
	scope.Typicals[0].Space = "corridor"
	says("r3", "as typical CR-1 has it: corridor")
	scope.Rooms[2].Space = "laboratory"
	shown, first := fact("r3")
	assert.Equal(t, "laboratory, not a classroom", shown)
	assert.Equal(t, "as typical CR-1 has it: corridor", first, "what the choice would bring back")
	scope.Rooms[2].Space, scope.Typicals[0].Space = "", "orangery"
	says("r3", "as typical CR-1 has it: orangery")
}
