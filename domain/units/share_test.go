package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseShare(t *testing.T) {
	for text, want := range map[string]float64{"0.68": 0.68, "68 %": 0.68, "68%": 0.68, " 0,68 ": 0.68, "0": 0, "1": 1, "100 %": 1, ".5": 0.5} {
		v, err := ParseShare(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, v, 1e-12, text)
	}
	for _, text := range []string{"", "%", "68", "1.01", "101 %", "-0.1", "-1 %", "clear", "0.68 m", "NaN"} {
		_, err := ParseShare(text)
		assert.ErrorContains(t, err, "0.68 or 68 %", text)
	}
}

// What is printed is read again, to the tenth of a percent that it is printed with.
func TestShare_isReadAsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1).Draw(t, "share")
		back, err := ParseShare(Share(v))
		require.NoError(t, err)
		require.InDelta(t, v, back, 0.0005+1e-12)
	})
}
