package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// ScheduleOverPeople asks whether a schedule may darken a room over people that
// sensors know of.
var ScheduleOverPeople = rule.Rule{
	ID: "sequence-schedule-over-people", Title: "Schedule turns off over people without a warning", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Sensors know that people are there, and at ten sharp they sit in the dark.",
	Source:  commonPractice,
	Example: "A schedule off on loads that a presence sensor acts on passes with a warning of 1 s or when it waits for people; with neither it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if !switchesOff(in) || in.Spares || in.Warning > 0 {
				return rule.Finding{}, false
			}
			over := tagsOf(f, in, func(l *rule.Load) bool { return senses(f, l, "") })
			if len(over) == 0 {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Subjects = append(out.Subjects, over...)
			out.Message = fmt.Sprintf("At %s the schedule turns %s off, whether or not the presence sensors report people, and without a warning: let it wait for people, or add a warning.", in.OffAt, rule.Tags(over))
			out.Fix = rule.SetFields("Let it wait for people", path(in, "spares_people"), "yes")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return curfew("") },
	Quiet: func() *domaintest.Builder { return curfew("1 s") },
}

// curfew gives a classroom that a schedule turns off at ten in the evening.
func curfew(warning string) *domaintest.Builder {
	return domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/warning_s", warning)
}
