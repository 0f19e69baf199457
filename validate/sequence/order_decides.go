package sequence

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// OrderDecides asks whether the order in which intents stand in the list changes what a load does.
var OrderDecides = rule.Rule{
	ID: "sequence-order-decides", Title: "Intents whose order decides", Severity: rule.Warning, Scope: rule.OfRoom, Deep: true,
	Why:     "Two intents answer one event with different levels: which wins is chance, and the next revision may turn it round.",
	Source:  commonPractice,
	Example: "Two intents for one AV command with 40 % and 80 % do not pass; with 40 % both, they do.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.Order, func(one *prove.Found) rule.Finding {
			out := about(f, one.Load)
			which := "when the intents stand in the other order"
			if one.Intent >= 0 && one.Other >= 0 {
				a, b := &f.Design.Intents[one.Intent], &f.Design.Intents[one.Other]
				out.Subjects = append(out.Subjects, rule.IntentSubject(a), rule.IntentSubject(b))
				which = fmt.Sprintf("when intents %d and %d (%s, %s) change places", a.Seq, b.Seq, a.Kind.Title(), b.Kind.Title())
			}
			out.Message = fmt.Sprintf("After %s, %s is at another level %s: both speak of it at the same instant. Give them conditions that keep them apart, or take one away.", ways(f, one.Steps), out.Subjects[0].Tag, which)
			return out
		})
	},
	Fires: func() *domaintest.Builder { return answered("40", "80") },
	Quiet: func() *domaintest.Builder { return answered("40", "40") },
}
