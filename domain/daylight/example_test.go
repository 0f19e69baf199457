package daylight_test

import (
	"fmt"

	"scopewright/domain/daylight"
)

// Walsh 1961, by Tregenza and Sharples, Daylight Algorithms 2.32.
func ExampleSkyComponent() {
	fmt.Printf("%.6f %%\n", daylight.SkyComponent(2, 1, 1))
	// Output: 5.458554 %
}

// Hopkinson, Petherbridge and Longmore 1954, from memory: a room of 6 by 4 by 3 m
// with 5.4 m2 of glass.
func ExampleSplitFlux() {
	fmt.Printf("%.4f %%\n", daylight.SplitFlux(0.68, 5.4, 108, 0.457778, 39, 5, 0.363636, 0.611111))
	// Output: 1.0809 %
}

// Tregenza and Sharples, Daylight Algorithms 2.12: the same room with a free view.
func ExampleMeanFactor() {
	fmt.Printf("%.4f %%\n", daylight.MeanFactor(0.68, 5.4, 90, 108, 0.457778))
	// Output: 3.8713 %
}

// EnergyPlus Engineering Reference: lamps that go down to 10 % light at 20 % power.
func ExampleDimming_Power() {
	lamps := daylight.Dimming{LeastLight: 0.1, LeastPower: 0.2}
	fmt.Printf("%.5f\n", lamps.Power(0.5))
	// Output: 0.55556
}
