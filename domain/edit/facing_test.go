package edit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/edit"
)

// A device may be set to face right: that is 360 degrees, since 0 is not stated.
func TestDevice_facesRight(t *testing.T) {
	p, room := drawnRoom()
	id := room.Design.Devices[0].ID
	thing := edit.Thing{Kind: edit.DeviceThing, Room: room.ID, ID: id}
	set := func(g edit.Gesture) float64 {
		after, _, _, err := draw(t, p, room, g)
		require.NoError(t, err)
		room = after
		return after.Design.Device(id).Turn
	}
	for _, c := range []struct {
		text string
		want float64
	}{{"0", 360}, {"360", 360}, {"-90", 270}, {"90", 90}, {"", 0}} {
		assert.InDelta(t, c.want, set(edit.SetPlace{Thing: thing, Field: "turn", Text: c.text}), 1e-9, c.text)
	}
	assert.InDelta(t, 90, set(edit.TurnThings{Things: []edit.Thing{thing}, By: 90}), 1e-9)
	assert.InDelta(t, 360, set(edit.TurnThings{Things: []edit.Thing{thing}, By: -90}), 1e-9)
}
