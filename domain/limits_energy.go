package domain

// Factors of the energy that lighting uses.
const (
	StandbyDriver LimitID = "standby-of-a-driver"
	StandbyDevice LimitID = "standby-of-a-control-device"
	ChargePower   LimitID = "emergency-charging-power"
	ChargeHours   LimitID = "emergency-charging-hours"
	ConstantMF    LimitID = "constant-illuminance-mf"
	LeftOn        LimitID = "evenings-left-on"
	LeftOnDays    LimitID = "weekend-days-left-on"

	// Occupancy factor of each control.
	OccupancyManual       LimitID = "foc-manual"
	OccupancySweep        LimitID = "foc-manual-sweep"
	OccupancyAutoDimmed   LimitID = "foc-auto-on-dimmed"
	OccupancyAuto         LimitID = "foc-auto-on-off"
	OccupancyManualDimmed LimitID = "foc-manual-on-dimmed"
	OccupancyManualAuto   LimitID = "foc-manual-on-auto-off"

	// What control takes of what the sky supplies.
	TakenManualWeak   LimitID = "fdc-manual-weak"
	TakenManualMedium LimitID = "fdc-manual-medium"
	TakenManualStrong LimitID = "fdc-manual-strong"
	TakenAutoWeak     LimitID = "fdc-automatic-weak"
	TakenAutoMedium   LimitID = "fdc-automatic-medium"
	TakenAutoStrong   LimitID = "fdc-automatic-strong"

	// What the sky supplies: at the equator, less the fall times the latitude.
	Supply300Weak   LimitID = "fds-300-weak"
	Supply300Medium LimitID = "fds-300-medium"
	Supply300Strong LimitID = "fds-300-strong"
	Supply500Weak   LimitID = "fds-500-weak"
	Supply500Medium LimitID = "fds-500-medium"
	Supply500Strong LimitID = "fds-500-strong"
	Supply750Weak   LimitID = "fds-750-weak"
	Supply750Medium LimitID = "fds-750-medium"
	Supply750Strong LimitID = "fds-750-strong"

	fallOf = "-fall"
)

// SupplyFall names the limit that says how much a supply falls with each degree
// of latitude.
func SupplyFall(supply LimitID) LimitID { return supply + fallOf }

const (
	recalled2007 = "EN 15193:2007, from memory, to be confirmed"
	doubtfulPair = "EN 15193:2007, from memory; 300 lx weak and 500 lx medium are one pair as recalled: confirm it first"
)

