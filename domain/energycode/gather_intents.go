package energycode

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/units"
)

// rises notes light that an intent brings by itself.
func (g *gatherer) rises(out *Load, i int, l *domain.Load, sensed *sensing) {
	in := &g.d.Intents[i]
	if in.Kind == domain.ByPresence && in.Relight > 0 && len(sensed.tags) > 0 {
		on := AutoOn{Level: 100, By: g.name(i), Doubt: unworded}
		if !g.brief {
			on.Doubt = fmt.Sprintf("whether light that comes back by moving within %s of an automatic off (%s) counts as coming on by itself", units.Duration(in.Relight), g.name(i))
		}
		out.On = append(out.On, on)
	}
	if !in.GoesTo() {
		return
	}
	on := AutoOn{By: g.name(i)} // what comes under a condition still comes by itself
	switch in.Kind {
	case domain.ByPresence:
		if len(sensed.occupied) == 0 {
			return
		}
		on.By = g.by(sensed.occupied, i)
	case domain.BySchedule, domain.OnMode:
	case domain.ByContact:
		at := g.d.DeviceIndex(in.Device)
		if at < 0 {
			return
		}
		on.Elsewhere = true
		if on.Doubt = unworded; !g.brief {
			on.Doubt = fmt.Sprintf("what moves the contact at %s: lighting that it brings comes on by itself where no person's hand moves it", tagWord(g.d.Devices[at].Tag))
		}
	default:
		return
	}
	if level, ok := g.goal(in, l); ok && level > 0 {
		on.Level = level
		out.On = append(out.On, on)
	}
}

// empties notes what an empty room does to a load by an intent. Delay, warning and
// fade count together from the last person's leaving. A warning that a load cannot show
// takes its time all the same.
func (g *gatherer) empties(out *Load, i int, l *domain.Load, sensed *sensing) {
	in := &g.d.Intents[i]
	if in.Kind != domain.ByPresence || len(sensed.tags) == 0 {
		return
	}
	v := Vacancy{Level: g.reached(l, in.OffLevel), Sensors: sensed.tags, Doubt: g.doubt(i)}
	v.After = sensed.wait(in) + in.Warning
	if out.Dims {
		v.After += in.Fade // what is only switched does not fade
	}
	v.By = g.by(sensed.tags, i)
	if v.Doubt == "" {
		v.Doubt = sensed.only
	}
	if out.Vacant == nil {
		n := len(g.vacancies)
		out.Vacant = g.vacancies[n:n]
	}
	out.Vacant, g.vacancies = append(out.Vacant, v), g.vacancies[:len(g.vacancies)+1]
}

// holds notes schedules that keep a load lit while people are away.
func (g *gatherer) holds(out *Load, l *domain.Load) {
	if !g.outrank || len(out.Vacant) == 0 {
		return
	}
	for i := range g.d.Intents {
		in := &g.d.Intents[i]
		if in.Kind != domain.BySchedule || in.OnAt == "" || in.OffAt == "" || in.Do == domain.SetMode || !in.ActsOn(l) {
			continue
		}
		level, ok := g.goal(in, l)
		if !ok || level <= 0 {
			continue
		}
		for k := range out.Vacant {
			if v := &out.Vacant[k]; v.Level < level {
				v.Held = fmt.Sprintf("%s from %s until %s", g.name(i), in.OnAt, in.OffAt)
			}
		}
	}
}

// clocks notes an off by a schedule, or by a mode that the clock brings.
func (g *gatherer) clocks(out *Load, i int, l *domain.Load) {
	in := &g.d.Intents[i]
	switch in.Kind {
	case domain.BySchedule:
		if in.OffAt == "" || in.Do == domain.SetMode {
			return
		}
		when := in.OffAt
		if in.Days != "" {
			when += " (" + in.Days + ")"
		}
		out.Off = append(out.Off, Shutoff{When: when, Override: in.Override, Spares: in.Spares, By: g.name(i), Doubt: g.doubt(i)})
	case domain.OnMode:
		when := g.clock.when(in.Mode)
		if level, ok := g.goal(in, l); ok && level <= 0 && in.GoesTo() && when != "" {
			out.Off = append(out.Off, Shutoff{When: when, By: g.name(i) + ", mode " + string(in.Mode), Doubt: g.doubt(i)})
		}
	}
}

