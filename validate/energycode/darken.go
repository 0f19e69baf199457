package energycode

import (
	"scopewright/domain"
	code "scopewright/domain/energycode"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// usualWait is the delay of an intent that a fix adds: 15 min, so that a later edition
// with a shorter limit does not break it. Common practice, no published source.
const usualWait = 900

// darken lets the loads of which something is short fall to a level within some minutes
// of the last person's leaving.
func (m *mending) darken(level, minutes float64) {
	loads := m.short()
	var bare []*rule.Load
	together := level
	for _, l := range loads {
		k := m.known(l)
		if k == nil {
			m.stuck = true
			return
		}
		if len(k.Vacant) == 0 {
			bare, together = append(bare, l), min(together, reachable(k, level))
			continue
		}
		m.lower(l, k, reachable(k, level), minutes)
	}
	if len(bare) > 0 {
		m.sense(bare, together, minutes)
	}
	if len(loads) == 0 {
		m.stuck = true
	}
}

// reachable gives the level to which a load has to be told to go, so that it has no more
// than another: what is only switched, or does not dim so low, has to go off.
func reachable(k *code.Load, level float64) float64 {
	if !k.Dims || float64(k.Lowest) > level {
		return 0
	}
	return level
}

// lower changes what an empty room does to a load already: its level, and how long it
// takes with delay, warning and fade together.
func (m *mending) lower(l *rule.Load, k *code.Load, level, minutes float64) {
	for i := range k.Vacant {
		if k.Vacant[i].Held != "" || k.Vacant[i].Doubt != "" {
			m.stuck = true // by what rank or under what condition is a person's to say
			return
		}
	}
	for _, in := range m.changes(domain.ByPresence, l) {
		path := "intents/" + string(in.ID)
		if float64(in.OffLevel) > level {
			m.set(path+"/off_level", percent(level))
			m.say("lower the vacant level to %s %%", percent(level))
		}
		most := units.Seconds(60*minutes) - in.Warning
		if k.Dims {
			most -= in.Fade
		}
		m.shorten(in, path, l, most)
	}
}

// shorten keeps an intent's delay, or that of the sensors themselves, to the most.
func (m *mending) shorten(in *domain.Intent, path string, l *rule.Load, most units.Seconds) {
	now := in.DelayFor(m.f.Project, m.f.Design, l.ID)
	if now <= most {
		return
	}
	if most < 1 {
		m.stuck = true // warning and fade alone take too long
		return
	}
	own := false
	for i := range m.f.Links {
		if k := &m.f.Links[i]; k.To != nil && k.To.ID == l.ID && k.Senses() && k.From.Delay > most {
			own = true
			m.set("devices/"+string(k.From.ID)+"/delay_s", wait(most))
		}
	}
	if !own {
		m.set(path+"/delay_s", wait(most))
	}
	m.say("shorten the delay to %s", wait(most))
}

// sense lets presence sensors act on loads, and an intent say what happens then.
func (m *mending) sense(loads []*rule.Load, level, minutes float64) {
	sensors := m.sensors(presence, equipment.Presence, "presence sensor")
	if m.stuck {
		return
	}
	m.acts(sensors, loads)
	delay := min(units.Seconds(usualWait), units.Seconds(60*minutes)-120)
	if delay < 60 {
		m.stuck = true
		return
	}
	m.intend(domain.ByPresence, loads, "presence", "delay_s", wait(delay), "off_level", percent(level), "enters", "no")
	m.say("let %s sense people", tags(loads))
}
