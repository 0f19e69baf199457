package electrical

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/units"
)

// 30 drivers of 2 mA at even distances along 18 AWG, stranded at 75 C, 7.95 ohm
// per 1000 ft (NFPA 70 chapter 9 table 8): computed as I 2 r L (N + 1)/(2 N).
func TestLadderRise_ofEvenTapsIsThatOfTheFormula(t *testing.T) {
	r, err := AWG18.Resistance()
	require.NoError(t, err)
	for feet, want := range map[float64]float64{100: 0.0493, 200: 0.0986, 300: 0.1479, 500: 0.2464, 1000: 0.4929} {
		taps := make([]Tap, 30)
		for i := range taps {
			taps[i] = Tap{Run: units.Metres(feet * 0.3048 / 30), Current: 2}
		}
		assert.InDelta(t, want, float64(LadderRise(r, taps)), 5e-5, "%g ft", feet)
	}
}

// All current at the end of 1000 ft of 18 AWG: 0.06 A x 2 x 7.95 ohm = 0.954 V.
func TestLadderRise_ofOneTapCarriesAllToTheEnd(t *testing.T) {
	r, err := AWG18.Resistance()
	require.NoError(t, err)
	assert.InDelta(t, 0.954, float64(LadderRise(r, []Tap{{Run: 304.8, Current: 60}})), 1e-9)
	// A long way there and drivers close together: the formula for even taps
	// would say half of it.
	assert.InDelta(t, 0.954, float64(LadderRise(r, []Tap{{Run: 304.8, Current: 30}, {Current: 30}})), 1e-9)
	assert.Zero(t, LadderRise(r, nil))
}
