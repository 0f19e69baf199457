package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// SmallZones asks that a large office is cut into zones that fall by themselves.
var SmallZones = rule.Rule{
	ID: "energycode-small-zones", Title: "Zones of a large office too large or too few", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "One person who works late keeps the light of a whole floor burning.",
	Source:  source,
	Example: "IECC 2021, open office: 600 ft2 under one set of sensors pass; over 600 ft2 two zones are needed, each with sensors of its own.",
	Claims:  []code.Control{code.SmallZones}, Excepts: excepted(code.SmallZones),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.SmallZones), zonesDark) },
	Fires: func() *domaintest.Builder {
		return openOffice("601 ft2")
	},
	Quiet: func() *domaintest.Builder {
		return openOffice("600 ft2")
	},
}

// zonesDark lets zones that are there fall as far as the code asks. How to cut a room
// into more of them is a person's to say.
func zonesDark(m *mending) {
	reduction, minutes := m.figure(code.SmallZones, "reduction"), m.figure(code.SmallZones, "delay")
	if n := m.a.Broken(); n != nil && (n.Name == "zones" || n.Unit == "ft2") {
		m.stuck = true
	}
	m.darken(100-reduction, minutes)
}
