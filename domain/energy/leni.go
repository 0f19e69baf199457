package energy

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/units"
)

// HoursPerYear is the year that standby is reckoned over.
const HoursPerYear = domain.HoursPerYear

// Edition names the text that a result stands on.
const Edition = "EN 15193:2007, from memory, to be confirmed"

// Zone is a room, or a part of one, as LENI sees it.
type Zone struct {
	Area    units.SquareMetres
	Power   units.Watts // all luminaires at full, drivers included
	Day     float64     // hours of use with daylight, a year
	Night   float64     // hours of use without
	Held    float64     // F_C, constant illuminance: HeldFactor; 1 without
	People  float64     // F_O, occupancy: OccupancyFactor
	Sky     float64     // F_D, daylight: DaylightFactor; 1 without
	Standby units.Watts // of controls and drivers while the lamps are off
	Charge  units.Watts // of emergency luminaires
	Charged float64     // hours of charging, a year
}

// Use is what a zone uses in a year.
type Use struct {
	Lamps   float64 // kWh
	Standby float64 // kWh
	LENI    float64 // kWh/(m2 year), of both
}

// Total is lamps and standby, kWh a year.
func (u Use) Total() float64 { return u.Lamps + u.Standby }

// Use reckons LENI of the zone:
//
//	W_L = Pn F_C F_O (t_D F_D + t_N)/1000
//	W_P = (P_pc (8760 - t_D - t_N) + P_em t_e)/1000
//	LENI = (W_L + W_P)/A
//
// It refuses an area of 0, powers and hours below 0, more hours of use than a
// year has, and factors outside of 0 to 1. Source: the frame of EN 15193 as
// public summaries give it; W_P from memory.
func (z Zone) Use() (Use, error) {
	switch {
	case !(z.Area > 0):
		return Use{}, fmt.Errorf("the floor area is not stated")
	case !(z.Power >= 0 && z.Standby >= 0 && z.Charge >= 0):
		return Use{}, fmt.Errorf("watts go from 0 up")
	case !(z.Day >= 0 && z.Night >= 0 && z.Charged >= 0 && z.Charged <= HoursPerYear):
		return Use{}, fmt.Errorf("hours a year go from 0 to %d", HoursPerYear)
	case z.Day+z.Night > HoursPerYear:
		return Use{}, fmt.Errorf("%s hours of use are more than a year has", units.Trim(z.Day+z.Night, 0))
	}
	for _, f := range []float64{z.Held, z.People, z.Sky} {
		if !(f >= 0 && f <= 1) {
			return Use{}, fmt.Errorf("factors go from 0 to 1")
		}
	}
	u := Use{
		Lamps:   z.lamps(),
		Standby: (float64(z.Standby)*(HoursPerYear-z.Day-z.Night) + float64(z.Charge)*z.Charged) / 1000,
	}
	u.LENI = u.Total() / float64(z.Area)
	return u, nil
}

// lamps is W_L, kWh a year.
func (z Zone) lamps() float64 {
	return float64(z.Power) * z.Held * z.People * (z.Day*z.Sky + z.Night) / 1000
}

// HeldFactor is F_C of constant-illuminance control over the maintenance cycle:
// 1 - share (1 - MF)/2, with the maintenance factor MF and the share of the
// zone so controlled, both 0 to 1. From memory of EN 15193-1:2017; at a share
// of 1 it is the (1 + MF)/2 of 2007.
func HeldFactor(maintenance, share float64) float64 { return 1 - share*(1-maintenance)/2 }

// OccupancyFactor is F_O of a control with the factor F_OC in a zone that is
// empty for a share F_A of the hours of use:
//
//	1 - (1 - F_OC) F_A/0.2        F_A below 0.2
//	F_OC + 0.2 - F_A              below 0.9
//	(7 - 10 F_OC)(F_A - 1)        to 1
//
// F_A goes from 0 to 1, F_OC from 0.7 to 1; outside it is NaN. From memory of
// EN 15193:2007; the pieces meet at 0.2 and 0.9.
func OccupancyFactor(control, absence float64) float64 {
	switch {
	case !(absence >= 0 && absence <= 1 && control >= 0.7 && control <= 1):
		return math.NaN()
	case absence < 0.2:
		return 1 - (1-control)*absence/0.2
	case absence < 0.9:
		return control + 0.2 - absence
	}
	return (7 - 10*control) * (absence - 1)
}

// MostServed is the floor that one sensor or switch may serve for less than
// F_O = 1, meeting rooms excepted, m2. From memory of EN 15193:2007.
const MostServed units.SquareMetres = 30
