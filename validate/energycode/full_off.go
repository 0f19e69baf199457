package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// FullOff asks that all lighting goes off when the room is empty.
var FullOff = rule.Rule{
	ID: "energycode-full-off", Title: "Light does not go off in time when the room is empty", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "What burns in an empty room is the easiest saving there is. Delay, warning and fade count together.",
	Source:  source,
	Example: "ASHRAE 90.1-2019, classroom: off 20 min after the last person's leaving passes, one second later does not.",
	Claims:  []code.Control{code.FullOff}, Excepts: excepted(code.FullOff),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.FullOff), dark) },
	Fires: func() *domaintest.Builder {
		return emptied("18 min 59 s")
	},
	Quiet: func() *domaintest.Builder {
		return emptied("18 min 58 s")
	},
}

// dark lets all lighting go off in time.
func dark(m *mending) { m.darken(0, m.figure(code.FullOff, "delay")) }
