package drawing_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"scopewright/domain/units"
	"scopewright/export/drawing"
)

func TestScaleFor_takesTheLargestThatFits(t *testing.T) {
	// A room of 8 x 7 m on 180 x 120 mm: 7 m at 1:50 is 140 mm, at 1:100 70 mm.
	assert.Equal(t, "1:100", drawing.ScaleFor(8, 7, 180, 120, units.SI).Name)
	assert.Equal(t, "1:50", drawing.ScaleFor(8, 7, 180, 140, units.SI).Name, "just fits")
	// The same in feet: 7 m = 275.59 in; at 1/4" = 1'-0" (1:48) 145.8 mm, at 3/16" (1:64) 109.4 mm.
	assert.Equal(t, `3/16" = 1'-0" (1:64)`, drawing.ScaleFor(8, 7, 180, 120, units.US).String())
	// 90 m on Letter: 1/32" is 234 mm, an inch to 50 ft is 1:600 and 150 mm.
	assert.Equal(t, `1" = 50' (1:600)`, drawing.ScaleFor(20, 90, 190, 180, units.US).String())
	assert.Equal(t, "1:2000", drawing.ScaleFor(300, 90, 190, 180, units.SI).String())
}

// An inch of paper is a foot divided by the named part: 12 in / (1/8 in) = 96.
func TestStandardScales_meanWhatTheyAreCalled(t *testing.T) {
	parts := map[string]float64{`1/2" = 1'-0"`: 1. / 2, `3/8" = 1'-0"`: 3. / 8, `1/4" = 1'-0"`: 1. / 4, `3/16" = 1'-0"`: 3. / 16, `1/8" = 1'-0"`: 1. / 8, `3/32" = 1'-0"`: 3. / 32, `1/16" = 1'-0"`: 1. / 16, `1/32" = 1'-0"`: 1. / 32, `1" = 40'`: 1. / 40}
	for _, s := range drawing.StandardScales(units.US) {
		assert.InDelta(t, 12/parts[s.Name], s.Ratio, 1e-9, s.Name)
	}
	for _, s := range drawing.StandardScales(units.SI) {
		assert.Equal(t, s.Name, s.String())
		assert.InDelta(t, 1000/s.Ratio, s.PerMeter(), 1e-9)
	}
}

func TestScaleFor_alwaysFitsAndIsNeverSmallerThanNeeded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units")
		w, h := rapid.Float64Range(0.1, 1e5).Draw(t, "w"), rapid.Float64Range(0.1, 1e5).Draw(t, "h")
		pw, ph := rapid.Float64Range(50, 900).Draw(t, "pw"), rapid.Float64Range(50, 900).Draw(t, "ph")
		s := drawing.ScaleFor(w, h, pw, ph, sys)
		assert.LessOrEqual(t, w*s.PerMeter(), pw+1e-3)
		assert.LessOrEqual(t, h*s.PerMeter(), ph+1e-3)
		if s.Ratio > 50 { // no step between two scales is larger than 2.6
			larger := s.PerMeter() * 2.6
			assert.True(t, w*larger > pw || h*larger > ph, "1:%v leaves more than half of the paper empty both ways", s.Ratio)
		}
	})
}
