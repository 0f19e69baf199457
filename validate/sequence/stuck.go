package sequence

import (
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// StuckState asks whether the room can come to a state that nothing changes.
var StuckState = rule.Rule{
	ID: "sequence-stuck", Title: "State that no one can leave", Severity: rule.Error, Scope: rule.OfRoom, Deep: true,
	Why:     "From then on every button and sensor of the room is without effect.",
	Source:  commonPractice,
	Example: "A contact that locks the only load passes where its opening releases it; where nothing releases it, the room is stuck.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.Stuck, func(one *prove.Found) rule.Finding {
			out := rule.Finding{}
			out.Message = "Nothing in this room has any effect after: " + ways(f, one.Steps) + ". Give the room a way out of that state. Play the steps on the rehearsal page."
			return out
		})
	},
	Fires: func() *domaintest.Builder { return locked("100") },
	Quiet: func() *domaintest.Builder { return freed(locked("100")) },
}
