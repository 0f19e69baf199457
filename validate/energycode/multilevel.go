package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// Multilevel asks for many levels by hand in rooms beyond an area and a power density.
var Multilevel = rule.Rule{
	ID: "energycode-multilevel", Title: "Not dimmed by hand to many levels", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A large room is seldom used at its design level: without levels in between, it is lit for the hardest task all day.",
	Source:  source,
	Example: "California 2022: general lighting over 0.5 W/ft2 in a room of 100 ft2 that people raise and lower from full to 10 % passes; without a button to raise it does not.",
	Claims:  []code.Control{code.Multilevel}, Excepts: excepted(code.Multilevel),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.Multilevel), eachRaised) },
	Fires: func() *domaintest.Builder {
		return ramped("-")
	},
	Quiet: func() *domaintest.Builder {
		return ramped("UP")
	},
}

// eachRaised gives the loads that dim and that people cannot raise and lower buttons
// for both.
func eachRaised(m *mending) {
	loads := m.short()
	for _, l := range loads {
		if k := m.known(l); k == nil || !k.Dims || k.Ramps {
			m.stuck = true
			return
		}
	}
	m.press(loads, key{"Raise", "UP"}, key{"Lower", "DN"})
}
