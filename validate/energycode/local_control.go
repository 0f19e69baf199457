package energycode

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// LocalControl asks for a control by hand of all lighting, each for no more than the code's area.
var LocalControl = rule.Rule{
	ID: "energycode-local-control", Title: "No control by hand for all lighting", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "People who cannot switch the light leave it on, or work in the wrong one; and one switch for half a hall wastes the other half.",
	Source:  source,
	Example: "ASHRAE 90.1-2019: a load that no button turns off does not pass; one button for 2,500 ft2 of a room passes, for more it does not.",
	Claims:  []code.Control{code.LocalControl}, Excepts: excepted(code.LocalControl),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.LocalControl), byHand) },
	Fires: func() *domaintest.Builder {
		return classroom().Set("scenes/s2/levels/l1", "40").Link("st", 4, domain.Press, "l1", "-")
	},
	Quiet: func() *domaintest.Builder {
		return classroom()
	},
}

// byHand gives the loads that cannot be turned on or off a station with both.
func byHand(m *mending) {
	m.press(m.short(), key{"On", "100"}, key{"Off", "0"})
}
