package energycode

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain/units"
)

// emptied is the lowest that an empty room brings a load to in time.
type emptied struct {
	level float64 // 0 to 1; 1 where nothing acts in time
	step  *Vacancy
	late  *Vacancy // a lower level that comes too late, nil where none
	doubt string
}

// emptiedWithin gives what an empty room does to a load within a delay. What is held
// by something of higher rank, or holds only under a condition, does not count.
func emptiedWithin(l *Load, delay *Parameter) emptied {
	out := emptied{level: 1}
	for i := range l.Vacant {
		v := &l.Vacant[i]
		level := float64(v.Level) / 100
		switch {
		case level >= out.level:
		case v.Held != "":
		case v.Doubt != "":
			out.doubt = v.Doubt
		case delay != nil && !delay.Sign.Keeps(minutes(v.After), delay.Value):
			if out.late == nil || v.After < out.late.After {
				out.late = v
			}
		default:
			out.level, out.step = level, v
		}
	}
	if out.step != nil && out.late != nil && float64(out.late.Level)/100 >= out.level {
		out.late = nil
	}
	return out
}

func (v *Vacancy) words() string {
	goes := "off"
	if v.Level > 0 {
		goes = "to " + units.Percent(v.Level)
	}
	s := fmt.Sprintf("%s %s after the last person's leaving by %s", goes, units.Duration(v.After), v.By)
	if v.Held != "" {
		s += ", but not during " + v.Held
	}
	return s
}

// hasVacant says what an empty room does to a load.
func (a *Answer) hasVacant(l *Load) {
	if a.brief {
		return
	}
	for i := range l.Vacant {
		a.hasOf(l.Tag, l.Vacant[i].words())
	}
}

// VacantPower gives the most power, in W, that an empty room's lighting may draw:
// P = watts x (1 - reduction/100).
func VacantPower(watts units.Watts, reduction float64) units.Watts {
	return watts * units.Watts(1-reduction/100)
}

// partialOff asks that an empty room's general lighting falls by a share of its
// power within the delay.
func partialOff(j *judge, r *Requirement, a *Answer) {
	c := PartialOff
	if r.Each == "zone" {
		c = SmallZones
	}
	delay := j.parameter(a, c, "delay")
	reduction := Parameter{Sign: AtLeast, Value: r.Reduction, Unit: "%"}
	if r.Reduction == 0 {
		q := j.parameter(a, c, "reduction")
		if q == nil {
			return
		}
		reduction = *q
	}
	if delay == nil {
		a.need("general lighting falls by %s %s %% when the room is empty", reduction.Sign, units.Trim(reduction.Value, 1))
		return
	}
	a.need("general lighting falls by %s %s %% within %s min of the last person's leaving", reduction.Sign, units.Trim(reduction.Value, 1), units.Trim(delay.Value, 1))
	if q := j.option(a, PartialOff, "full_off_also_meets"); q != nil {
		a.need("off does as well")
	}
	j.reduced(a, &reduction, delay, r.Each == "zone")
	switch r.Each {
	case "zone":
		a.need("each zone by itself")
	case "aisle":
		a.need("each aisle by itself, its sensor seeing no other")
		a.outside("whether each aisle has a load and a sensor of its own, and no sensor sees another aisle: see the plan")
	case "500 W":
		j.zonePower(a)
	}
}

// reduced holds the power of an empty room, or of each load, to the reduction.
func (j *judge) reduced(a *Answer, reduction, delay *Parameter, each bool) {
	left, all, worst, known := 0.0, 0.0, 0.0, true
	var doubts []string
	short := Answer{brief: a.brief} // what is said of loads, should the sum fall short
	some := false
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		if !l.General() {
			continue
		}
		some = true
		e := emptiedWithin(l, delay)
		a.hasVacant(l)
		if !reduction.Sign.Keeps(100*(1-e.level), reduction.Value) {
			short.faultLit(l, &e, delay)
			if e.doubt != "" {
				doubts = append(doubts, e.doubt)
			}
		}
		worst = max(worst, e.level)
		left, all, known = left+e.level*float64(l.Watts), all+float64(l.Watts), known && l.WattsKnown
	}
	share := worst
	if !each && known && all > 0 {
		share = left / all
	}
	switch {
	case !some:
		a.miss("the general lighting of the room: it has none")
	case a.hold("reduction when empty", 100*(1-share), reduction):
	case !each && !known:
		a.miss("the watts of all general lighting")
	case len(doubts) > 0:
		for _, d := range doubts {
			a.miss("%s", d)
		}
	default:
		short.gather()
		a.concern(&short)
		a.fault("The empty room's general lighting falls by %s within %s min, at least %s %% asked. %s", percentWords(1-share), units.Trim(delay.Value, 1), units.Trim(reduction.Value, 1), strings.Join(short.Faults, " "))
	}
}

