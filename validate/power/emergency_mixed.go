package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// EmergencyMixed keeps circuits of the emergency source and others out of one
// controller.
var EmergencyMixed = rule.Rule{
	ID: "power-emergency-mixed", Title: "Emergency and normal circuits in one controller", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Wiring of the emergency source is kept apart from all other wiring, so that no fault of the one takes the other away.",
	Source:  "NEC 700.10 (from memory); " + commonPractice,
	Example: "A controller with loads of two normal circuits passes; one with a load of a circuit that is listed as fed by the emergency source and one of another does not, unless it is listed for that.",
	Check: func(f *rule.Facts) []rule.Finding {
		if !anyEmergency(f.Project) {
			return nil
		}
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Traits.Loads {
				continue
			}
			var emergency, normal []rule.Subject
			for j := range f.Loads {
				l := &f.Loads[j]
				if l.Carrier != d || l.Circuit == "" {
					continue
				}
				if k := f.Project.Circuit(l.Circuit); k != nil && k.Emergency {
					emergency = append(emergency, l.Subject())
				} else {
					normal = append(normal, l.Subject())
				}
			}
			if len(emergency) == 0 || len(normal) == 0 {
				continue
			}
			out = append(out, rule.Finding{Key: string(d.ID), Subjects: append(append([]rule.Subject{d.Subject()}, emergency...), normal...), Message: fmt.Sprintf(
				"%s carries %s from the emergency source and %s from other circuits: give each a controller of its own, or waive this where %s is listed for both. Caution: local codes and a licensed electrician decide.",
				rule.Named(d.Tag), rule.Tags(emergency), rule.Tags(normal), rule.Named(d.Tag))})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return withEmergency("EM-1") },
	Quiet: func() *domaintest.Builder { return withEmergency("LP-3") },
}

func anyEmergency(p *domain.Project) bool {
	for i := range p.Circuits {
		if p.Circuits[i].Emergency {
			return true
		}
	}
	return false
}

// withEmergency gives a classroom whose fourth load is on a circuit; EM-1 is
// the emergency source's.
func withEmergency(circuit string) *domaintest.Builder {
	b := domaintest.Classroom().Set("loads/l4/circuit", circuit)
	b.P.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "EM-1", Emergency: true}}
	return b
}
