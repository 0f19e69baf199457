package energycode

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/units"
)

// OverridesNeeded gives the least number of override controls of a space,
// N = ceil(area/limit); 1 where the pack gives no area.
func (p *Pack) OverridesNeeded(area units.SquareMetres) int {
	if q := p.Parameter(ScheduledShutoff, "override_area"); q != nil {
		return howMany(squareFeet(area), q.Value)
	}
	return 1
}

// OffDevicesNeeded gives the least number of sensors that turn a space off,
// N = ceil(area/limit); 1 where the pack gives no area.
func (p *Pack) OffDevicesNeeded(area units.SquareMetres) int {
	if q := p.Parameter(FullOff, "device_area"); q != nil {
		return howMany(squareFeet(area), q.Value)
	}
	return 1
}

// LatestOff gives when light that a press brought back after a schedule's off must
// be dark again at the latest: the press plus the longest override. Both are
// minutes after midnight and may pass it.
func (p *Pack) LatestOff(press domain.TimeOfDay) (off domain.TimeOfDay, known bool) {
	q := p.Parameter(ScheduledShutoff, "override")
	if q == nil || press.Sun != "" {
		return off, false
	}
	return domain.TimeOfDay{Minutes: (press.Minutes + int(math.Round(60*q.Value))) % (24 * 60)}, true
}

// scheduledShutoff asks that all lighting goes off by the clock, and that what a
// press brings back ends.
func scheduledShutoff(j *judge, _ *Requirement, a *Answer) {
	override := j.parameter(a, ScheduledShutoff, "override")
	if override == nil {
		return
	}
	a.need("all lighting goes off by the clock; a press brings it back for at most %s h", units.Trim(override.Value, 2))
	var stay []*Load
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		switch {
		case len(l.Off) > 0:
			j.clockOff(a, l, override)
		case l.Egress:
			stay = append(stay, l)
		default:
			a.faultOf(l, "nothing turns it off by the clock. State a schedule with an off.")
		}
	}
	if len(j.f.Loads) == 0 {
		a.miss("the lighting of the room: it has none")
	}
	if len(stay) > 0 {
		j.mayStay(a, stay)
	}
	j.overrideArea(a)
	j.programArea(a)
}

// clockOff judges the offs of one load; the best of them counts.
func (j *judge) clockOff(a *Answer, l *Load, override *Parameter) {
	best := &l.Off[0]
	for i := range l.Off {
		if o := &l.Off[i]; rank(o, override) > rank(best, override) {
			best = o
		}
	}
	a.hasOf(l.Tag, fmt.Sprintf("off at %s by %s", best.When, best.By))
	hours := float64(best.Override) / 3600
	switch {
	case best.Doubt != "":
		a.miss("%s", best.Doubt)
	case best.Override <= 0:
		a.faultOf(l, fmt.Sprintf("a press after that off brings it back for good (%s). State an override of at most %s h.", best.By, units.Trim(override.Value, 2)))
	case !a.hold("override of "+tagWords([]string{l.Tag}), hours, override):
		a.faultOf(l, fmt.Sprintf("a press after that off brings it back for %s, limit %s h, %s over (%s). Shorten the override.", units.Duration(best.Override), units.Trim(override.Value, 2),
			units.Duration(best.Override-units.Seconds(3600*override.Value)), best.By))
	}
}

// rank orders offs: sure before doubtful, with an end of the override before without.
func rank(o *Shutoff, override *Parameter) int {
	n := 0
	if o.Doubt == "" {
		n += 4
	}
	if o.Override > 0 {
		n++
		if override.Sign.Keeps(float64(o.Override)/3600, override.Value) {
			n++
		}
	}
	return n
}

// overrideArea holds the part of the room that one press brings back to the code's.
func (j *judge) overrideArea(a *Answer) {
	q := j.option(a, ScheduledShutoff, "override_area")
	if q == nil {
		return
	}
	ft2, known := j.roomArea(a)
	if !known {
		return
	}
	n := howMany(ft2, q.Value)
	if n == 1 {
		a.hold("area of one override", ft2, q)
		return
	}
	a.need("each press for at most %s: %d here", areaWords(q.Value, j.f.Units), n)
	for i, way := range reachedByHand(j.f) {
		l := &j.f.Loads[i]
		if !l.General() || !way.on {
			continue
		}
		switch tag := tagWords([]string{l.Tag}); {
		case math.IsInf(way.smallOn, 1):
			a.miss("the part of the room that %s lights: state its watts", tag)
		case !a.hold("area that a press brings back with "+tag, way.smallOn, q):
			a.fault("The smallest press that brings %s back acts on %s, limit %s: give its parts buttons of their own.", tag, areaWords(way.smallOn, j.f.Units), areaWords(q.Value, j.f.Units))
		}
	}
}

// programArea holds the area under one schedule to the code's; the schedule is the
// room's own, so that its area is the room's.
func (j *judge) programArea(a *Answer) {
	q := j.option(a, ScheduledShutoff, "program_area")
	if q == nil || j.f.Area <= 0 {
		return
	}
	if ft2 := squareFeet(j.f.Area); !a.hold("area of one schedule", ft2, q) {
		a.need("each schedule for at most %s and one storey", areaWords(q.Value, j.f.Units))
		a.outside("whether the room's loads are divided between schedules of at most %s each: it has %s", areaWords(q.Value, j.f.Units), areaWords(ft2, j.f.Units))
	}
}
