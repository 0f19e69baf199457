package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Override holds the after-hours override of a schedule to its limit.
var Override = rule.Rule{
	ID: "controls-override", Title: "After-hours override too long", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.OverrideLongest},
	Why:     "A press at ten in the evening must not keep a floor lit till morning.",
	Source:  "2 h, usual in US energy codes; confirm against the adopted text",
	Example: "An override of 2 h passes at a limit of 2 h; 2 h 1 min is 1 min over.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Intents {
			in := &f.Design.Intents[i]
			if in.Kind != domain.BySchedule || in.OffAt == "" || in.Override == 0 {
				continue
			}
			most := f.Limit(domain.OverrideLongest)
			if units.AtMost(float64(in.Override), most) {
				continue
			}
			found := rule.AtMost(float64(in.Override), most, "s")
			found.Key, found.Subjects = string(in.ID), []rule.Subject{rule.IntentSubject(in)}
			limit := units.Duration(units.Seconds(most))
			found.Message = fmt.Sprintf("A press brings the loads back for %s, limit %s: %s over. Shorten it; people may press again.", units.Duration(in.Override), limit, units.Duration(units.Seconds(-found.Margin)))
			found.Fix = rule.SetFields("Set the override to "+limit, "intents/"+string(in.ID)+"/override_s", units.Trim(most, 3)+" s")
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return evenings("121 min") },
	Quiet: func() *domaintest.Builder { return evenings("120 min") },
}

// evenings gives a classroom that a schedule turns off, with an override.
func evenings(override string) *domaintest.Builder {
	return domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/override_s", override)
}
