package energycode

import (
	"slices"

	code "scopewright/domain/energycode"
)

// excepted gives what codes except from checks on some controls, in our own words with
// the clause: words to begin a waiver's reason with. Whether it holds here is for the
// adopted text and the authority to say.
func excepted(controls ...code.Control) []string {
	var out []string
	for i := range exceptions {
		if slices.ContainsFunc(exceptions[i].from, func(c code.Control) bool { return slices.Contains(controls, c) }) {
			out = append(out, exceptions[i].words)
		}
	}
	return out
}

// exceptions are those that codes name, each with the code, the clause and how it is
// known. Seen in public summaries of the codes' text, or from memory; confirm against
// the adopted text.
var exceptions = []struct {
	words string
	from  []code.Control
}{
	{"Patient care is given here (ASHRAE 90.1-2022, 9.4.1.1(h); Washington 2021, C405.2.2: seen)", []code.Control{code.FullOff, code.ScheduledShutoff, code.ShutoffAny}},
	{"Continuous operation, 24 hours on 7 days (ASHRAE 90.1-2022, 9.4.1.1(h); Washington 2021, C405.2.2: seen)", []code.Control{code.FullOff, code.ScheduledShutoff, code.ShutoffAny, code.SmallZones}},
	{"Turning the light off by itself would endanger safety or security (ASHRAE 90.1-2022, 9.4.1.1(h); Washington 2021, C405.2.2: seen)", []code.Control{code.FullOff, code.ScheduledShutoff, code.ShutoffAny, code.PartialOff, code.SmallZones, code.ParkingGarage}},
	{"Security or emergency area that must be lit at all times (IECC 2021, C405.2: seen)", []code.Control{code.LocalControl, code.FullOff, code.ScheduledShutoff, code.PartialOff, code.LightReduction, code.ManualOn}},
	{"Interior exit stair, ramp or passageway (IECC 2021, C405.2: seen)", []code.Control{code.LocalControl, code.FullOff, code.ScheduledShutoff, code.PartialOff, code.LightReduction, code.ManualOn}},
	{"Emergency egress lighting that is normally off (IECC 2021, C405.2: seen)", []code.Control{code.LocalControl, code.FullOff, code.ScheduledShutoff, code.PartialOff}},
	{"Light on the way out within the building's allowance of 0.02 W/ft2 (ASHRAE 90.1-2022, 9.4.1.1(h): seen)", []code.Control{code.FullOff, code.ScheduledShutoff}},
	{"Shop or laboratory classroom (Washington 2021, C405.2.2: seen)", []code.Control{code.ScheduledShutoff}},
	{"Lighting on by hand would endanger people who enter (IECC 2021, C405.2.1.1: seen)", []code.Control{code.ManualOn}},
	{"Corridor, stair, restroom, locker room, lobby or library stacks, which may come on in full (IECC 2021, C405.2.1.1: seen)", []code.Control{code.ManualOn}},
	{"Control in a place closed to the public, with pilot light and label, for safety or security (District of Columbia 2017, 9.4.1.1(a): seen)", []code.Control{code.LocalControl}},
	{"Neighbouring structures shade the windows (ASHRAE 90.1, 9.4.1.1(e): from memory)", []code.Control{code.DaylightSide}},
	{"Windows with less than 20 ft2 of glazing in all (ASHRAE 90.1-2019, 9.4.1.1(e): seen)", []code.Control{code.DaylightSide}},
	{"Sun on the rooflights is blocked for more than 1,500 daytime hours a year (ASHRAE 90.1-2019, 9.4.1.1(f): from memory)", []code.Control{code.DaylightTop}},
	{"Receptacles for equipment in continuous operation, or where switching them would endanger safety or security (District of Columbia 2017, 8.4.2: seen)", []code.Control{code.Receptacles}},
}
