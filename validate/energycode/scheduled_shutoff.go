package energycode

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// ScheduledShutoff asks that all lighting goes off by the clock.
var ScheduledShutoff = rule.Rule{
	ID: "energycode-scheduled-shutoff", Title: "Light does not go off by the clock as the code asks", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Where no sensor turns the light off, only the clock does; and a press after hours that never ends undoes it.",
	Source:  source,
	Example: "ASHRAE 90.1-2022, workshop classroom: an off at 22:00 after which a press brings light back for 2 h passes, for 2 h 1 min it does not.",
	Claims:  []code.Control{code.ScheduledShutoff}, Excepts: excepted(code.ScheduledShutoff),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.ScheduledShutoff), byClock) },
	Fires: func() *domaintest.Builder {
		return scheduled("121 min")
	},
	Quiet: func() *domaintest.Builder {
		return scheduled("120 min")
	},
}

// byClock shortens overrides, and adds a schedule for loads without one.
func byClock(m *mending) {
	longest := domain.NewIntent("", domain.BySchedule).Override
	if most := units.Seconds(3600 * m.figure(code.ScheduledShutoff, "override")); most < longest {
		longest = most
	}
	var bare []*rule.Load
	for _, l := range m.short() {
		k := m.known(l)
		switch {
		case k == nil:
			m.stuck = true
			return
		case len(k.Off) == 0:
			bare = append(bare, l)
		default:
			m.override(l, longest)
		}
	}
	if len(bare) == 0 {
		return
	}
	spares := "no"
	if len(m.devices(presence)) > 0 {
		spares = "yes" // people who are still in keep their light
	}
	m.intend(domain.BySchedule, bare, "schedule", "override_s", units.Duration(longest), "spares_people", spares)
}

// override ends what a press after the schedule's off brings back.
func (m *mending) override(l *rule.Load, longest units.Seconds) {
	some := false
	for _, in := range m.changes(domain.BySchedule, l) {
		if in.OffAt == "" || in.Do == domain.SetMode {
			continue
		}
		if some = true; in.Override <= 0 || in.Override > longest {
			m.set("intents/"+string(in.ID)+"/override_s", units.Duration(longest))
			m.say("end the override after %s", units.Duration(longest))
		}
	}
	m.stuck = m.stuck || !some // an off by mode has no override to end
}
