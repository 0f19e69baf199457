package energy

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Control is how lamps come on and go off, by which F_OC goes.
type Control string

// The controls of EN 15193:2007, from memory.
const (
	ManualBoth      Control = "manual on, manual off"
	ManualSweep     Control = "manual on and off, with a sweep that turns off"
	AutoOnDimmed    Control = "automatic on, dimmed when vacant"
	AutoBoth        Control = "automatic on, automatic off"
	ManualOnDimmed  Control = "manual or partial on, dimmed when vacant"
	ManualOnAutoOff Control = "manual or partial on, automatic off"
)

var controlLimits = map[Control]domain.LimitID{
	ManualBoth: domain.OccupancyManual, ManualSweep: domain.OccupancySweep, AutoOnDimmed: domain.OccupancyAutoDimmed,
	AutoBoth: domain.OccupancyAuto, ManualOnDimmed: domain.OccupancyManualDimmed, ManualOnAutoOff: domain.OccupancyManualAuto,
}

// Factors are the numbers of the method as a project states them: its limits, else
// the built-in ones, each with its source.
type Factors struct{ limits domain.Limits }

// FactorsOf gives those of a project.
func FactorsOf(p *domain.Project) Factors { return Factors{p.Limits} }

// Occupancy gives F_OC of a control; 1 for an unknown one.
func (f Factors) Occupancy(c Control) float64 {
	id, known := controlLimits[c]
	if !known {
		return 1
	}
	return f.limits.Value(id)
}

// Taken is F_D,C: which part of what the sky supplies a control takes.
func (f Factors) Taken(p Penetration, automatic bool) float64 {
	manual := map[Penetration]domain.LimitID{Weak: domain.TakenManualWeak, Medium: domain.TakenManualMedium, Strong: domain.TakenManualStrong}
	if automatic {
		manual = map[Penetration]domain.LimitID{Weak: domain.TakenAutoWeak, Medium: domain.TakenAutoMedium, Strong: domain.TakenAutoStrong}
	}
	id, known := manual[p]
	if !known {
		return 0
	}
	return f.limits.Value(id)
}

// F_D,S by maintained illuminance and class.
var supply = map[int]map[Penetration]domain.LimitID{
	300: {Weak: domain.Supply300Weak, Medium: domain.Supply300Medium, Strong: domain.Supply300Strong},
	500: {Weak: domain.Supply500Weak, Medium: domain.Supply500Medium, Strong: domain.Supply500Strong},
	750: {Weak: domain.Supply750Weak, Medium: domain.Supply750Medium, Strong: domain.Supply750Strong},
}

// Latitudes between which the lines of F_D,S hold, degrees north.
const (
	SouthernLatitude = 38
	NorthernLatitude = 60
)

// Supply is F_D,S = a - fall x latitude for a latitude in degrees north, a
// maintained illuminance and a class, 0 to 1. Of 300, 500 and 750 lx the nearest is
// taken. Latitudes outside of 38 to 60 are refused: the lines are not extrapolated.
// From memory of EN 15193:2007.
func (f Factors) Supply(latitude float64, lx units.Lux, p Penetration) (float64, error) {
	if p == NoDaylight || p == "" {
		return 0, nil
	}
	if !(latitude >= SouthernLatitude && latitude <= NorthernLatitude) {
		return 0, fmt.Errorf("latitude %s is outside of %d to %d degrees north, for which the table holds", units.Trim(latitude, 1), SouthernLatitude, NorthernLatitude)
	}
	id, ok := supply[nearestRow(lx)][p]
	if !ok {
		return 0, fmt.Errorf("daylight class %q is not known", p)
	}
	return max(0, min(1, f.limits.Value(id)-f.limits.Value(domain.SupplyFall(id))*latitude)), nil
}

// nearestRow gives the row of F_D,S that is taken for a maintained illuminance.
func nearestRow(lx units.Lux) int {
	switch {
	case lx <= 400:
		return 300
	case lx <= 625:
		return 500
	}
	return 750
}
