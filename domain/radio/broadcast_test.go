package radio_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain/radio"
)

func every(gap, n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i * gap
	}
	return out
}

// Cases B1 to B5: arithmetic of the sliding window, 8 in 9 s (common practice).
func TestRefused_slidingWindow(t *testing.T) {
	for name, c := range map[string]struct{ times, refused []int }{
		"B1 eight in a row":        {every(1000, 8), nil},
		"B2 ten, one a second":     {every(1000, 10), []int{8}},
		"B3 window ends exactly":   {[]int{0, 0, 0, 0, 0, 0, 0, 0, 8999, 9000}, []int{8}},
		"B4 the sustained pace":    {every(1125, 54), nil},
		"B5 one a second for 60 s": {every(1000, 61), []int{8, 17, 26, 35, 44, 53}},
		"seven at once":            {make([]int, 7), nil},
		"nine at once":             {make([]int, 9), []int{8}},
	} {
		assert.Equal(t, c.refused, radio.Refused(c.times, 8, 9000), name)
	}
}
