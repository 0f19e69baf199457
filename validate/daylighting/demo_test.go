package daylighting

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/daylight"
	"scopewright/domain/demo"
)

// Open-loop sensors face their windows, as far as a plan can say so: no turn at all is
// what says nothing, so that one that faces along the plan's x does not.
func TestDemoDaylightSensorsFaceTheGlass(t *testing.T) {
	s := demo.Scope()
	p, facing := &s.Project, 0
	limits := daylight.PlaceLimitsOf(p)
	for i := range s.Rooms {
		r, err := s.Resolve(&s.Rooms[i])
		require.NoError(t, err)
		space := daylight.NewSpace(p, r, daylight.AssumedOf(p))
		for _, d := range daylight.Sensors(p, r) {
			if d.Facing == nil {
				continue
			}
			facing++
			for _, fault := range space.Judge(&d, nil, &limits) {
				assert.NotEqual(t, daylight.FacesAway, fault.Kind, s.Rooms[i].Number)
			}
		}
	}
	assert.Positive(t, facing)
}
