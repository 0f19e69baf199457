package energycode

import "slices"

// Control is a kind of control that a code may ask for. The set is closed.
type Control string

// The kinds, in the order in which tables print them.
const (
	LocalControl     Control = "local_control"
	ManualOn         Control = "manual_on"
	PartialAutoOn    Control = "partial_auto_on"
	Bilevel          Control = "bilevel"
	LightReduction   Control = "light_reduction"
	Multilevel       Control = "multilevel"
	DaylightSide     Control = "daylight_side"
	DaylightTop      Control = "daylight_top"
	SmallZones       Control = "small_zones"
	PartialOff       Control = "partial_off"
	FullOff          Control = "full_off"
	ScheduledShutoff Control = "scheduled_shutoff"
	ShutoffAny       Control = "shutoff_any"
	Receptacles      Control = "receptacles"
	SeparateControl  Control = "separate_control"
	DemandResponse   Control = "demand_response"
	GuestRoom        Control = "guest_room"
	ParkingGarage    Control = "parking_garage"
	EgressShare      Control = "egress_share"
	PowerDensity     Control = "power_density"
	FunctionalTest   Control = "functional_test"
	LuminaireLevel   Control = "lllc_path" // luminaires with sensors of their own
)

// Controls lists the kinds in the order of printing.
func Controls() []Control {
	return []Control{LocalControl, ManualOn, PartialAutoOn, Bilevel, LightReduction, Multilevel, DaylightSide, DaylightTop, SmallZones,
		PartialOff, FullOff, ScheduledShutoff, ShutoffAny, Receptacles, SeparateControl, DemandResponse, GuestRoom, ParkingGarage,
		EgressShare, PowerDensity, FunctionalTest, LuminaireLevel}
}

var controlTitles = map[Control]string{
	LocalControl: "Local control by hand", ManualOn: "On by hand only", PartialAutoOn: "Automatic on to part of full", Bilevel: "A level between off and full",
	LightReduction: "Reduction by hand", Multilevel: "Several levels by hand", DaylightSide: "Daylight response, windows", DaylightTop: "Daylight response, rooflights",
	SmallZones: "Small zones in a large office", PartialOff: "Automatic reduction when empty", FullOff: "Automatic off when empty",
	ScheduledShutoff: "Off by schedule", ShutoffAny: "Off by sensor or schedule", Receptacles: "Controlled receptacles", SeparateControl: "Display and task lighting apart",
	DemandResponse: "Demand response", GuestRoom: "Guest room", ParkingGarage: "Parking garage", EgressShare: "Light that may stay on",
	PowerDensity: "Lighting power density", FunctionalTest: "Functional tests", LuminaireLevel: "Sensors in luminaires",
}

// Title names the kind on screens and paper.
func (c Control) Title() string {
	if t := controlTitles[c]; t != "" {
		return t
	}
	return string(c)
}

// Known tells that the kind is one of the set.
func (c Control) Known() bool { return controlTitles[c] != "" }

// controlsOfRooms are the kinds that a space's row may ask for.
var controlsOfRooms = Controls()[:slices.Index(Controls(), EgressShare)]

// Duty is what a code's table says of a control in a kind of space.
type Duty string

// The duties. OneOfA and OneOfB ask for at least one of their group; a blank in the
// data is Unknown.
const (
	Required  Duty = "R"
	OneOfA    Duty = "A"
	OneOfB    Duty = "B"
	NotListed Duty = "none"
	Unknown   Duty = "unknown"
)

// Duties lists them.
func Duties() []Duty { return []Duty{Required, OneOfA, OneOfB, NotListed, Unknown} }

// Words says the duty in a table.
func (d Duty) Words() string {
	switch d {
	case Required:
		return "required"
	case OneOfA, OneOfB:
		return "one of a group"
	case NotListed:
		return "not asked"
	case Unknown:
		return "blank in the data: unknown"
	}
	return string(d)
}

// Verdict is an answer.
type Verdict string

// The three answers, and NotAsked, which is none: the check does not apply.
const (
	Meets       Verdict = "meets this check"
	DoesNotMeet Verdict = "does not meet this check"
	CannotTell  Verdict = "cannot tell"
	NotAsked    Verdict = "not asked"
)
