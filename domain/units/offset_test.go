package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOffset_readsBackWhatItPrints(t *testing.T) {
	for _, c := range []struct {
		sys  System
		at   Metres
		says string
	}{
		{SI, -2.5, "-2.5 m"}, {SI, 0, "0 m"}, {US, -3.81, "-12 ft 6 in"}, {US, 0.0254, "1 in"}, {US, -0.00001, "0 in"},
	} {
		assert.Equal(t, c.says, Offset(c.at, c.sys))
		v, err := ParseOffset(c.says, c.sys)
		require.NoError(t, err)
		assert.InDelta(t, float64(c.at), float64(v), 1e-4)
	}
	v, err := ParseOffset("\u22123 ft", US)
	require.NoError(t, err)
	assert.InDelta(t, -0.9144, float64(v), 1e-9)
	for _, bad := range []string{"", "-", "--2", "wide"} {
		_, err := ParseOffset(bad, SI)
		assert.Error(t, err, bad)
	}
}
