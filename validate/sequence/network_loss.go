package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// NetworkLoss asks about loads that only a schedule turns off, in a room whose
// schedule comes over the building network.
var NetworkLoss = rule.Rule{
	ID: "sequence-network-loss", Title: "Not said what the loss of the network does", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "A schedule that comes over the network does not come while it is down: loads that nothing else turns off burn until it is back.",
	Source:  commonPractice,
	Example: "In a room with a gateway, a load that only a schedule turns off passes with a network loss intent for it, and without one where a presence sensor turns it off too; else it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		if f.Count(func(d *rule.Device) bool { return d.Type != nil && d.Type.Kind == equipment.Gateway }) == 0 {
			return nil
		}
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if !switchesOff(in) {
				return rule.Finding{}, false
			}
			open := tagsOf(f, in, func(l *rule.Load) bool { return !leaves(f, l) && !l.Egress && !saidOnLoss(f, l) })
			if len(open) == 0 {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Subjects = append(out.Subjects, open...)
			out.Message = fmt.Sprintf("Only the schedule turns %s off by itself, and it does not come while the building network is lost: add a network loss intent that says to which level %s then, or a presence sensor.", rule.Tags(open), verb(open, "it goes", "they go"))
			return out, true
		})
	},
	Fires: func() *domaintest.Builder {
		return unsensedBoard("2 h").Do(edit.Remove{Part: "intents", ID: "lost"})
	},
	Quiet: func() *domaintest.Builder { return unsensedBoard("2 h") },
}

func saidOnLoss(f *rule.Facts, l *rule.Load) bool {
	return anyIntent(f, func(in *domain.Intent) bool { return in.Kind == domain.OnNetworkLoss && in.ActsOn(l.Load) })
}
