package energycode

import (
	"fmt"
	"slices"

	"scopewright/domain/units"
)

// DaylightAsked says in which daylight areas of a room a code asks for a response,
// and on which of its figures that rests.
type DaylightAsked struct {
	Primary, Secondary, Toplit bool
	GlazingExempt              bool // the windows are too small for side daylight to count
	Figures                    []AskedFigure
}

// AskedFigure is one comparison with the code's watts or glazing, and its basis.
type AskedFigure struct {
	Figure
	Basis Basis
}

// holds notes a figure and tells whether watts reach it; false where the pack has none.
func (d *DaylightAsked) holds(q *Parameter, name string, w float64) bool {
	if q == nil {
		return false
	}
	f := Figure{Name: name, Measured: w, Sign: q.Sign, Limit: q.Value, Unit: q.Unit, Asks: true}
	d.Figures = append(d.Figures, AskedFigure{f, q.Basis})
	return f.Keeps()
}

// DaylightAsked compares the general lighting in a room's daylight areas with the
// pack's watts, each figure with its own sign: of the primary area, of primary and
// secondary together, of the toplit area, or of toplit and primary together. Watts
// are those of luminaires counted as the code counts them; the glazing area exempts
// where it is known and small. Source: the pack's parameters.
func (p *Pack) DaylightAsked(z *Zones) DaylightAsked {
	var d DaylightAsked
	primary, secondary, toplit := float64(z.Primary.Watts), float64(z.Secondary.Watts), float64(z.Toplit.Watts)
	get := func(c Control, name string) *Parameter { return p.Parameter(c, name) }
	if z.Glazing > 0 {
		d.GlazingExempt = d.holds(get(DaylightSide, "glazing_exempt"), "glazing", squareFeet(z.Glazing))
	}
	d.Toplit = d.holds(get(DaylightTop, "toplit_watts"), "toplit area", toplit)
	d.Primary = d.holds(get(DaylightSide, "primary_watts"), "primary area", primary)
	if q := get(DaylightSide, "toplit_primary_watts"); d.holds(q, "toplit and primary areas", toplit+primary) {
		d.Primary, d.Toplit = primary > 0, toplit > 0
	}
	if q := get(DaylightSide, "zone_watts"); q != nil {
		d.Primary = d.holds(q, "primary area", primary)
		d.Toplit = d.holds(q, "toplit area", toplit)
		if d.Primary {
			d.Secondary = d.holds(q, "secondary area", secondary)
		}
	}
	if q := get(DaylightSide, "secondary_alone_watts"); q != nil && !d.Primary {
		d.Secondary = d.holds(q, "secondary area", secondary)
	}
	if d.holds(get(DaylightSide, "primary_secondary_watts"), "primary and secondary areas", primary+secondary) {
		d.Primary, d.Secondary = d.Primary || primary > 0, secondary > 0
	}
	if q := get(DaylightSide, "secondary_watts"); q != nil {
		d.Secondary = d.holds(q, "secondary area", secondary)
	}
	if d.GlazingExempt {
		d.Primary, d.Secondary = false, false
	}
	return d
}

// daylightSide asks for a response to daylight in the areas along the windows.
func daylightSide(j *judge, _ *Requirement, a *Answer) {
	if j.f.Zones == nil && !j.f.Windows {
		a.skip("the room states no windows")
		return
	}
	asked, known := j.daylight(a)
	if !known {
		return
	}
	z := j.f.Zones
	j.askWords(a, &asked, "primary", "secondary")
	if z.Doubt != "" {
		a.miss("%s", z.Doubt)
	}
	if asked.GlazingExempt {
		j.notAsked(a, "the windows have %s of glazing", areaWords(squareFeet(z.Glazing), j.f.Units))
		return
	}
	if !asked.Primary && !asked.Secondary {
		j.notAsked(a, "%s in the primary area, %s in the secondary one", wattWords(float64(z.Primary.Watts)), wattWords(float64(z.Secondary.Watts)))
		return
	}
	if asked.Primary {
		j.responds(a, "primary", &z.Primary, &z.Secondary, &z.Toplit)
	}
	if asked.Secondary {
		j.responds(a, "secondary", &z.Secondary, &z.Primary, &z.Toplit)
	}
	a.gather()
	if q := j.p.Parameter(DaylightSide, "glazing_exempt"); q != nil && z.Glazing <= 0 && len(a.Faults) > 0 {
		a.miss("the glazing area of the windows: %s %s would let the room off", q.Sign, areaWords(q.Value, j.f.Units))
		a.Verdict = CannotTell
	}
}

