package sequence

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// EntryDark asks to which level entering lights a room.
var EntryDark = rule.Rule{
	ID: "sequence-entry-dark", Title: "Entering lights to no level", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The sequence says that people entering light the loads, and then sets them to nothing.",
	Source:  commonPractice,
	Example: "With occupancy sensors, lights on entry at 1 % passes; at 0 and without a scene it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.ByPresence || !in.Enters || in.Scene > 0 || in.Level > 0 || !anyTarget(f, in, func(l *rule.Load) bool { return senses(f, l, domain.Occupancy) }) {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Message = "When someone enters, the loads go to 0 %: state a level or a scene."
			out.Fix = rule.SetFields("Light to 100 %", path(in, "level"), "100")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return entered("0") },
	Quiet: func() *domaintest.Builder { return entered("10") },
}

// entered gives a classroom that lights on entry.
func entered(level string) *domaintest.Builder {
	return domaintest.Classroom().Set("devices/ps/presence", "occupancy", "intents/i2/enters", "yes", "intents/i2/level", level)
}
