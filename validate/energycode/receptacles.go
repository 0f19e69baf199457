package energycode

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Receptacles asks that a share of the receptacles goes dead when the room is empty.
var Receptacles = rule.Rule{
	ID: "energycode-receptacles", Title: "Too few receptacles go dead in time when the room is empty", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Screens, lamps and chargers draw power all night where nothing turns their outlets off.",
	Source:  source,
	Example: "ASHRAE 90.1-2019, classroom: half of the receptacles dead 20 min after the last person's leaving pass, a second later they do not.",
	Claims:  []code.Control{code.Receptacles}, Excepts: excepted(code.Receptacles),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.Receptacles), deadOutlets) },
	Fires: func() *domaintest.Builder {
		return outletsAfter("20 min 1 s")
	},
	Quiet: func() *domaintest.Builder {
		return outletsAfter("20 min")
	},
}

// deadOutlets shortens the delay of receptacle intents, and lets sensors and an intent
// act on receptacles that nothing turns off. How many are controlled is a person's to
// say.
func deadOutlets(m *mending) {
	o := &m.c.Facts.Receptacles
	most := units.Seconds(60 * m.figure(code.Receptacles, "delay"))
	var bare []*rule.Load
	count := o.Controlled
	for i := range m.f.Loads {
		l := &m.f.Loads[i]
		switch {
		case l.Kind != domain.Receptacle || l.Carrier == nil || !l.Carrier.Traits.Loads:
		case slices.Contains(o.Uncontrol, l.Tag):
			bare, count = append(bare, l), count+l.Count
		default:
			for _, in := range m.intents(domain.ForReceptacles, l) {
				m.shorten(in, "intents/"+string(in.ID), l, most-in.Warning)
			}
		}
	}
	if n := m.a.Broken(); n != nil && n.Unit == "" && float64(count) < n.Limit {
		m.stuck = true
	}
	if len(bare) == 0 || m.stuck {
		return
	}
	sensors := m.sensors(presence, equipment.Presence, "presence sensor")
	if m.stuck {
		return
	}
	m.acts(sensors, bare)
	m.intend(domain.ForReceptacles, bare, "receptacle", "delay_s", wait(min(usualWait, most)))
	m.say("let %s go dead when the room is empty", tags(bare))
}
