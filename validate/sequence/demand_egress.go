package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// DemandEgress keeps demand response away from egress lighting.
var DemandEgress = rule.Rule{
	ID: "sequence-demand-egress", Title: "Demand response caps egress lighting", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A call of the utility must not take light from the way out.",
	Source:  commonPractice + "; what light the way out needs is for the adopted code to say",
	Example: "A demand response intent for all loads passes, since it leaves egress lighting out; one that names an egress load does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.OnDemandResponse || len(in.Loads) == 0 {
				return rule.Finding{}, false
			}
			capped := tagsOf(f, in, func(l *rule.Load) bool { return l.Egress })
			if len(capped) == 0 {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Subjects = append(out.Subjects, capped...)
			out.Message = fmt.Sprintf("Demand response caps egress lighting: take %s out of the intent. Caution: local codes and the authority having jurisdiction decide; accepting this is not for the designer alone.", rule.Tags(capped))
			rest := ""
			for _, s := range tagsOf(f, in, func(l *rule.Load) bool { return !l.Egress }) {
				rest += string(s.ID) + ","
			}
			out.Fix = rule.SetFields("Take it out", path(in, "loads"), rest)
			if rest == "" { // no loads named would come to mean others
				out.Fix = &rule.Fix{Title: "Remove the intent, which is for nothing else", Edits: []edit.Edit{edit.Remove{Part: "intents", ID: in.ID}}}
			}
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return wayOut().Set("intents/shed/loads", "L1, L4") },
	Quiet: func() *domaintest.Builder { return wayOut() },
}

// wayOut gives a classroom whose board load is egress lighting that nothing
// darkens, with demand response for all loads.
func wayOut() *domaintest.Builder {
	return shed("80").Set("loads/l4/egress", "yes", "loads/l4/bypass", "Bypass relay, listed", "scenes/s2/levels/l4", "20", "intents/i2/off_level", "20").
		Link("st", 4, domain.Press, "l4", "20")
}
