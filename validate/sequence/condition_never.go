package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ConditionNever looks for conditions that can never hold.
var ConditionNever = rule.Rule{
	ID: "sequence-condition-never", Title: "Condition that never holds", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "The statement prints, is read and is tested, and never does anything.",
	Source:  commonPractice,
	Example: "Only while daylight is below 300 lx and above 299 lx passes; below 300 lx and above 300 lx does not, nor does only in mode event where nothing sets it, nor a window from 22:00 until 22:00.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			list := parts(f, in)
			p, bad := first(list, never)
			if in.Unless {
				if bad = every(list, always); bad {
					p = list[0]
				}
			}
			if !bad {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Message = fmt.Sprintf("The condition of the intent %s never lets it act: %s. Change the condition, or remove the intent.", in.Kind.Title(), p.why)
			return out, true
		})
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Set("intents/i3/darker_than_lx", "300 lx", "intents/i3/brighter_than_lx", "300 lx")
	},
	Quiet: func() *domaintest.Builder {
		return domaintest.Classroom().Set("intents/i3/darker_than_lx", "300 lx", "intents/i3/brighter_than_lx", "299 lx")
	},
}
