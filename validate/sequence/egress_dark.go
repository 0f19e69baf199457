package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// EgressDark asks whether any sequence of events puts egress lighting off while there is power.
var EgressDark = rule.Rule{
	ID: "sequence-egress-dark", Title: "Egress lighting that a sequence puts off", Severity: rule.Error, Scope: rule.OfRoom, Deep: true,
	Why:     "The way out must be lit while people may use it; local codes and the authority having jurisdiction say when and how much.",
	Source:  commonPractice,
	Example: "An egress load that a button puts off does not pass; one that it dims to 20 % does.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.Egress, func(one *prove.Found) rule.Finding {
			out := about(f, one.Load)
			out.Message = fmt.Sprintf("%s lights the way out and goes dark after: %s. Keep it at its egress level there, or take it off what darkens it; the authority having jurisdiction decides. Play the steps on the rehearsal page.", out.Subjects[0].Tag, ways(f, one.Steps))
			return out
		})
	},
	Fires: func() *domaintest.Builder { return switched().Set("loads/l1/egress", "yes") },
	Quiet: func() *domaintest.Builder {
		return switched().Set("loads/l1/egress", "yes").Link("st", 2, domain.Press, "l1", "20")
	},
}
