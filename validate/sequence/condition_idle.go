package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ConditionIdle looks for conditions that change nothing.
var ConditionIdle = rule.Rule{
	ID: "sequence-condition-idle", Title: "Condition that changes nothing", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "A condition that always holds hides that something else was meant: a calendar not yet written, a sensor not yet placed.",
	Source:  commonPractice,
	Example: "Only in mode normal passes where the calendar brings after hours as well; where no other mode ever comes it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			list := parts(f, in)
			bad := every(list, always)
			if in.Unless {
				bad = every(list, never)
			}
			if !bad {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Message = fmt.Sprintf("The condition of the intent %s changes nothing: %s. Take the condition away, or add what it waits for.", in.Kind.Title(), list[0].why)
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i1/modes", "normal") },
	Quiet: func() *domaintest.Builder {
		b := domaintest.Classroom().Set("intents/i1/modes", "normal")
		b.P.Calendar = []string{"22:00 after hours", "07:00 normal"}
		return b
	},
}
