package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// PartialOff asks that an empty room's general lighting falls.
var PartialOff = rule.Rule{
	ID: "energycode-partial-off", Title: "Light does not fall enough when the room is empty", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Corridors, stairs and stores are empty most of the day, and lit for nobody.",
	Source:  source,
	Example: "ASHRAE 90.1-2019, corridor: to 50 % within 20 min passes, to 51 % does not.",
	Claims:  []code.Control{code.PartialOff}, Excepts: excepted(code.PartialOff),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.PartialOff), fall) },
	Fires: func() *domaintest.Builder {
		return corridor("51")
	},
	Quiet: func() *domaintest.Builder {
		return corridor("50")
	},
}

// fall lets the general lighting of an empty room fall as far as the code asks.
func fall(m *mending) {
	if n := m.a.Broken(); n != nil && n.Unit == "W" {
		m.stuck = true // more zones: a person's to say
	}
	reduction := m.figureOfRow()
	m.darken(100-reduction, m.figure(code.PartialOff, "delay"))
}

// figureOfRow gives the reduction that the row of the kind of space states, else that
// of the code.
func (m *mending) figureOfRow() float64 {
	if r := m.c.Pack.Requirement(m.c.Kind.Space, code.PartialOff); r != nil && r.Reduction > 0 {
		return r.Reduction
	}
	return m.figure(code.PartialOff, "reduction")
}
