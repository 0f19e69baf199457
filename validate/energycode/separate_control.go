package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// SeparateControl asks for a control of its own for display and task lighting.
var SeparateControl = rule.Rule{
	ID: "energycode-separate-control", Title: "Display or task lighting without a control of its own", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Accent light that only goes on together with the room burns whenever someone is there.",
	Source:  source,
	Example: "ASHRAE 90.1-2019: a display load with buttons that leave the general lighting alone passes; one that only scenes for the whole room turn on and off does not.",
	Claims:  []code.Control{code.SeparateControl}, Excepts: excepted(code.SeparateControl),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.SeparateControl), ownButtons) },
	Fires: func() *domaintest.Builder {
		return display(false)
	},
	Quiet: func() *domaintest.Builder {
		return display(true)
	},
}

// ownButtons gives display and task lighting buttons that leave the rest alone.
func ownButtons(m *mending) {
	m.press(m.short(), key{"Accent on", "100"}, key{"Accent off", "0"})
}
