package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// OverrideEndless asks when light that a person presses for after hours goes
// off again, where no sensor sees to it.
var OverrideEndless = rule.Rule{
	ID: "sequence-override-endless", Title: "After-hours press without an end", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.OverrideLongest},
	Why:     "The guard presses once at night, and the floor stays lit until the schedule turns it off the next evening.",
	Source:  "common practice; a limit of 2 h is usual in US energy codes, confirm against the adopted text",
	Example: "A schedule that turns off L4, which a button lights and no sensor turns off, passes with an override of 1 min and does not pass without one.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if !switchesOff(in) || in.Override > 0 {
				return rule.Finding{}, false
			}
			stay := tagsOf(f, in, func(l *rule.Load) bool { return lit(f, l) && !leaves(f, l) })
			if len(stay) == 0 {
				return rule.Finding{}, false
			}
			most := units.Seconds(f.Limit(domain.OverrideLongest))
			out := of(in)
			out.Subjects = append(out.Subjects, stay...)
			out.Message = fmt.Sprintf("After %s a press lights %s with no end, and no sensor turns %s off: state for how long a press brings light back, at most %s.", in.OffAt, rule.Tags(stay), verb(stay, "it", "them"), units.Duration(most))
			out.Fix = rule.SetFields("Set the override to "+units.Duration(most), path(in, "override_s"), units.Trim(float64(most), 3)+" s")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return unsensedBoard("") },
	Quiet: func() *domaintest.Builder { return unsensedBoard("1 min") },
}

// unsensedBoard gives a classroom whose board load no sensor turns off, but a
// schedule, and that says what the loss of the network does.
func unsensedBoard(override string) *domaintest.Builder {
	return domaintest.Classroom().Link("ps", 0, "", "l4", "-").Set("intents/i2/loads", "L1, L2, L3").
		Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/loads", "L4", "intents/clock/override_s", override).
		Do(edit.AddIntent{ID: "lost", Kind: domain.OnNetworkLoss})
}
