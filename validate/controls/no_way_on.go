package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// NoWayOn asks for something that turns each load on.
var NoWayOn = rule.Rule{
	ID: "controls-no-way-on", Title: "Nothing turns the load on", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A load that nothing turns on stays dark or dead after its first off.",
	Source:  commonPractice,
	Example: "A lighting load that one button sets to 100 passes; one that buttons only turn off does not. Egress lighting that nothing turns off passes: it burns all the time.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if p := f.Paths(i); p.On > 0 || l.Egress && p.Off == 0 {
				continue
			}
			found := rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()}}
			todo := "let a button, an occupancy sensor, a schedule, a contact or an AV command turn it on"
			if l.Kind == domain.Receptacle {
				todo = "let a presence sensor act on it (ACT) and add a receptacle intent, or a schedule"
			}
			found.Message = fmt.Sprintf("Nothing turns %s on: %s.", rule.Named(l.Tag), todo)
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		b := domaintest.Classroom().Set("scenes/s1/levels/l4", "leave")
		return b
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("scenes/s1/levels/l4", "10") },
}