var energyLimits = Limits{
	{StandbyDriver, "Power that a driver keeps while its lamps are off", 0.4, "W", "0.3 to 0.5 W, common practice, no published source"},
	{StandbyDevice, "Power that a mains-powered control device keeps always", 0.5, "W", "0.3 to 1 W, common practice, no published source"},
	{ChargePower, "Charging power of each luminaire of an egress load", 0, "W", "a value to state: 0 where luminaires have no batteries of their own"},
	{ChargeHours, "Hours of a year in which egress luminaires charge", 8760, "h", "always on charge, the safe side; a value to state"},
	{ConstantMF, "Maintenance factor of constant-illuminance control (0: there is none)", 0, "", "a value to state where lamps are held at a constant illuminance; F_C = (1 + MF)/2, EN 15193:2007, from memory"},
	{LeftOn, "Evenings on which light that people switch is left on", 10, "%", "a value to choose; common practice, no published source"},
	{LeftOnDays, "Weekend days on which light that people switch is left on", 5, "%", "a value to choose; common practice, no published source"},

	{OccupancyManual, "F_OC: manual on, manual off", 1, "", recalled2007},
	{OccupancySweep, "F_OC: manual on and off, with a sweep that turns off", 0.95, "", recalled2007},
	{OccupancyAutoDimmed, "F_OC: automatic on, dimmed when vacant", 0.95, "", recalled2007},
	{OccupancyAuto, "F_OC: automatic on, automatic off", 0.9, "", recalled2007},
	{OccupancyManualDimmed, "F_OC: manual or partial on, dimmed when vacant", 0.9, "", recalled2007},
	{OccupancyManualAuto, "F_OC: manual or partial on, automatic off", 0.8, "", recalled2007},

	{TakenManualWeak, "F_D,C: manual control, weak daylight", 0.2, "", recalled2007},
	{TakenManualMedium, "F_D,C: manual control, medium daylight", 0.3, "", recalled2007},
	{TakenManualStrong, "F_D,C: manual control, strong daylight", 0.4, "", recalled2007},
	{TakenAutoWeak, "F_D,C: dimmed by daylight, weak daylight", 0.75, "", recalled2007},
	{TakenAutoMedium, "F_D,C: dimmed by daylight, medium daylight", 0.77, "", recalled2007},
	{TakenAutoStrong, "F_D,C: dimmed by daylight, strong daylight", 0.85, "", recalled2007},

	{Supply300Weak, "F_D,S at 300 lx, weak daylight: a", 1.2425, "", doubtfulPair},
	{Supply300Weak + fallOf, "F_D,S at 300 lx, weak daylight: fall with each degree of latitude", 0.0117, "", doubtfulPair},
	{Supply300Medium, "F_D,S at 300 lx, medium daylight: a", 1.3097, "", recalled2007},
	{Supply300Medium + fallOf, "F_D,S at 300 lx, medium daylight: fall with each degree of latitude", 0.0106, "", recalled2007},
	{Supply300Strong, "F_D,S at 300 lx, strong daylight: a", 1.2904, "", recalled2007},
	{Supply300Strong + fallOf, "F_D,S at 300 lx, strong daylight: fall with each degree of latitude", 0.0088, "", recalled2007},
	{Supply500Weak, "F_D,S at 500 lx, weak daylight: a", 0.9432, "", recalled2007},
	{Supply500Weak + fallOf, "F_D,S at 500 lx, weak daylight: fall with each degree of latitude", 0.0094, "", recalled2007},
	{Supply500Medium, "F_D,S at 500 lx, medium daylight: a", 1.2425, "", doubtfulPair},
	{Supply500Medium + fallOf, "F_D,S at 500 lx, medium daylight: fall with each degree of latitude", 0.0117, "", doubtfulPair},
	{Supply500Strong, "F_D,S at 500 lx, strong daylight: a", 1.322, "", recalled2007},
	{Supply500Strong + fallOf, "F_D,S at 500 lx, strong daylight: fall with each degree of latitude", 0.011, "", recalled2007},
	{Supply750Weak, "F_D,S at 750 lx, weak daylight: a", 0.6692, "", recalled2007},
	{Supply750Weak + fallOf, "F_D,S at 750 lx, weak daylight: fall with each degree of latitude", 0.0067, "", recalled2007},
	{Supply750Medium, "F_D,S at 750 lx, medium daylight: a", 1.0054, "", recalled2007},
	{Supply750Medium + fallOf, "F_D,S at 750 lx, medium daylight: fall with each degree of latitude", 0.0098, "", recalled2007},
	{Supply750Strong, "F_D,S at 750 lx, strong daylight: a", 1.2812, "", recalled2007},
	{Supply750Strong + fallOf, "F_D,S at 750 lx, strong daylight: fall with each degree of latitude", 0.0121, "", recalled2007},
}

// EnergyLimits lists the factors of energy use with their built-in values.
func EnergyLimits() Limits { return append(Limits(nil), energyLimits...) }

// energySpans are those of limits that the formulas hold for only within.
var energySpans = func() map[LimitID]span {
	out := map[LimitID]span{ChargeHours: {0, HoursPerYear}, ConstantMF: {0, 1}, LeftOn: {0, 100}, LeftOnDays: {0, 100}}
	for _, id := range []LimitID{OccupancyManual, OccupancySweep, OccupancyAutoDimmed, OccupancyAuto, OccupancyManualDimmed, OccupancyManualAuto} {
		out[id] = span{0.7, 1}
	}
	for _, id := range []LimitID{TakenManualWeak, TakenManualMedium, TakenManualStrong, TakenAutoWeak, TakenAutoMedium, TakenAutoStrong} {
		out[id] = span{0, 1}
	}
	for _, id := range []LimitID{Supply300Weak, Supply300Medium, Supply300Strong, Supply500Weak, Supply500Medium, Supply500Strong, Supply750Weak, Supply750Medium, Supply750Strong} {
		out[id], out[id+fallOf] = span{0, 2}, span{0, 0.1}
	}
	return out
}()

// HoursPerYear is the year that hours of use are part of.
const HoursPerYear = 8760
