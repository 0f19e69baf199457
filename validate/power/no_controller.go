package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// NoController asks for the controller that carries each load.
var NoController = rule.Rule{
	ID: "power-no-controller", Title: "Load without a controller", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A load that is wired to nothing cannot be switched or dimmed, and the electrician has nowhere to take its circuit.",
	Source:  commonPractice,
	Example: "A load on an output of a controller passes; one on none does not. Egress lighting that nothing controls passes: it burns all the time.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if l.Controller != "" || f.AlwaysOn(i) {
				continue
			}
			found := rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()}}
			found.Message = fmt.Sprintf("%s is on no controller: choose one and an output, or add a controller.", rule.Named(l.Tag))
			if d, n := place(f, l); d != nil {
				found.Message = fmt.Sprintf("%s is on no controller, and %s is free: put it there, or add a controller.", rule.Named(l.Tag), outputName(d, n))
				found.Fix = rule.SetFields("Put "+rule.Named(l.Tag)+" on "+outputName(d, n), "loads/"+string(l.ID)+"/controller", string(d.ID))
			} else {
				found.Fix = f.SpreadFix([]*rule.Load{l})
			}
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return together("a").Carry("l5", "", 0) },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

// place gives a controller with a free output that suits the load by its kind,
// dimming method and volts.
func place(f *rule.Facts, l *rule.Load) (*rule.Device, int) {
	volts := l.Voltage(f.Project)
	for i := range f.Devices {
		d := &f.Devices[i]
		if !d.Traits.Loads || d.Traits.OwnOnly || (d.Type.Kind == equipment.Plug) != (l.Kind == domain.Receptacle) {
			continue
		}
		if n := freeOutput(f, d); n > 0 && d.Type.CanDim(l.Dimming) && d.Type.TakesVolts(volts) {
			return d, n
		}
	}
	return nil, 0
}
