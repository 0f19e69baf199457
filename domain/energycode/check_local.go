package energycode

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/units"
)

// ControlAreaLimit gives the largest part of a space, in ft2, that one control by
// hand may serve in a space of ft2 square feet. Beyond the pack's large space the
// larger figure holds and, where the pack has it, no more than a share of the space.
// known is false where the pack gives no area. Source: the pack's parameters.
func (p *Pack) ControlAreaLimit(ft2 float64) (most float64, known bool) {
	q := p.controlArea(ft2)
	if len(q) == 0 {
		return 0, false
	}
	most = q[0].Value
	if len(q) > 1 {
		most = math.Min(most, ft2*q[1].Value/100)
	}
	return most, true
}

// controlArea gives the parameters that hold for a space: the area and, where there
// is one, the share.
func (p *Pack) controlArea(ft2 float64) []*Parameter {
	small := p.Parameter(LocalControl, "control_area")
	if small == nil {
		return nil
	}
	from, large := p.Parameter(LocalControl, "large_space"), p.Parameter(LocalControl, "control_area_large")
	if from == nil || large == nil || !from.Sign.Keeps(ft2, from.Value) {
		return []*Parameter{small}
	}
	if share := p.Parameter(LocalControl, "control_share_large"); share != nil {
		return []*Parameter{large, share}
	}
	return []*Parameter{large}
}

// LocalControlsNeeded gives the least number of controls by hand in a space,
// N = ceil(area/limit); 1 where the pack gives no area.
func (p *Pack) LocalControlsNeeded(area units.SquareMetres) int {
	ft2 := squareFeet(area)
	most, known := p.ControlAreaLimit(ft2)
	if !known {
		return 1
	}
	return howMany(ft2, most)
}

// localControl asks for a control by hand for all lighting, each for no more than
// the code's area.
func localControl(j *judge, _ *Requirement, a *Answer) {
	a.need("a control by hand in the room for all its lighting")
	if q := j.option(a, LocalControl, "place"); q != nil {
		a.need("%s", q.Words)
	}
	reached := reachedByHand(j.f)
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		switch way := reached[i]; {
		case way.on && way.off:
		case l.Egress:
			a.miss("whether %s, which lights the way out, may be without a control by hand", tagWords([]string{l.Tag}))
		case !way.on && !way.off:
			a.faultOf(l, "no control by hand acts on it. Add a button.")
		case !way.off:
			a.faultOf(l, "no control by hand turns it off. Add a button that does.")
		default:
			a.faultOf(l, "no control by hand turns it on. Add a button that does.")
		}
	}
	if j.brief {
		localArea(j, a, reached)
		return
	}
	if names := handleNames(j.f); len(names) > 0 {
		a.has("%s", tagWords(names))
	} else {
		a.has("none")
	}
	localArea(j, a, reached)
}

// byHand is what people can do to a load, and by the smallest controls that do it.
type byHand struct {
	on, off           bool
	smallOn, smallOff float64 // ft2 of the smallest control that does it; Inf: not known
}

// ft2 is the area under the smallest controls, known where both are.
func (b *byHand) ft2() (v float64, known bool) {
	v = math.Max(b.smallOn, b.smallOff)
	return v, !math.IsInf(v, 1)
}

func reachedByHand(f *Facts) []byHand {
	out := make([]byHand, len(f.Loads))
	for i := range out {
		out[i].smallOn, out[i].smallOff = math.Inf(1), math.Inf(1)
	}
	for h := range f.Handles {
		k := &f.Handles[h]
		ft2 := squareFeet(k.Area)
		for _, i := range k.On {
			out[i].on = true
			note(&out[i].smallOn, ft2)
		}
		for _, i := range k.Off {
			out[i].off = true
			note(&out[i].smallOff, ft2)
		}
	}
	return out
}

// note keeps the smaller of two areas; one of 0 is not known.
func note(small *float64, ft2 float64) {
	if ft2 > 0 {
		*small = math.Min(*small, ft2)
	}
}

// localArea holds the part of the room under one control to the code's area.
func localArea(j *judge, a *Answer, reached []byHand) {
	if j.p.Parameter(LocalControl, "control_area") == nil {
		return
	}
	ft2, known := j.roomArea(a)
	if !known {
		return
	}
	limits := j.p.controlArea(ft2)
	for _, q := range limits {
		a.rest(q.Basis)
	}
	most, _ := j.p.ControlAreaLimit(ft2)
	n := howMany(ft2, most)
	a.need("each for at most %s: %d here", areaWords(most, j.f.Units), n)
	limit := *limits[0]
	limit.Value = most
	if n == 1 {
		a.hold("area under one control", ft2, &limit)
		return
	}
	worst, at := 0.0, -1
	for i := range j.f.Loads {
		way := &reached[i]
		if !j.f.Loads[i].General() || !way.on || !way.off {
			continue
		}
		if ft2, known := way.ft2(); !known {
			a.miss("the part of the room that %s lights: state its watts", tagWords([]string{j.f.Loads[i].Tag}))
		} else if ft2 > worst {
			worst, at = ft2, i
		}
	}
	if at >= 0 && !a.hold("area under one control", worst, &limit) {
		a.fault("The smallest control by hand of %s acts on %s, limit %s: %s over. Give its parts buttons of their own.", tagWords([]string{j.f.Loads[at].Tag}),
			areaWords(worst, j.f.Units), areaWords(most, j.f.Units), areaWords(worst-most, j.f.Units))
	}
}

// handleNames lists the devices with something to press, each once.
func handleNames(f *Facts) []string {
	var out []string
	for i := range f.Handles {
		if name := f.Handles[i].Device; !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	slices.SortFunc(out, domain.CompareNumbers)
	return out
}

// separateControl asks for a control by hand of its own for display and task
// lighting.
func separateControl(j *judge, _ *Requirement, a *Answer) {
	a.need("display and task lighting with a control of its own, apart from general lighting")
	some := false
	for i := range j.f.Loads {
		l := &j.f.Loads[i]
		if l.General() || l.Layer == domain.Board {
			continue
		}
		some = true
		var on, off *Handle
		for h := range j.f.Handles {
			k := &j.f.Handles[h]
			if k.Apart && slices.Contains(k.On, i) {
				on = k
			}
			if k.Apart && slices.Contains(k.Off, i) {
				off = k
			}
		}
		if on == nil || off == nil {
			a.faultOf(l, string(l.Layer)+" lighting has no control by hand that leaves general lighting alone. Give it a button.")
			continue
		}
		if !a.brief {
			a.hasOf(l.Tag, tagWords([]string{on.By, off.By}))
		}
	}
	if !some {
		a.skip("no display or task lighting")
	}
}
