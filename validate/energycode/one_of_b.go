package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// OneOfB holds how lighting goes off: by sensors, or by the clock.
var OneOfB = rule.Rule{
	ID: "energycode-one-of-b", Title: "Light goes off neither by sensors nor by the clock in time", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Someone forgets the light in every building every night: either sensors or the clock have to turn it off.",
	Source:  source,
	Example: "ASHRAE 90.1-2019, workshop classroom: off 20 min after the last person passes, a second later it does not, unless a schedule turns it off.",
	Claims:  []code.Control{code.FullOff, code.ScheduledShutoff}, Excepts: excepted(code.FullOff, code.ScheduledShutoff),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, anyOf(code.OneOfB), offAnyhow) },
	Fires: func() *domaintest.Builder {
		return workshop("18 min 59 s")
	},
	Quiet: func() *domaintest.Builder {
		return workshop("18 min 58 s")
	},
}

// offAnyhow lets sensors turn the light off where the room has any that act on all of
// it, else the clock.
func offAnyhow(m *mending) {
	sensed := len(m.devices(presence)) > 0
	for _, l := range m.short() {
		k := m.known(l)
		sensed = sensed && k != nil && len(k.Vacant) > 0
	}
	if sensed && m.c.Pack.Parameter(code.FullOff, "delay") != nil {
		dark(m)
		return
	}
	byClock(m)
}
