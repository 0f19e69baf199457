package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// ScheduleLightsVacancy looks for a schedule that lights a room in which only a
// person shall.
var ScheduleLightsVacancy = rule.Rule{
	ID: "sequence-schedule-lights-vacancy", Title: "Schedule lights a room of vacancy sensors", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Vacancy sensors were chosen so that light comes by a person's act; a schedule that lights the empty room at seven takes that back, and no report follows that would turn it off.",
	Source:  commonPractice,
	Example: "A schedule on at 07:00 to 100 % passes with occupancy sensors, and with vacancy sensors at 0 %; with vacancy sensors and 10 % it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.BySchedule || !in.GoesTo() || in.Scene == 0 && in.Level == 0 {
				return rule.Finding{}, false
			}
			lit := tagsOf(f, in, func(l *rule.Load) bool {
				return senses(f, l, domain.Vacancy) && !senses(f, l, domain.Occupancy) && (in.Scene == 0 || domain.Action{Verb: domain.ToScene, Scene: in.Scene}.TurnsOn(f.Design, l.ID))
			})
			if len(lit) == 0 {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Subjects = append(out.Subjects, lit...)
			out.Message = fmt.Sprintf("At %s the schedule lights %s, and the sensors that act on %s are vacancy sensors, which leave that to a person: take the time away, or make them occupancy sensors.", in.OnAt, rule.Tags(lit), verb(lit, "it", "them"))
			if in.OffAt != "" {
				out.Fix = rule.SetFields("Take the time away", path(in, "on_at"), "")
			}
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return mornings("10") },
	Quiet: func() *domaintest.Builder { return mornings("0") },
}

// mornings gives a classroom that a schedule sets to a level at seven.
func mornings(level string) *domaintest.Builder {
	return domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/on_at", "07:00", "intents/clock/level", level)
}
