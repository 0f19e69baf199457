package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain/units"
)

// Daylight that gives half of the target under little light outdoors gives too much of it
// on most days: an open loop may not be calibrated from twice the target on, four times as
// much light, a closed one from the target on. 500 lx at 5.01, 5 and 4.99 % need 4,990,
// 5,000 and 5,010 lx outdoors.
func TestCalibration_goodSky(t *testing.T) {
	for outdoors, dark := range map[units.Lux]bool{4990: true, 5000: false, 5010: false} {
		assert.Equal(t, dark, strings.Contains(goodSky(outdoors, false, units.SI), "at dusk or under a dark overcast sky"), "%g lx", outdoors)
	}
	assert.Equal(t, "about 25000 lx outdoors, overcast: half of the target then comes from daylight", goodSky(25_000, true, units.SI))
	assert.Equal(t, "at dusk or under a dark overcast sky, about 130 fc outdoors: half of the target then comes from daylight. From about 520 fc outdoors on E1 reaches twice the target, and no calibration may be taken",
		goodSky(130*units.LuxPerFootcandle, false, units.US))
	assert.Contains(t, goodSky(1400, true, units.SI), "From about 2800 lx outdoors on E1 reaches the target")
}
