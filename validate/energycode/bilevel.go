package energycode

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// Bilevel asks for a level between off and full by hand.
var Bilevel = rule.Rule{
	ID: "energycode-bilevel", Title: "No level between off and full", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Where there are only off and full, people take full.",
	Source:  source,
	Example: "ASHRAE 90.1-2019: a scene with 30 % of the general lighting power passes, with 29 % it does not; so do buttons that raise and lower all of it.",
	Claims:  []code.Control{code.Bilevel}, Excepts: excepted(code.Bilevel),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.Bilevel), someLevel) },
	Fires: func() *domaintest.Builder {
		return levelled("29")
	},
	Quiet: func() *domaintest.Builder {
		return levelled("30")
	},
}

// someLevel gives the general lighting buttons that raise and lower it, or one for half.
func someLevel(m *mending) {
	var loads []*rule.Load
	dims := true
	for i := range m.f.Loads {
		if l := &m.f.Loads[i]; l.Kind != domain.Receptacle && general(l) {
			loads, dims = append(loads, l), dims && l.Dims()
		}
	}
	if !dims {
		m.stuck = true
		return
	}
	m.press(loads, key{"Raise", "UP"}, key{"Lower", "DN"})
}
