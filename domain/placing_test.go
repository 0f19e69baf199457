package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

func at(x, y float64) *geom.Point { return &geom.Point{X: x, Y: y} }

// standing gives a room of the school with its presence sensor on the plan.
func standing(t *testing.T, room int) (*domain.Scope, *domain.Resolved) {
	s := school()
	r, err := s.Resolve(&s.Rooms[room])
	require.NoError(t, err)
	r.Design = r.Design.Clone()
	r.Outline = geom.Rectangle(0, 0, 8, 5)
	r.Design.Device("ps").At, r.Design.Device("ps").Turn = at(1, 2), 90
	r.Design.Device("ps").Delay = 900
	require.NoError(t, r.Settle())
	return s, r
}

func TestGivingBackExceptionsKeepsPlaces(t *testing.T) {
	s, r := standing(t, 0)
	said, err := edit.GiveBack{}.Apply(edit.OfRoom(&s.Project, r))
	require.NoError(t, err)
	assert.Equal(t, "gave back an exception to typical CR-1", said)
	assert.Equal(t, at(1, 2), r.Design.Device("ps").At)
	assert.Zero(t, r.Design.Device("ps").Delay)
	_, err = edit.GiveBack{Path: "devices/ps"}.Apply(edit.OfRoom(&s.Project, r))
	assert.ErrorContains(t, err, "already given back")
	require.NoError(t, r.Settle())
	assert.Len(t, r.Exceptions, 2)
}

func TestFollowingATypicalKeepsThePlacesOfWhatStays(t *testing.T) {
	s, r := standing(t, 3)
	r.Design.Devices = append(r.Design.Devices, domain.Device{ID: "own", Tag: "X-1", At: at(9, 9)})
	_, err := edit.Follow{Typical: &s.Typicals[0]}.Apply(edit.OfRoom(&s.Project, r))
	require.NoError(t, err)
	require.NoError(t, r.Settle())
	assert.Equal(t, at(1, 2), r.Design.Device("ps").At)
	assert.Nil(t, r.Design.Device("own"))
	assert.Nil(t, s.Typicals[0].Design.Device("ps").At, "the typical itself stands nowhere")
}

func TestACopiedDesignStandsNowhereYet(t *testing.T) {
	_, from := standing(t, 3)
	from.Design.Device("st").At = at(7, 7)
	s, to := standing(t, 3)
	to.Design.Device("ps").At = at(30, 30)
	_, err := edit.CopyDesign{From: "104", Design: from.Design}.Apply(edit.OfRoom(&s.Project, to))
	require.NoError(t, err)
	assert.Nil(t, to.Design.Device("st").At, "its place was in the other room")
	assert.Equal(t, at(30, 30), to.Design.Device("ps").At, "it stood here before")
	assert.Equal(t, at(7, 7), from.Design.Device("st").At)
}

func TestShared_hasNothingThatEachRoomHasForItself(t *testing.T) {
	_, r := standing(t, 3)
	r.Design.Device("ps").Fitted = "2026-01-01"
	shared := r.Design.Shared()
	assert.Nil(t, shared.Device("ps").At)
	assert.Zero(t, shared.Device("ps").Turn)
	assert.Empty(t, shared.Device("ps").Fitted)
	for _, l := range shared.Loads {
		assert.Empty(t, l.Circuit)
	}
	assert.Equal(t, at(1, 2), r.Design.Device("ps").At)
}

func TestTakeOffPlan(t *testing.T) {
	for _, room := range []int{0, 3} {
		_, r := standing(t, room)
		r.Fixtures, r.Sitting = []domain.Fixture{{ID: "f"}}, []domain.Seat{{ID: "a"}}
		require.NoError(t, r.TakeOffPlan())
		assert.True(t, r.Outline.IsZero())
		assert.Empty(t, r.Fixtures)
		assert.Empty(t, r.Sitting)
		for _, c := range r.Exceptions {
			assert.False(t, domain.IsPlace(c), c.Path)
		}
		devices, _ := r.Unplaced()
		assert.Len(t, r.Design.Devices, devices)
		assert.EqualValues(t, 900, r.Design.Device("ps").Delay, "what was decided stays")
	}
}