// faultLit says why a load is not dark, or not low, in time.
func (a *Answer) faultLit(l *Load, e *emptied, delay *Parameter) {
	if a.brief {
		a.Faults = unsaid
		return
	}
	a.faultOf(l, whyLit(l, e, delay))
}

// whyLit says why a load is not dark, or not low, in time, and what to do.
func whyLit(l *Load, e *emptied, delay *Parameter) string {
	if e.late != nil && delay != nil {
		return fmt.Sprintf("down only %s after the last person's leaving, limit %s min, %s over. Delay, warning and fade count together: shorten them (%s).",
			units.Duration(e.late.After), units.Trim(delay.Value, 1), units.Duration(e.late.After-units.Seconds(60*delay.Value)), e.late.By)
	}
	for i := range l.Vacant {
		if v := &l.Vacant[i]; v.Held != "" {
			return fmt.Sprintf("kept lit by %s, which ranks over presence. End it, or let presence rank higher.", v.Held)
		}
	}
	if e.step != nil {
		return fmt.Sprintf("left at %s (%s). Lower that level.", percentWords(e.level), e.step.By)
	}
	for i := range l.Vacant {
		if v := &l.Vacant[i]; v.Level > 0 {
			return fmt.Sprintf("left at %s (%s). Lower that level.", units.Percent(v.Level), v.By)
		}
	}
	return "nothing lowers it when the room is empty. Let a presence sensor act on it and state a presence intent."
}

// zonePower holds the watts under one set of sensors to the code's.
func (j *judge) zonePower(a *Answer) {
	q := j.parameter(a, PartialOff, "zone_power")
	if q == nil {
		return
	}
	a.need("%s %s under one zone", q.Sign, wattWords(q.Value))
	for _, z := range j.f.presenceZones() {
		switch name := tagWords(z.sensors); {
		case !z.known:
			a.miss("the watts under %s", name)
		case !a.hold("power under "+name, z.watts, q):
			a.fault("%s act on %s, limit %s: %s over. Split the loads between more sensors.", name, wattWords(z.watts), wattWords(q.Value), wattWords(z.watts-q.Value))
		}
	}
}

// fullOff asks that all lighting goes off within the delay when the room is empty.
func fullOff(j *judge, r *Requirement, a *Answer) {
	delay := j.parameter(a, FullOff, "delay")
	if delay == nil {
		return
	}
	a.need("all lighting goes off within %s min of the last person's leaving", units.Trim(delay.Value, 1))
	j.darkWithin(a, delay)
	if q := j.option(a, FullOff, "device_area"); q != nil {
		j.deviceArea(a, q)
	}
}

// darkWithin asks that each load goes off in time. Light on the way out is told
// apart: it may be let stay on.
func (j *judge) darkWithin(a *Answer, delay *Parameter) {
	var stay []*Load
	longest := units.Seconds(0)
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		e := emptiedWithin(l, delay)
		a.hasVacant(l)
		switch {
		case e.step != nil && e.level <= 0:
			longest = max(longest, e.step.After)
			if l.Egress && l.Bypass == "" {
				a.Caution = LifeSafety
			}
		case e.doubt != "":
			a.miss("%s", e.doubt)
		case l.Egress && e.late == nil:
			stay = append(stay, l)
		default:
			a.faultLit(l, &e, delay)
			if e.late != nil {
				longest = max(longest, e.late.After)
			}
		}
	}
	if len(j.f.Loads) == 0 {
		a.miss("the lighting of the room: it has none")
	}
	if longest > 0 {
		a.hold("time to off", minutes(longest), delay)
	}
	if len(stay) > 0 {
		j.mayStay(a, stay)
	}
}

