package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// ReceptacleDimmed keeps dimmers off receptacles.
var ReceptacleDimmed = rule.Rule{
	ID: "power-receptacle-dimmed", Title: "Dimmed receptacle", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Motors and power supplies on a dimmed receptacle overheat and burn.",
	Source:  commonPractice,
	Example: "A switched receptacle passes; one with a dimming method does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if l.Kind != domain.Receptacle || !l.Dims() {
				continue
			}
			found := rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()}, Fix: rule.SetFields("Switch it", "loads/"+string(l.ID)+"/dimming", string(equipment.Switched))}
			found.Message = fmt.Sprintf("%s is a receptacle and set to be dimmed by %s: receptacles are only switched. Caution: fire hazard.", rule.Named(l.Tag), l.Dimming)
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/r1/dimming", "0-10V") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
