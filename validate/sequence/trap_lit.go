package sequence

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// TrapLit asks whether a load that can be dark can always be put off again.
var TrapLit = rule.Rule{
	ID: "sequence-trap-lit", Title: "Load that can end up burning for good", Severity: rule.Error, Scope: rule.OfRoom, Deep: true,
	Why:     "The load burns day and night, and no one in the room can put it off.",
	Source:  commonPractice,
	Example: "A contact that locks a load at 100 % passes where its opening releases it; where nothing releases it, it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.NoWayOff, func(one *prove.Found) rule.Finding {
			out := about(f, one.Load)
			out.Message = fmt.Sprintf("Nothing can put %s off again after: %s. Give it a way out of that: a release, an end in time, or a button that still acts. Play the steps on the rehearsal page.", out.Subjects[0].Tag, ways(f, one.Steps))
			return out
		})
	},
	Fires: func() *domaintest.Builder { return locked("100") },
	Quiet: func() *domaintest.Builder { return freed(locked("100")) },
}
