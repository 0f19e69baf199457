package units_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/units"
)

// 1 in = 25.4 mm exactly: 0.9 m are 35.433 in, 0.5 m 19.685 in, 8 in 0.2032 m, 500 sq ft
// 46.45152 m2.
func TestPlain_asAPersonWouldHaveTypedIt(t *testing.T) {
	for m, want := range map[units.Metres][2]string{
		0.9: {"2 ft 11.5 in", "0.9 m"}, 0.5: {"1 ft 7.75 in", "0.5 m"}, 3: {"9 ft 10 in", "3 m"}, 0.2032: {"8 in", "0.203 m"},
		2.7432: {"9 ft", "2.74 m"}, 0.3048: {"1 ft", "0.305 m"}, 35.4 * 0.0254: {"2 ft 11.4 in", "0.9 m"}, 0.855: {"2 ft 9.5 in", "0.855 m"}, 0: {"0 in", "0 m"},
	} {
		assert.Equal(t, want, [2]string{units.PlainLength(m, units.US), units.PlainLength(m, units.SI)}, "%g m", float64(m))
	}
	for a, want := range map[units.SquareMetres][2]string{46.45152: {"500 sq ft", "46.5 m2"}, 0.1: {"1.08 sq ft", "0.1 m2"}, 12.25: {"132 sq ft", "12.25 m2"}} {
		assert.Equal(t, want, [2]string{units.PlainArea(a, units.US), units.PlainArea(a, units.SI)}, "%g m2", float64(a))
	}
}

func TestPlain_staysNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units")
		v := rapid.Float64Range(0.05, 100).Draw(t, "m")
		m, err := units.ParseLength(units.PlainLength(units.Metres(v), sys), sys)
		require.NoError(t, err)
		assert.LessOrEqual(t, math.Abs(float64(m)-v), math.Max(0.005*v, 0.0005)+1e-9)
		a, err := units.ParseArea(units.PlainArea(units.SquareMetres(v), sys), sys)
		require.NoError(t, err)
		assert.LessOrEqual(t, math.Abs(float64(a)-v), math.Max(0.005*v, 0.005)+1e-9)
	})
}
