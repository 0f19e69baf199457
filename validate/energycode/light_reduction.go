package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// LightReduction asks for an even reduction by hand, where neither people nor daylight are sensed.
var LightReduction = rule.Rule{
	ID: "energycode-light-reduction", Title: "No even reduction by hand", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Where nothing senses people or daylight, only people can take the light down, and all of it together or not at all.",
	Source:  source,
	Example: "IECC 2021, library: a button for 50 % of all general lighting passes, one for 51 % does not.",
	Claims:  []code.Control{code.LightReduction}, Excepts: excepted(code.LightReduction),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.LightReduction), someLevel) },
	Fires: func() *domaintest.Builder {
		return library("51")
	},
	Quiet: func() *domaintest.Builder {
		return library("50")
	},
}
