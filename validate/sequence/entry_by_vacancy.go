package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// EntryByVacancy looks for light on entry where the sensors are of the kind
// that lights nothing.
var EntryByVacancy = rule.Rule{
	ID: "sequence-entry-by-vacancy", Title: "Lights on entry, but the sensors are vacancy sensors", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A vacancy sensor notes people and lights nothing: the sheet promises light that does not come.",
	Source:  commonPractice,
	Example: "Light on entry passes where one of the sensors that act on the loads is an occupancy sensor; with vacancy sensors alone it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.ByPresence || !in.Enters || !anyTarget(f, in, func(l *rule.Load) bool { return senses(f, l, "") }) ||
				anyTarget(f, in, func(l *rule.Load) bool { return senses(f, l, domain.Occupancy) }) {
				return rule.Finding{}, false
			}
			out := of(in)
			loads := tagsOf(f, in, func(l *rule.Load) bool { return senses(f, l, "") })
			out.Message = fmt.Sprintf("The intent lights %s on entry, and all sensors that act on %s are vacancy sensors, which light nothing: let a person press, or make them occupancy sensors.", rule.Tags(loads), verb(loads, "it", "them"))
			out.Fix = rule.SetFields("Let a person press for light", path(in, "enters"), "no")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Set("intents/i2/enters", "yes", "intents/i2/level", "100")
	},
	Quiet: func() *domaintest.Builder { return entered("100") },
}
