package energycode

import (
	"slices"
	"strings"

	"scopewright/domain/units"
)

// risen is what light that comes by itself amounts to.
type risen struct {
	share  float64 // of the watts, where known
	most   float64 // highest level of any load, 0 to 1
	known  bool
	some   bool // anything comes by itself for sure
	by     []tagged
	doubts []AutoOn

	open, outside int // how many doubts there are, where no words are made
}

// missDoubts says what has to be known of light that may come by itself.
func (r *risen) missDoubts(a *Answer) {
	if a.brief {
		a.open, a.Outside = a.open+r.open, a.Outside+r.outside
		if r.open > 0 {
			a.Missing = unsaid
		}
		return
	}
	for i := range r.doubts {
		if d := &r.doubts[i]; d.Elsewhere {
			a.outside("%s", d.Doubt)
		} else {
			a.miss("%s", d.Doubt)
		}
	}
}

func (r *risen) words() string {
	if len(r.by) == 0 {
		return ""
	}
	a := Answer{said: r.by}
	a.gather()
	return a.Provided
}

// autoOn sums what comes on by itself, by the highest level of each load. Power is
// taken to follow the level.
func (j *judge) autoOn(which func(*Load) bool) risen {
	out := risen{known: true}
	say := Answer{brief: j.brief}
	on, all := 0.0, 0.0
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		if !which(l) {
			continue
		}
		level := 0.0
		for k := range l.On {
			e := &l.On[k]
			if e.Level <= 0 {
				continue
			}
			if e.Doubt != "" {
				out.open++
				if e.Elsewhere {
					out.outside++
				}
				if !j.brief {
					out.doubts = append(out.doubts, *e)
				}
				continue
			}
			level = max(level, float64(e.Level)/100)
			out.some = true
			if !j.brief {
				say.hasOf(l.Tag, "to "+units.Percent(e.Level)+" by "+e.By)
			}
		}
		out.most = max(out.most, level)
		on, all, out.known = on+level*float64(l.Watts), all+float64(l.Watts), out.known && l.WattsKnown
	}
	if all > 0 {
		out.share = on / all
	}
	out.by = say.said
	return out
}

// manualOn asks that nothing comes on by itself.
func manualOn(j *judge, _ *Requirement, a *Answer) {
	a.need("no lighting comes on by itself")
	q := j.parameter(a, ManualOn, "auto_on_power")
	r := j.autoOn(func(*Load) bool { return true })
	if q != nil && !a.hold("power that comes on by itself", 100*r.most, q) {
		a.has("%s", r.words())
		a.fault("Lighting comes on by itself (%s). Let people press: use vacancy sensors, or take lighting on entry out of the intent.", r.words())
	}
	r.missDoubts(a)
	if !r.some {
		a.has("nothing comes on by itself")
	}
}

// partialAutoOn asks that what comes on by itself stays within a share of the
// general lighting power.
func partialAutoOn(j *judge, _ *Requirement, a *Answer) {
	most, least := j.parameter(a, PartialAutoOn, "auto_on_power"), j.option(a, PartialAutoOn, "auto_on_power_least")
	if most == nil {
		return
	}
	switch least {
	case nil:
		a.need("at most %s %% of the general lighting power comes on by itself", units.Trim(most.Value, 1))
	default:
		a.need("%s to %s %% of the general lighting power comes on by itself", units.Trim(least.Value, 1), units.Trim(most.Value, 1))
	}
	r := j.autoOn((*Load).General)
	r.missDoubts(a)
	if r.most == 0 {
		a.has("nothing comes on by itself")
		return
	}
	a.has("%s", r.words())
	if !r.known && !(least == nil && most.Sign.Keeps(100*r.most, most.Value)) {
		a.miss("the watts of all general lighting")
		return
	}
	share := r.share
	if !r.known {
		share = r.most // no load exceeds it, so the sum does not
	}
	if !a.hold("general lighting power that comes on by itself", 100*share, most) {
		a.fault("%s of the general lighting power comes on by itself, limit %s %%: lower the entry level, or leave loads out of it.", percentWords(share), units.Trim(most.Value, 1))
	}
	if least != nil && !a.hold("general lighting power that comes on by itself", 100*share, least) {
		a.fault("%s of the general lighting power comes on by itself, at least %s %% asked: raise the entry level.", percentWords(share), units.Trim(least.Value, 1))
	}
}

// continuous tells that people can dim all general lighting to any level.
func (f *Facts) continuous() bool {
	some := false
	for i := range f.Loads {
		if l := &f.Loads[i]; l.General() {
			if some = true; !l.Dims || !l.Ramps {
				return false
			}
		}
	}
	return some
}

// bilevel asks for a level between off and full, by a step in a range or by dimming.
func bilevel(j *judge, _ *Requirement, a *Answer) {
	least, most := j.parameter(a, Bilevel, "step_least"), j.parameter(a, Bilevel, "step_most")
	if least == nil || most == nil {
		a.has("%s", j.levelsWords())
		return
	}
	a.need("a step of %s to %s %% of power by hand, or continuous dimming, besides full and off", units.Trim(least.Value, 1), units.Trim(most.Value, 1))
	if j.f.continuous() {
		a.has("all general lighting is raised and lowered by hand")
		return
	}
	for _, s := range j.f.Levels {
		if least.Sign.Keeps(100*s.Share, least.Value) && most.Sign.Keeps(100*s.Share, most.Value) {
			a.hold("step", 100*s.Share, least)
			a.hold("step", 100*s.Share, most)
			a.has("%s of power by %s", percentWords(s.Share), s.By)
			return
		}
	}
	a.has("%s", j.levelsWords())
	j.noStep(a)
}

