package units_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/units"
)

// 1 footcandle = 10.763 910 lx: NIST Special Publication 811, appendix B.8.
func TestLight(t *testing.T) {
	assert.InDelta(t, 10.763910, units.LuxPerFootcandle, 5e-7)
	assert.Equal(t, "300 lx", units.Light(300, units.SI))
	assert.Equal(t, "27.9 fc", units.Light(300, units.US))
	for text, want := range map[string]float64{"30": 322.917, "30 fc": 322.917, "300 lx": 300, "300 lux": 300, "27.9fc": 300.313} {
		got, err := units.ParseLight(text, units.US)
		require.NoError(t, err, text)
		assert.InDelta(t, want, float64(got), 0.001, text)
	}
	got, err := units.ParseLight("500", units.SI)
	require.NoError(t, err)
	assert.EqualValues(t, 500, got)
	_, err = units.ParseLight("bright", units.SI)
	assert.Error(t, err)
}
