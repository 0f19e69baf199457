package energycode

import (
	"fmt"

	"scopewright/domain/units"
)

// density holds the room's lighting power to what the code allows its kind of space.
// The space method compares sums over the building, so that a room over its own
// value is decided by the building's.
func (j *judge) density() Answer {
	a := Answer{Control: PowerDensity, Title: PowerDensity.Title(), Duty: Required, Claim: j.claim(PowerDensity), brief: j.brief}
	d := j.p.Density(j.space)
	if d == nil {
		a.Required = "a lighting power density of this kind of space"
		a.miss("the power density that the code allows: the pack gives none")
		a.Open = true
		a.settle()
		return a
	}
	a.rest(d.Basis)
	if !j.brief {
		a.need("at most %s, summed over all rooms by the space method", densityWords(d.WattsFt2, j.f.Units))
	}
	j.densityKeeps(&a, d)
	a.settle()
	return a
}

func (j *judge) densityKeeps(a *Answer, d *Density) {
	ft2, known := j.roomArea(a)
	w, watts := j.f.installed()
	if !watts || len(j.f.Loads) == 0 {
		a.miss("the watts of all lighting")
	}
	if known && watts && len(j.f.Loads) > 0 {
		j.densityOf(a, w, ft2, d)
	}
}

func (j *judge) densityOf(a *Answer, w, ft2 float64, d *Density) {
	q := Parameter{Sign: AtMost, Value: d.WattsFt2, Unit: "W/ft2"}
	if !a.brief {
		a.has("%s, %s", wattWords(w), densityWords(w/ft2, j.f.Units))
	}
	if a.hold("lighting power density", w/ft2, &q) {
		return
	}
	over := wattWords(w - d.WattsFt2*ft2)
	switch b := j.f.Building; {
	case b == nil:
		a.beside("%s over this room's own value: it has %s, limit %s.", over, densityWords(w/ft2, j.f.Units), densityWords(d.WattsFt2, j.f.Units))
		a.miss("whether other rooms make up for it, by the building's sum")
	case AtMost.Keeps(float64(b.Installed), float64(b.Allowed)):
		a.beside("%s over this room's own value. Other rooms make up for it: %s of %s in the building.", over, wattWords(float64(b.Installed)), wattWords(float64(b.Allowed)))
		if b.Unknown > 0 {
			a.miss("area, kind of space or watts of %d other rooms", b.Unknown)
		}
	default:
		a.fault("%s over its own value, and the building is over its sum: %s, allowed %s. Use fewer watts here or elsewhere.", over, wattWords(float64(b.Installed)), wattWords(float64(b.Allowed)))
	}
}

func (a *Answer) beside(format string, args ...any) {
	if !a.brief {
		a.Beside = fmt.Sprintf(format, args...)
	}
}

// demandOfRoom tells what demand response does in the room; whether the code asks for
// it, and whether it is enough, is judged over the building.
func demandOfRoom(j *judge, _ *Requirement, a *Answer) {
	a.need("judged over the whole building")
	some := false
	for i := range j.f.Loads {
		if e := j.f.Loads[i].Event; e != nil {
			some = true
			a.hasOf(j.f.Loads[i].Tag, "capped at "+units.Percent(e.Cap)+" by "+e.By)
		}
	}
	a.gather()
	if !some {
		a.has("no load answers")
	}
	a.skip("see the building's answer")
}