// answers notes what daylight and demand response do to a load.
func (g *gatherer) answers(out *Load, i, load int) {
	in := &g.d.Intents[i]
	switch in.Kind {
	case domain.ByDaylight:
		if out.Daylight != nil || in.Target <= 0 {
			return
		}
		tags := g.daylightSensors(load)
		if len(tags) == 0 {
			return
		}
		lowest := max(in.Lowest, out.Lowest)
		out.Daylight = &Response{Continuous: out.Dims, Lowest: lowest, MayOff: in.MayOff, Target: in.Target, By: g.by(tags, i), Doubt: g.doubt(i)}
	case domain.OnDemandResponse:
		if out.Event == nil || in.Level < out.Event.Cap {
			out.Event = &Event{Cap: eventCap(out, in.Level), By: g.name(i)}
		}
	}
}

// eventCap is what a cap means for a load: one that is only switched stays at full
// unless the cap is 0, and none goes under its lowest level.
func eventCap(l *Load, level units.Level) units.Level {
	switch {
	case level <= 0:
		return 0
	case !l.Dims:
		return 100
	}
	return max(level, l.Lowest)
}

func (g *gatherer) daylightSensors(load int) []string {
	var out []string
	for _, i := range g.reads {
		if int(g.ends[i].load) == load {
			out = append(out, g.d.Devices[g.ends[i].device].Tag)
		}
	}
	return out
}

// outlets notes the receptacles that the design controls. A load of receptacles
// without a controller is one that nothing turns off.
func (g *gatherer) outlets(total int) Outlets {
	out := Outlets{Total: total, Known: true}
	counted, listed, open := true, 0, false
	for i := range g.d.Loads {
		l := &g.d.Loads[i]
		if l.Kind != domain.Receptacle {
			continue
		}
		listed += l.Count
		controlled := g.controls(&out, l, i)
		switch {
		case controlled:
			out.Controlled, counted = out.Controlled+l.Count, counted && l.Count > 0
		case l.Controller != "":
			out.Uncontrol = append(out.Uncontrol, l.Tag)
		default:
			open = true
		}
	}
	if out.Total == 0 && open && counted {
		out.Total = listed // the design lists those that are not controlled as well
	}
	if !counted {
		out.Controlled = 0
	}
	return out
}

// controls notes what turns a receptacle load off, and tells whether anything does.
func (g *gatherer) controls(out *Outlets, l *domain.Load, load int) (some bool) {
	at := g.d.DeviceIndex(l.Controller)
	if at < 0 || !g.does[at].Loads {
		return false
	}
	sensed := g.sensors(load)
	for i := range g.d.Intents {
		in := &g.d.Intents[i]
		if !in.ActsOn(l) {
			continue
		}
		switch in.Kind {
		case domain.ForReceptacles:
			if len(sensed.tags) == 0 {
				continue
			}
			v := Vacancy{After: sensed.wait(in) + in.Warning, Sensors: sensed.tags, By: g.by(sensed.tags, i), Doubt: g.doubt(i)}
			if v.Doubt == "" {
				v.Doubt = sensed.only
			}
			if some = true; !slices.ContainsFunc(out.Off, func(o Vacancy) bool { return o.By == v.By && o.After == v.After }) {
				out.Off = append(out.Off, v)
			}
		case domain.BySchedule:
			if in.OffAt != "" && in.Do != domain.SetMode {
				some = true
				out.Scheduled = append(out.Scheduled, Shutoff{When: in.OffAt, Override: in.Override, By: g.name(i), Doubt: g.doubt(i)})
			}
		}
	}
	return some
}

// modeClock says when the clock brings a mode: by the project's calendar or by a
// schedule of the room.
type modeClock map[domain.Mode]string

func newModeClock(p *domain.Project, d *domain.Design) modeClock {
	asked := false
	for i := range d.Intents {
		asked = asked || d.Intents[i].Kind == domain.OnMode
	}
	if !asked {
		return nil
	}
	out := modeClock{}
	add := func(m domain.Mode, when string) {
		if out[m] != "" {
			when = out[m] + ", " + when
		}
		out[m] = when
	}
	for _, line := range p.Calendar {
		if m, err := domain.ParseModeTime(line); err == nil {
			add(m.Mode, fmt.Sprintf("%s (%s)", m.At, m.Days))
		}
	}
	for i := range d.Intents {
		if in := &d.Intents[i]; in.Kind == domain.BySchedule && in.Do == domain.SetMode && in.OnAt != "" {
			add(in.Mode, in.OnAt)
		}
	}
	return out
}

func (c modeClock) when(m domain.Mode) string { return c[m] }
