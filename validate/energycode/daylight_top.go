package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// DaylightTop asks for a response to daylight under rooflights.
var DaylightTop = rule.Rule{
	ID: "energycode-daylight-top", Title: "General lighting under rooflights does not answer daylight as the code asks", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Under rooflights the day is bright for most of the year, and lights that stay on are not even noticed.",
	Source:  source,
	Example: "ASHRAE 90.1-2019: 150 W of general lighting under rooflights must dim to 20 % and then go off; one that never goes off does not pass.",
	Claims:  []code.Control{code.DaylightTop}, Excepts: excepted(code.DaylightTop),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.DaylightTop), answerDaylight) },
	Fires: func() *domaintest.Builder {
		return toplit("no")
	},
	Quiet: func() *domaintest.Builder {
		return toplit("yes")
	},
}
