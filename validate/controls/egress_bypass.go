package controls

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// EgressBypass asks for the device that overrides control on loss of normal power.
var EgressBypass = rule.Rule{
	ID: "controls-egress-bypass", Title: "Egress lighting without its bypass device", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "When normal power is lost the control is dead at the level it had: a listed device must bring egress lighting to full by itself.",
	Source:  "UL 924; NEC 700.26 permits an automatic load control relay (from the trade's press; confirm against the adopted text)",
	Example: "A controlled egress load with its bypass device named passes, without it does not. An egress load on no controller passes.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if !l.Egress || l.Controller == "" || l.Bypass != "" {
				continue
			}
			out = append(out, rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()},
				Message: fmt.Sprintf("Egress load %s is on a controller, and no listed bypass device is named: name it, with where it senses normal power. Caution: local codes and licensed people decide.", rule.Named(l.Tag))})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return egress().Set("loads/l4/bypass", "") },
	Quiet: egress,
}
