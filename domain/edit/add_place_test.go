package edit_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

// A device may be added where it stands on the plan. In a room that follows a
// typical it is the room's own; a typical has no plan to put it on.
func TestAddDevice_onThePlan(t *testing.T) {
	b := domaintest.Classroom().Do(edit.AddDevice{ID: "rt", Type: "rt-plug", At: new(geom.Pt(1.23456, 2))})
	assert.Equal(t, geom.Pt(1.2346, 2), *b.R.Design.Device("rt").At, "to the tenth of a millimeter")

	_, err := edit.AddDevice{ID: "rt2", Type: "rt-plug", At: new(geom.Pt(math.Inf(1), 0))}.Apply(edit.OfRoom(b.P, b.R))
	assert.ErrorContains(t, err, "within 10,000 km")

	typical := &domain.Typical{ID: "t1", Name: "CR", Design: domaintest.Classroom().R.Design}
	_, err = edit.AddDevice{ID: "rt", Type: "rt-plug", At: new(geom.Pt(1, 2))}.Apply(edit.OfTypical(b.P, typical))
	require.NoError(t, err)
	assert.Nil(t, typical.Design.Device("rt").At)

	typical.Design = domaintest.Classroom().R.Design
	room := &domain.Room{ID: "r2", StoreyID: "s1", Number: "102", TypicalID: "t1"}
	resolved, err := domain.Resolve(room, typical)
	require.NoError(t, err)
	resolved.Design = resolved.Design.Clone()
	_, err = edit.AddDevice{ID: "rt", Type: "rt-plug", At: new(geom.Pt(1, 2))}.Apply(edit.OfRoom(b.P, resolved))
	require.NoError(t, err)
	require.NoError(t, resolved.Settle())
	resolved, err = domain.Resolve(room, typical)
	require.NoError(t, err)
	require.NotNil(t, resolved.Design.Device("rt"))
	assert.Equal(t, geom.Pt(1, 2), *resolved.Design.Device("rt").At)
	assert.Nil(t, typical.Design.Device("rt"))
}
