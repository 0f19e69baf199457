package electrical

import "scopewright/domain/units"

// Tap is a driver on a 0-10 V pair, or several in one place: the length of pair
// from the tap before it, and the current that it feeds in.
type Tap struct {
	Run     units.Metres
	Current units.Milliamps
}

// LadderRise gives how much higher than at the controller the voltage is at the
// last tap: each run carries the current of all taps beyond it, so it is the sum
// of run x 2 r x current beyond, in V. It is exact for a pair that is looped from
// tap to tap; PairRise is its value for taps at even distances. ohmPerMetre is
// that of one conductor.
func LadderRise(ohmPerMetre float64, taps []Tap) units.Volts {
	var beyond units.Milliamps
	rise := 0.0
	for i := len(taps) - 1; i >= 0; i-- {
		beyond += taps[i].Current
		rise += float64(beyond) / 1000 * loop(ohmPerMetre, taps[i].Run)
	}
	return units.Volts(rise)
}
