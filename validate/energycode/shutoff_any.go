package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// ShutoffAny asks for off by sensors or by the clock, where the code names both in one row.
var ShutoffAny = rule.Rule{
	ID: "energycode-shutoff-any", Title: "Light goes off neither by sensors nor by the clock", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Someone forgets the light in every building every night: either sensors or the clock have to turn it off.",
	Source:  source,
	Example: "California 2022, laboratory: off 20 min after the last person passes, a second later it does not, unless a schedule turns it off.",
	Claims:  []code.Control{code.ShutoffAny}, Excepts: excepted(code.ShutoffAny),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.ShutoffAny), offAnyhow) },
	Fires: func() *domaintest.Builder {
		return laboratory("18 min 59 s")
	},
	Quiet: func() *domaintest.Builder {
		return laboratory("18 min 58 s")
	},
}
