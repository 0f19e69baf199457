package electrical

import (
	"math"

	"scopewright/domain/units"
)

// ControlSpan is the part of a 0-10 V signal that dims: from 1 V, lowest, to
// 10 V, full (IEC 60929 Annex E, from memory).
const ControlSpan units.Volts = 9

// DriversPerOutput gives how many drivers of a control current one output
// sinks: floor(sink / each). Zero current of a driver gives 0: it is not known.
// Exact quotients count whole in spite of floating point.
func DriversPerOutput(sink, each units.Milliamps) int {
	if each <= 0 || sink <= 0 {
		return 0
	}
	return int(math.Floor(float64(sink/each) * (1 + units.Tolerance)))
}

// PairRise gives how much higher than at the controller the voltage of a
// 0-10 V pair is at its far end. Drivers feed current into the pair, so V + I R:
// far drivers are brighter at low levels. drivers 0 puts the whole current at
// the end, I 2 r L; otherwise that many sit evenly spaced along the run, the
// last at its end: x (N + 1)/(2 N).
func PairRise(current units.Milliamps, ohmPerMetre float64, length units.Metres, drivers int) units.Volts {
	end := float64(current) / 1000 * loop(ohmPerMetre, length)
	if drivers > 0 {
		end *= float64(drivers+1) / float64(2*drivers)
	}
	return units.Volts(end)
}

// RiseShare gives a rise as percent of the control span.
func RiseShare(rise units.Volts) float64 { return 100 * float64(rise/ControlSpan) }

// LongestRun gives the length of pair at which the rise reaches a limit: the
// inverse of PairRise. No current or no resistance has no limit: +Inf.
func LongestRun(limit units.Volts, current units.Milliamps, ohmPerMetre float64, drivers int) units.Metres {
	one := PairRise(current, ohmPerMetre, 1, drivers)
	if one <= 0 {
		return units.Metres(math.Inf(1))
	}
	return units.Metres(limit / one)
}

// LevelAt gives the level in percent that a driver shows at a control voltage:
// lowest + (V - 1)/9 (100 - lowest), held between lowest and 100. The dim curve
// is assumed linear; a logarithmic driver errs differently.
func LevelAt(v units.Volts, lowest units.Level) units.Level {
	level := lowest + units.Level(float64(v-1)/float64(ControlSpan))*(100-lowest)
	return max(lowest, min(100, level))
}

// ControlAt gives the voltage that asks for a level, the inverse of LevelAt.
func ControlAt(level, lowest units.Level) units.Volts {
	if lowest >= 100 {
		return 10
	}
	return 1 + ControlSpan*units.Volts((level-lowest)/(100-lowest))
}
