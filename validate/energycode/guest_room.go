package energycode

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// GuestRoom asks that lighting and receptacles go off when guests have left.
var GuestRoom = rule.Rule{
	ID: "energycode-guest-room", Title: "Guest room stays on after the guests have left", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Guests are out most of the day, and few turn off more than they see.",
	Source:  source,
	Example: "ASHRAE 90.1-2019: off 20 min after the guests' leaving passes, a second later it does not.",
	Claims:  []code.Control{code.GuestRoom}, Excepts: excepted(code.GuestRoom),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.GuestRoom), guestsOut) },
	Fires: func() *domaintest.Builder {
		return guests("18 min 59 s")
	},
	Quiet: func() *domaintest.Builder {
		return guests("18 min 58 s")
	},
}

// guestsOut lets lighting go off, and controlled receptacles go dead, in time.
func guestsOut(m *mending) {
	minutes := m.figure(code.GuestRoom, "delay")
	if len(m.a.Loads) > 0 {
		m.darken(0, minutes)
	}
	for i := range m.f.Loads {
		if l := &m.f.Loads[i]; l.Kind == domain.Receptacle {
			for _, in := range m.intents(domain.ForReceptacles, l) {
				m.shorten(in, "intents/"+string(in.ID), l, units.Seconds(60*minutes)-in.Warning)
			}
		}
	}
}