// StaysOn gives the watts that a load draws in an empty room for good.
func (l *Load) StaysOn() units.Watts {
	level := 1.0
	for i := range l.Vacant {
		if v := &l.Vacant[i]; v.Held == "" && v.Doubt == "" {
			level = min(level, float64(v.Level)/100)
		}
	}
	return l.Watts * units.Watts(level)
}

// mayStay judges light on the way out that stays lit: within the code's allowance,
// which is the whole building's, or open.
func (j *judge) mayStay(a *Answer, stay []*Load) {
	a.Caution = LifeSafety
	w, tags, known := 0.0, []string{}, true
	for _, l := range stay {
		w, tags, known = w+float64(l.StaysOn()), append(tags, l.Tag), known && l.WattsKnown
	}
	name := tagWords(tags)
	a.has("%s, on the way out, stays lit", name)
	q := j.option(a, EgressShare, "may_stay_on")
	if q == nil {
		if words := j.option(a, EgressShare, "exempt"); words != nil {
			a.miss("whether %s falls under an exception: %s", name, words.Words)
		} else {
			a.miss("what the authority says of %s, which lights the way out and stays lit", name)
		}
		return
	}
	a.need("light on the way out may stay on within %s of the building", densityWords(q.Value, j.f.Units))
	switch b := j.f.Building; {
	case !known:
		a.miss("the watts of %s", name)
	case j.f.Area > 0 && q.Sign.Keeps(w/squareFeet(j.f.Area), q.Value):
		a.hold("light that stays on in this room", w/squareFeet(j.f.Area), q)
	case b != nil && b.Area > 0:
		if v := float64(b.StayOn) / squareFeet(b.Area); !a.hold("light that stays on in the building", v, q) {
			a.fault("%s stay lit in the empty building, limit %s: %s over. %s of it are here.", wattWords(float64(b.StayOn)), wattWords(q.Value*squareFeet(b.Area)),
				wattWords(float64(b.StayOn)-q.Value*squareFeet(b.Area)), wattWords(w))
		}
	default:
		a.outside("the lighted area of the building and all light that stays on in it: %s stays on here", wattWords(w))
	}
}

// deviceArea holds the area under one sensor to the code's, in rooms beyond it.
func (j *judge) deviceArea(a *Answer, q *Parameter) {
	ft2, known := j.roomArea(a)
	if !known {
		return
	}
	n := howMany(ft2, q.Value)
	if n == 1 {
		a.hold("area of one sensor", ft2, q)
		return
	}
	a.need("each sensor for at most %s: %d here", areaWords(q.Value, j.f.Units), n)
	for _, z := range j.f.presenceZones() {
		name := tagWords(z.sensors)
		if z.ft2 <= 0 {
			a.miss("the part of the room under %s: state the watts of its loads", name)
			continue
		}
		if each := z.ft2 / float64(len(z.sensors)); !a.hold("area of one sensor of "+name, each, q) {
			a.fault("%s share %s, which is %s each, limit %s. Add sensors: %d are needed there.", name, areaWords(z.ft2, j.f.Units), areaWords(each, j.f.Units),
				areaWords(q.Value, j.f.Units), howMany(z.ft2, q.Value))
		}
	}
}

// presenceZone is the general lighting under one set of sensors.
type presenceZone struct {
	sensors []string
	loads   []*Load
	ft2     float64 // 0: not known
	watts   float64
	known   bool // watts
}

// presenceZones gathers the general lighting by the sensors that act on it; what no
// sensor acts on is left out.
func (f *Facts) presenceZones() []presenceZone {
	var out []presenceZone
	for i := range f.Loads {
		l := &f.Loads[i]
		if !l.General() || len(l.Vacant) == 0 {
			continue
		}
		sensors := l.Vacant[0].Sensors
		at := slices.IndexFunc(out, func(z presenceZone) bool { return slices.Equal(z.sensors, sensors) })
		if at < 0 {
			out, at = append(out, presenceZone{sensors: sensors, known: true}), len(out)
		}
		z := &out[at]
		if len(z.loads) > 0 && z.ft2 == 0 || l.Area <= 0 {
			z.ft2 = 0
		} else {
			z.ft2 += squareFeet(l.Area)
		}
		z.loads, z.watts, z.known = append(z.loads, l), z.watts+float64(l.Watts), z.known && l.WattsKnown
	}
	return out
}
