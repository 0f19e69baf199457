package sequence

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// LitAlone asks whether light in a room of vacancy sensors can come on without a person.
var LitAlone = rule.Rule{
	ID: "sequence-lit-alone", Title: "Light without a person in a vacancy room", Severity: rule.Error, Scope: rule.OfRoom, Deep: true,
	Why:     "Manual-on is what the vacancy kind promises and what many energy codes ask for.",
	Source:  commonPractice,
	Example: "A mode that ends by its time and then lights a load of a vacancy room does not pass; one that puts it off does.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.LitAlone, func(one *prove.Found) rule.Finding {
			out := about(f, one.Load)
			out.Message = fmt.Sprintf("%s comes on though no one pressed, by: %s. Vacancy sensors promise that only a person lights the room: let that intent put off or dim, not light. Play the steps on the rehearsal page.", out.Subjects[0].Tag, ways(f, one.Steps))
			return out
		})
	},
	Fires: func() *domaintest.Builder { return afterCleaning("100") },
	Quiet: func() *domaintest.Builder { return afterCleaning("0") },
}
