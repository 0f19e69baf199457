package daylight

import (
	"math"
	"sync"
)

// The clear sky on a facade is summed once, at steps of sun altitude and of the
// angle between facade and sun, and read between them.
const (
	altitudeStep = 5.0
	asideStep    = 15.0
	altitudes    = int(90/altitudeStep) + 1
	asides       = int(180/asideStep) + 1
)

var facadeTable = sync.OnceValue(func() (t [altitudes][asides]float64) {
	var angles []float64
	for j := range asides {
		angles = append(angles, float64(j)*asideStep)
	}
	for i := range altitudes {
		for j, v := range clearUpright(float64(i)*altitudeStep, angles...) {
			t[i][j] = v / OvercastVertical
		}
	}
	return t
})

// facadeFactor gives ClearVertical over OvercastVertical within 2 %.
func facadeFactor(altitude, aside float64) float64 {
	aside = math.Abs(math.Mod(aside, 360))
	if aside > 180 {
		aside = 360 - aside
	}
	t := facadeTable()
	a, b := max(0, min(90, altitude))/altitudeStep, aside/asideStep
	i, j := min(int(a), altitudes-2), min(int(b), asides-2)
	a, b = a-float64(i), b-float64(j)
	return (t[i][j]*(1-b)+t[i][j+1]*b)*(1-a) + (t[i+1][j]*(1-b)+t[i+1][j+1]*b)*a
}
