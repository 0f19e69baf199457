package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// PowerDensity notes a room over the lighting power of its kind of space.
var PowerDensity = rule.Rule{
	ID: "energycode-power-density", Title: "Lighting power over what the code allows the kind of space", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "Codes compare sums over the building: what this room is over, others have to leave.",
	Source:  source,
	Example: "ASHRAE 90.1-2019, classroom: 0.71 W/ft2 pass; more is noted, since other rooms may leave it.",
	Claims:  []code.Control{code.PowerDensity}, Excepts: excepted(code.PowerDensity),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.PowerDensity), nil) },
	Fires: func() *domaintest.Builder {
		return powered("370 ft2")
	},
	Quiet: func() *domaintest.Builder {
		return powered("375 ft2")
	},
}
