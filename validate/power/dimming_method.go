package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// DimmingMethod asks that driver, load and output agree on how it is dimmed.
var DimmingMethod = rule.Rule{
	ID: "power-dimming-method", Title: "Dimming methods do not match", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A driver that gets a signal it does not know stays at full, flickers or is damaged; phase-cut mains destroys some.",
	Source:  commonPractice,
	Example: "A 0-10 V driver on a 0-10 V output passes, and any driver may be switched; the same driver on a phase-cut or digital output does not pass.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if l.Kind != domain.Lighting {
				continue
			}
			driver := l.Lum == nil || l.Lum.Driver == "" || l.Lum.Driver.Takes(l.Dimming)
			output := l.Carrier == nil || !l.Carrier.Traits.Loads || l.Carrier.Type.CanDim(l.Dimming)
			if driver && output {
				continue
			}
			out = append(out, mismatch(l, driver, output))
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Set("loads/l4/luminaire", "C", "loads/l4/dimming", "0-10V")
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

func mismatch(l *rule.Load, driver, output bool) rule.Finding {
	out := rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()}}
	name := rule.Named(l.Tag)
	switch {
	case !driver:
		out.Message = fmt.Sprintf("%s is dimmed by %s, and the driver of luminaire type %s is %s: choose the driver's own method, or switch it.", name, l.Dimming, l.Lum.Tag, l.Lum.Driver)
		out.Fix = ownMethod(l)
	case !output:
		out.Message = fmt.Sprintf("%s is dimmed by %s, and %s offers %s: choose another controller.", name, l.Dimming, rule.Named(l.Carrier.Tag), methods(l.Carrier.Type))
	}
	if l.Carrier != nil {
		out.Subjects = append(out.Subjects, l.Carrier.Subject())
	}
	return out
}

// ownMethod sets a load to its driver's own method where the output has it.
func ownMethod(l *rule.Load) *rule.Fix {
	own := equipment.Dimming(l.Lum.Driver)
	if l.Lum.Driver == domain.DriverSwitched {
		own = equipment.Switched
	}
	if l.Carrier != nil && (l.Carrier.Type == nil || !l.Carrier.Type.CanDim(own)) {
		return nil
	}
	return rule.SetFields("Set the method to "+string(own), "loads/"+string(l.ID)+"/dimming", string(own))
}

func methods(t *equipment.Type) string {
	if len(t.Dims) == 0 {
		return "switching only"
	}
	words := make([]string, len(t.Dims))
	for i, d := range t.Dims {
		words[i] = string(d)
	}
	return domain.JoinWords(words)
}
