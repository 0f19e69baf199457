package sequence

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// DemandLevel looks at the cap of demand response, which is a share of the
// level that loads then have.
var DemandLevel = rule.Rule{
	ID: "sequence-demand-level", Title: "Demand response that saves nothing or darkens the room", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "The cap is a share of the level that a load has when the call comes: the whole of it sheds no load, and none of it leaves people in the dark.",
	Source:  commonPractice,
	Example: "Caps of 99 % and of 1 % pass; 100 % and 0 do not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.OnDemandResponse || in.Level > 0 && in.Level < 100 {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Message = "During demand response the loads are capped at 0 % of their level, which puts people in the dark: state a share that still lights them, for example 80 %."
			if in.Level > 0 {
				out.Message = "During demand response the loads are capped at 100 % of their level, which sheds nothing: state a lower share, for example 80 %."
			}
			out.Fix = rule.SetFields("Cap at 80 %", path(in, "level"), "80")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return shed("100") },
	Quiet: func() *domaintest.Builder { return shed("99") },
}

// shed gives a classroom that takes part in demand response.
func shed(level string) *domaintest.Builder {
	return domaintest.Classroom().Do(edit.AddIntent{ID: "shed", Kind: domain.OnDemandResponse}).Set("intents/shed/level", level)
}
