package daylight

import (
	"fmt"
	"math"

	"scopewright/domain/units"
)

// OpenLoop is a daylight control that sees outdoors only:
//
//	level = Night - Slope S, clamped to Least .. 1
//
// S is the sensor's reading of daylight, levels are shares of the lamps' full light.
type OpenLoop struct {
	Night float64 // level without daylight
	Slope float64 // per lx of reading
	Least float64 // level
}

// CalibrateOpen finds an open loop's line from two points. At night the lamps alone
// give full at the task, so that a = Eset/Efull; by day the sensor reads S1 while
// daylight alone gives the task E1, so that the level wanted is
// L1 = (Eset - E1)/Efull and b = (a - L1)/S1. Refused where the numbers cannot come
// from a sound calibration. Both points hold exactly; between them the line is only
// as good as the ratio of task to sensor is the same for every sky.
func CalibrateOpen(set, full, reading, task units.Lux, least float64) (OpenLoop, error) {
	switch {
	case !(set > 0) || !(full > 0):
		return OpenLoop{}, fmt.Errorf("the target and what the lamps give at full must be above 0 lx: measure the task at night with the lamps at full")
	case full < set:
		return OpenLoop{}, fmt.Errorf("the lamps give %s lx at full and the target is %s lx: they cannot reach it at night", lx(full), lx(set))
	case !(reading > 0):
		return OpenLoop{}, fmt.Errorf("the sensor reads no daylight: calibrate by day, with the sensor in view of the window")
	case !(task > 0):
		return OpenLoop{}, fmt.Errorf("the task gets no daylight: measure it by day with the lamps off")
	case task >= set*2:
		return OpenLoop{}, fmt.Errorf("daylight gives the task %s lx, twice the target or more, as a patch of sun does: calibrate under an even sky", lx(task))
	}
	a := float64(set / full)
	wanted := float64((set - task) / full)
	return OpenLoop{Night: a, Slope: (a - wanted) / float64(reading), Least: least}, nil
}

func lx(e units.Lux) string { return units.Trim(float64(e), 1) }

// Level gives the level for a reading.
func (o *OpenLoop) Level(reading units.Lux) float64 {
	return max(o.Least, min(1, o.Night-o.Slope*float64(reading)))
}

// ReadingAt gives the reading at which the line comes down to a level, unclamped.
func (o *OpenLoop) ReadingAt(level float64) units.Lux {
	return units.Lux((o.Night - level) / o.Slope)
}

// ClosedLoop is a daylight control that sees the task, its lamps and daylight
// together: level = 1 + Gain (S - Night), clamped to Least .. 1. Proportional
// control with a sliding set-point; 1 is the level that gives the target at night.
type ClosedLoop struct {
	Night units.Lux // reading at night with the lamps at the target
	Gain  float64   // per lx, below 0
	Least float64   // level
}

// CalibrateClosed finds a closed loop's gain. At night with the lamps at the target
// the sensor reads Sn; by day its daylight part is S1d while daylight alone gives
// the task E1 of the target Eset:
//
//	M = -(E1/Eset)/(S1d + (1 - E1/Eset) Sn - Sn)
//
// The day point holds exactly, and every other sky that keeps its ratio of task to
// sensor. Refused where the sensor sees relatively so little daylight that no gain
// is stable. Source: the usual arithmetic of proportional control; that it needs
// both a night and a day calibration: Energies 14(21) 7056, 2021.
func CalibrateClosed(night, set, dayReading, task units.Lux, least float64) (ClosedLoop, error) {
	share := float64(task / set)
	switch {
	case !(set > 0) || !(night > 0):
		return ClosedLoop{}, fmt.Errorf("the target and the sensor's reading at night must be above 0: calibrate at night with the lamps at the target")
	case !(dayReading > 0) || !(task > 0):
		return ClosedLoop{}, fmt.Errorf("a day calibration needs daylight at the sensor and at the task: measure both by day")
	case share >= 1:
		return ClosedLoop{}, fmt.Errorf("daylight alone gives the task %s lx of %s lx: calibrate when it gives less than the target", lx(task), lx(set))
	}
	rise := float64(dayReading) + (1-share)*float64(night) - float64(night)
	if rise <= 0 {
		return ClosedLoop{}, fmt.Errorf("by day the sensor reads no more than at night: place it where it sees more of the daylight that the task gets")
	}
	return ClosedLoop{Night: night, Gain: -share / rise, Least: least}, nil
}

// Level gives the level that the loop settles at for a daylight part of the
// reading: L = (1 + M (Sd - Sn))/(1 - M Sn).
func (c *ClosedLoop) Level(dayReading units.Lux) float64 {
	l := (1 + c.Gain*float64(dayReading-c.Night)) / (1 - c.Gain*float64(c.Night))
	return max(c.Least, min(1, l))
}

// ResetLevel gives the level at which integral reset control settles, which holds
// the sensor's reading at that of night: L = (Sn - Sd)/Sn, not under least. Its
// known fault: a ceiling sees relatively more daylight than the desk, which then
// stays too dark.
func ResetLevel(night, dayReading units.Lux, least float64) float64 {
	if night <= 0 {
		return 1
	}
	return max(least, min(1, float64((night-dayReading)/night)))
}

// TaskLight gives what the task gets: level of the target from the lamps, and
// daylight.
func TaskLight(set units.Lux, level float64, day units.Lux) units.Lux {
	return set*units.Lux(level) + day
}

// SwitchBand gives the daylight between which switched lamps come on and go off:
// on below the target, off above the target, what the lamps add as the sensor sees
// it, and a band. A narrower band makes them hunt. Common practice, no published
// source.
func SwitchBand(set, added, band units.Lux) (on, off units.Lux) { return set, set + added + band }

// Hunts tells that lamps switched at these readings turn themselves on and off:
// the reading falls under on as they go off.
func Hunts(on, off, added units.Lux) bool { return off-added <= on }

// Holds tells that a change of level is small enough to be left alone: under the
// dead band, a share of full such as 0.05. Common practice, no published source.
func Holds(was, wanted, band float64) bool { return math.Abs(wanted-was) < band-units.Tolerance }

// FadeTime gives how long a change of level takes at a speed in shares of full a
// second; 0 where no speed is set.
func FadeTime(from, to, perSecond float64) units.Seconds {
	if perSecond <= 0 {
		return 0
	}
	return units.Seconds(math.Abs(to-from) / perSecond)
}

// ChangesPerMinute gives the most level changes a minute that reports at an
// interval cause.
func ChangesPerMinute(interval units.Seconds) float64 {
	if interval <= 0 {
		return math.Inf(1)
	}
	return 60 / float64(interval)
}
