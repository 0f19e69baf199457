package edit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/edit"
)

func TestSetLoadZone(t *testing.T) {
	p, r := drawnRoom()
	work, _, said, err := draw(t, p, r, edit.SetLoadZone{Room: r.ID, Load: "l1", Zone: domain.ZoneSecondary})
	require.NoError(t, err)
	assert.Equal(t, domain.ZoneSecondary, work.Design.Load("l1").Zone)
	assert.Contains(t, said, "-> second row in "+r.Number)

	for want, g := range map[string]edit.SetLoadZone{
		"no longer in this room":   {Room: r.ID, Load: "gone", Zone: domain.ZoneWindow},
		"no longer on this storey": {Room: "gone", Load: "l1", Zone: domain.ZoneWindow},
		"attic":                    {Room: r.ID, Load: "l1", Zone: "attic"},
	} {
		_, _, _, err := draw(t, p, r, g)
		assert.ErrorContains(t, err, want)
	}
}
