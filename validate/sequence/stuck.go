package sequence

import (
	"fmt"

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
			out := about(f, one.Loads[0])
			for _, l := range one.Loads[1:] {
				out.Subjects = append(out.Subjects, rule.LoadSubject(&f.Design.Loads[l]))
			}
			out.Message = fmt.Sprintf("Nothing that people do has any effect on %s after: %s. Give the room a way out of that state. Play the steps on the rehearsal page.", rule.Tags(out.Subjects), ways(f, one.Steps))
			return out
		})
	},
	Fires: func() *domaintest.Builder { return locked("100") },
	Quiet: func() *domaintest.Builder { return freed(locked("100")) },
}