// noStep says that no step of power was found, or that it cannot be told.
func (j *judge) noStep(a *Answer) {
	if _, known := j.f.general(); !known {
		a.miss("the watts of all general lighting")
		return
	}
	a.fault("No button brings such a level: add raise and lower, a scene, or a button for a part of the loads.")
}

func (j *judge) levelsWords() string {
	if j.brief {
		return ""
	}
	var words []string
	if j.f.continuous() {
		words = append(words, "continuous dimming by hand")
	}
	for _, s := range j.f.Levels {
		words = append(words, percentWords(s.Share)+" by "+s.By)
	}
	if len(words) == 0 {
		return "on and off only"
	}
	if len(words) > 4 {
		words = append(words[:4], "and others")
	}
	return strings.Join(words, ", ")
}

// lightReduction asks for an even reduction by hand, unless sensors or daylight
// already act on all general lighting.
func lightReduction(j *judge, _ *Requirement, a *Answer) {
	q := j.parameter(a, LightReduction, "reduction")
	if q == nil {
		return
	}
	a.need("general lighting falls by %s %s %% by hand, evenly, unless people or daylight are sensed", q.Sign, units.Trim(q.Value, 1))
	if by := j.sensedAll(); by != "" {
		a.skip("%s", by)
		return
	}
	if j.f.continuous() {
		a.has("all general lighting is raised and lowered by hand")
		return
	}
	uneven := ""
	for _, s := range j.f.Levels {
		if s.Share <= 0 || !q.Sign.Keeps(100*(1-s.Share), q.Value) {
			continue
		}
		if s.Even {
			a.hold("reduction", 100*(1-s.Share), q)
			a.has("%s of power by %s", percentWords(s.Share), s.By)
			return
		}
		uneven = percentWords(s.Share) + " of power by " + s.By
	}
	if uneven != "" {
		a.has("%s", uneven)
		a.outside("whether the luminaires that stay lit light the room evenly, such as every other row")
		return
	}
	a.has("%s", j.levelsWords())
	j.noStep(a)
}

// sensedAll tells by what all general lighting is turned off when empty, or trimmed
// by daylight; nothing where one load is not.
func (j *judge) sensedAll() string {
	empty, day, some := true, true, false
	var sensors []string
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		if !l.General() {
			continue
		}
		some = true
		off := slices.IndexFunc(l.Vacant, func(v Vacancy) bool { return v.Level <= 0 && v.Held == "" && v.Doubt == "" })
		if empty = empty && off >= 0; off >= 0 {
			sensors = append(sensors, l.Vacant[off].Sensors...)
		}
		day = day && l.Daylight != nil && l.Daylight.Doubt == ""
	}
	switch {
	case some && empty:
		return "people are sensed by " + tagWords(sensors)
	case some && day:
		return "daylight is sensed for all general lighting"
	}
	return ""
}

// multilevel asks for many levels by hand in rooms beyond an area and a power
// density.
func multilevel(j *judge, _ *Requirement, a *Answer) {
	area, density, dim := j.parameter(a, Multilevel, "area"), j.parameter(a, Multilevel, "density"), j.parameter(a, Multilevel, "dim_to")
	if area == nil || density == nil || dim == nil {
		return
	}
	a.need("in rooms of %s %s with %s %s of general lighting: continuous dimming by hand from full to %s %% or less", area.Sign, areaWords(area.Value, j.f.Units), density.Sign,
		densityWords(density.Value, j.f.Units), units.Trim(dim.Value, 1))
	ft2, known := j.roomArea(a)
	if known && !a.hold("area", ft2, area) {
		a.skip("%s", areaWords(ft2, j.f.Units))
		return
	}
	w, watts := j.f.general()
	if !watts {
		a.miss("the watts of all general lighting")
	} else if known && !a.hold("general lighting power density", w/ft2, density) {
		a.skip("%s", densityWords(w/ft2, j.f.Units))
		return
	}
	if !known || !watts {
		return
	}
	a.has("%s", densityWords(w/ft2, j.f.Units))
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		switch tag := tagWords([]string{l.Tag}); {
		case !l.General():
		case !l.Dims:
			a.faultOf(l, "only switched. Dim it.")
		case !l.Ramps:
			a.faultOf(l, "dimmed, but people cannot raise and lower it. Add such buttons.")
		case l.Lowest <= 0:
			a.miss("how low the luminaires of %s dim", tag)
		case !a.hold("lowest level of "+tag, float64(l.Lowest), dim):
			a.faultOf(l, "no lower than "+units.Percent(l.Lowest)+", limit "+units.Trim(dim.Value, 1)+" %. Choose luminaires that go lower.")
		default:
			a.hasOf(l.Tag, "to "+units.Percent(l.Lowest))
		}
	}
}