// daylightTop asks for a response to daylight under rooflights.
func daylightTop(j *judge, _ *Requirement, a *Answer) {
	if j.f.Zones == nil && !j.f.Windows {
		a.skip("no rooflight is known")
		return
	}
	asked, known := j.daylight(a)
	if !known {
		return
	}
	z := j.f.Zones
	j.askWords(a, &asked, "toplit")
	if z.Doubt != "" {
		a.miss("%s", z.Doubt)
	}
	if !asked.Toplit {
		j.notAsked(a, "%s in the toplit area", wattWords(float64(z.Toplit.Watts)))
		return
	}
	j.responds(a, "toplit", &z.Toplit, &z.Primary, &z.Secondary)
}

// notAsked says that no response is asked for, unless the daylight areas are in doubt.
func (j *judge) notAsked(a *Answer, format string, args ...any) {
	if j.f.Zones.Doubt != "" {
		a.has(format, args...)
		return
	}
	a.skip(format, args...)
}

// daylight says what is asked of the room's daylight areas; known is false where
// the areas or the code's watts are not known.
func (j *judge) daylight(a *Answer) (asked DaylightAsked, known bool) {
	if j.f.Zones == nil {
		a.need("general lighting in daylight answers it, beyond the code's watts")
		a.miss("which luminaires hang in the daylight areas: draw the windows, or state the window zone of the loads")
		return asked, false
	}
	if j.daylit == nil {
		d := j.p.DaylightAsked(j.f.Zones)
		j.daylit = &d
	}
	asked = *j.daylit
	if !slices.ContainsFunc(asked.Figures, func(f AskedFigure) bool { return f.Unit == "W" }) {
		a.miss("from how many watts on the code asks for it: the pack gives none")
		a.Open = true
		return asked, false
	}
	return asked, j.zoneWatts(a)
}

// zoneWatts tells that the watts of all loads in daylight areas are known.
func (j *judge) zoneWatts(a *Answer) bool {
	known := true
	for _, z := range []*Zone{&j.f.Zones.Primary, &j.f.Zones.Secondary, &j.f.Zones.Toplit} {
		for _, id := range z.Loads {
			if l := j.f.load(id); l != nil && !l.WattsKnown {
				a.miss("the watts of %s", tagWords([]string{l.Tag}))
				known = false
			}
		}
	}
	return known
}

// askWords says the code's watts of some kinds of area.
func (j *judge) askWords(a *Answer, asked *DaylightAsked, kinds ...string) {
	if a.brief {
		return
	}
	for _, f := range asked.Figures {
		for _, kind := range kinds {
			if f.Unit == "W" && containsWord(f.Name, kind) {
				a.need("asked from %s %s in the %s", f.Sign, wattWords(f.Limit), f.Name)
				a.Figures = append(a.Figures, f.Figure)
				a.rest(f.Basis)
				break
			}
		}
		if f.Name == "glazing" && asked.GlazingExempt {
			a.rest(f.Basis)
		}
	}
	if q := j.option(a, DaylightSide, "dim_to"); q != nil && j.dimsHere() {
		a.need("continuous dimming to %s %%", units.Trim(q.Value, 1))
		if j.option(a, DaylightSide, "then_off") != nil {
			a.need("then off")
		}
	}
}

// responds judges the response of the loads of one daylight area.
func (j *judge) responds(a *Answer, kind string, z *Zone, others ...*Zone) {
	a.has("%s area: %s", kind, wattWords(float64(z.Watts)))
	if len(z.Loads) == 0 {
		a.miss("which loads hang in the %s area", kind)
	}
	for _, id := range z.Loads {
		l := j.f.load(id)
		if l == nil {
			a.miss("a load of the %s area that is gone", kind)
			continue
		}
		for _, o := range others {
			if o.Watts > 0 && hasID(o.Loads, id) {
				a.faultOf(l, "in more than one daylight area. Give each a load of its own.")
				break
			}
		}
		j.respondsLoad(a, l)
	}
}

func (j *judge) respondsLoad(a *Answer, l *Load) {
	r := l.Daylight
	if r == nil {
		a.faultOf(l, "no response to daylight. Let a daylight sensor act on it and state a daylight intent.")
		return
	}
	a.hasOf(l.Tag, "to "+units.Percent(r.Lowest)+" by "+r.By)
	if r.Doubt != "" {
		a.miss("%s", r.Doubt)
	}
	if !j.dimsHere() {
		return
	}
	if !r.Continuous {
		a.faultOf(l, "only switched by daylight. Dim it.")
		return
	}
	if q := j.p.Parameter(DaylightSide, "dim_to"); q != nil && !a.hold("lowest level of "+tagWords([]string{l.Tag})+" in daylight", float64(r.Lowest), q) {
		a.faultOf(l, fmt.Sprintf("down to %s only in daylight, limit %s %%. Lower it.", units.Percent(r.Lowest), units.Trim(q.Value, 1)))
	}
	if j.p.Parameter(DaylightSide, "then_off") != nil && !r.MayOff {
		a.faultOf(l, "never off in daylight ("+r.By+"). Let it go off where daylight is enough.")
	}
}
