package electrical

import "scopewright/domain/units"

// InputHigh is the voltage above which a powered sensor's input reads high
// (common practice, no published source). Exactly this voltage is not high.
const InputHigh units.Volts = 8

// InputVoltage gives the voltage at a contact input: V - I 2 r L.
func InputVoltage(supply units.Volts, current units.Milliamps, ohmPerMetre float64, length units.Metres) units.Volts {
	return supply - units.Volts(float64(current)/1000*loop(ohmPerMetre, length))
}

// ReadsHigh tells whether an input reads high at a voltage.
func ReadsHigh(v units.Volts) bool { return float64(v) > float64(InputHigh)+units.Tolerance }

// SensorsPerSupply gives how many sensors of a power one auxiliary supply
// feeds; equality passes. 0 where a power is not known.
func SensorsPerSupply(supply, each units.Watts) int {
	if each <= 0 {
		return 0
	}
	n := 0
	for units.AtMost(float64(n+1)*float64(each), float64(supply)) {
		n++
	}
	return n
}
