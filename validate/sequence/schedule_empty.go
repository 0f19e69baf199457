package sequence

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// ScheduleEmpty asks whether a schedule lights an empty room that then burns on.
var ScheduleEmpty = rule.Rule{
	ID: "sequence-schedule-empty", Title: "Schedule that lights an empty room without end", Severity: rule.Warning, Scope: rule.OfRoom, Deep: true,
	Why:     "Presence sensors put out what people leave behind: where nobody came, nobody leaves, and the light burns until somebody does.",
	Source:  commonPractice,
	Example: "A schedule that turns a load with a presence sensor on at 07:00 and never off does not pass; with an off at 22:00 it does.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.LitEmpty, func(one *prove.Found) rule.Finding {
			out := about(f, one.Load)
			if one.Intent >= 0 {
				out.Subjects = append(out.Subjects, rule.IntentSubject(&f.Design.Intents[one.Intent]))
			}
			out.Message = fmt.Sprintf("The schedule lights %s with nobody there (%s), and time alone never puts it out. State when the schedule turns it off. Play the steps on the rehearsal page.", out.Subjects[0].Tag, ways(f, one.Steps))
			return out
		})
	},
	Fires: func() *domaintest.Builder { return morning("") },
	Quiet: func() *domaintest.Builder { return morning("22:00") },
}

// morning gives a room with a presence sensor that a schedule lights at seven.
func morning(off string) *domaintest.Builder {
	return nightly(true).Set("intents/clock/on_at", "07:00", "intents/clock/level", "100", "intents/clock/off_at", off)
}
