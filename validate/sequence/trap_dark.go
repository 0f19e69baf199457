package sequence

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// TrapDark asks whether a load that can burn can always be lit again.
var TrapDark = rule.Rule{
	ID: "sequence-trap-dark", Title: "Load that can end up dark for good", Severity: rule.Error, Scope: rule.OfRoom, Deep: true,
	Why:     "Someone stands in a room where nothing they press gives light, until a technician comes.",
	Source:  commonPractice,
	Example: "A contact that locks a load at 0 % passes where its opening releases it; where nothing releases it, it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.NoWayOn, func(one *prove.Found) rule.Finding {
			out := about(f, one.Load)
			out.Message = fmt.Sprintf("Nothing can light %s again after: %s. Give it a way out of that: a release, an end in time, or a button that still acts. Play the steps on the rehearsal page.", out.Subjects[0].Tag, ways(f, one.Steps))
			return out
		})
	},
	Fires: func() *domaintest.Builder { return locked("0") },
	Quiet: func() *domaintest.Builder { return freed(locked("0")) },
}
