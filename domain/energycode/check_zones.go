package energycode

import (
	"strings"

	"scopewright/domain/units"
)

// SmallZonesNeeded gives the least number of control zones of a large office,
// N = ceil(area/zone), and whether the rule applies to a space of the area.
func (p *Pack) SmallZonesNeeded(area units.SquareMetres) (n int, applies bool) {
	over, most := p.Parameter(SmallZones, "applies_over"), p.Parameter(SmallZones, "zone_area")
	if over == nil || most == nil || !over.Sign.Keeps(squareFeet(area), over.Value) {
		return 0, false
	}
	return howMany(squareFeet(area), most.Value), true
}

// smallZones asks that a large office is cut into zones that fall by themselves when
// they are empty.
func smallZones(j *judge, _ *Requirement, a *Answer) {
	over, most := j.parameter(a, SmallZones, "applies_over"), j.parameter(a, SmallZones, "zone_area")
	reduction, delay := j.parameter(a, SmallZones, "reduction"), j.parameter(a, SmallZones, "delay")
	if over == nil || most == nil || reduction == nil || delay == nil {
		return
	}
	a.need("in offices of %s %s: zones of %s %s, each of which falls by %s %s %% within %s min of being empty", over.Sign, areaWords(over.Value, j.f.Units), most.Sign,
		areaWords(most.Value, j.f.Units), reduction.Sign, units.Trim(reduction.Value, 1), units.Trim(delay.Value, 1))
	ft2, known := j.roomArea(a)
	if !known {
		return
	}
	if !a.hold("area", ft2, over) {
		a.skip("%s", areaWords(ft2, j.f.Units))
		return
	}
	j.zones(a, howMany(ft2, most.Value), most)
	j.zonesFall(a, reduction, delay)
}

// zones holds the number and the size of the zones to the code's.
func (j *judge) zones(a *Answer, needed int, most *Parameter) {
	zones := j.f.presenceZones()
	a.need("%s here", many(needed, "zone"))
	a.has("%s under sensors of their own", many(len(zones), "zone"))
	count := Parameter{Sign: AtLeast, Value: float64(needed)}
	if !a.hold("zones", float64(len(zones)), &count) {
		a.fault("%s under sensors of their own, %d needed: split the loads, each part with its sensors.", many(len(zones), "zone"), needed)
	}
	for i := range zones {
		z := &zones[i]
		switch name := tagWords(z.sensors); {
		case z.ft2 <= 0:
			a.miss("the part of the room under %s: state the watts of its loads", name)
		case !a.hold("area under "+name, z.ft2, most):
			a.fault("The zone under %s has %s, limit %s: %s over.", name, areaWords(z.ft2, j.f.Units), areaWords(most.Value, j.f.Units), areaWords(z.ft2-most.Value, j.f.Units))
		}
	}
}

// zonesFall holds what each load does when its zone is empty to the reduction.
func (j *judge) zonesFall(a *Answer, reduction, delay *Parameter) {
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		if !l.General() {
			continue
		}
		e := emptiedWithin(l, delay)
		switch {
		case a.hold("reduction of "+l.Tag, 100*(1-e.level), reduction):
		case e.doubt != "":
			a.miss("%s", e.doubt)
		default:
			a.faultLit(l, &e, delay)
		}
	}
}

// guestRoom asks that lighting and controlled receptacles go off when guests have
// left.
func guestRoom(j *judge, _ *Requirement, a *Answer) {
	delay := j.parameter(a, GuestRoom, "delay")
	if delay == nil {
		return
	}
	a.need("fixed lighting and controlled receptacles go off within %s min of the guests' leaving", units.Trim(delay.Value, 1))
	j.darkWithin(a, delay)
	j.outletsOff(a, delay)
	a.outside("the bathroom's own delay: see the clause")
}

// parkingGarage asks that lighting falls zone by zone when nobody moves.
func parkingGarage(j *judge, _ *Requirement, a *Answer) {
	reduction, delay, most := j.parameter(a, ParkingGarage, "reduction"), j.parameter(a, ParkingGarage, "delay"), j.parameter(a, ParkingGarage, "zone_area")
	if reduction == nil || delay == nil || most == nil {
		return
	}
	a.need("lighting falls by %s %s %% within %s min, in zones of %s %s", reduction.Sign, units.Trim(reduction.Value, 1), units.Trim(delay.Value, 1), most.Sign, areaWords(most.Value, j.f.Units))
	ft2, known := j.roomArea(a)
	j.reduced(a, reduction, delay, true)
	if known {
		j.zones(a, howMany(ft2, most.Value), most)
	}
}

// shutoffAny asks for off by sensor or by schedule.
func shutoffAny(j *judge, r *Requirement, a *Answer) {
	var faults, need, has []string
	var missing []string
	for _, c := range []Control{FullOff, ScheduledShutoff} {
		row := *r
		row.Control, row.Also = c, ""
		b := j.plain(&row)
		a.Outside, a.open = a.Outside+b.Outside, a.open+b.open
		a.Open = a.Open || b.Verdict == CannotTell && b.Open
		a.concern(&b)
		for _, x := range b.Basis {
			a.rest(x)
		}
		need, has = append(need, b.Required), append(has, b.Provided)
		faults, missing = append(faults, b.Faults...), append(missing, b.Missing...)
		if b.Caution != "" {
			a.Caution = b.Caution
		}
		switch b.Verdict {
		case Meets:
			a.Verdict, a.Figures, has = Meets, b.Figures, []string{b.Provided}
		case CannotTell:
			if a.Verdict != Meets {
				a.Verdict = CannotTell
			}
		}
		if a.Verdict == Meets {
			break
		}
	}
	a.need("either: %s", strings.Join(need, " | or: "))
	a.has("%s", strings.Join(nonEmpty(has), " | "))
	if a.Verdict != Meets {
		a.Faults, a.Missing = faults, missing
	} else {
		a.Open, a.Outside, a.open = false, 0, 0
	}
}

func nonEmpty(list []string) []string {
	var out []string
	for _, s := range list {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}
