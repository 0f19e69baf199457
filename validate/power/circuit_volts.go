package power

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/validate/rule"
)

// CircuitVolts asks that all loads of a circuit run on one voltage, and on the
// one that is stated of it. Loads that state no voltage are another rule's.
var CircuitVolts = rule.Rule{
	ID: "power-circuit-volts", Title: "Loads of one circuit on different volts", Severity: rule.Error, Scope: rule.OfProject,
	Why:     "A circuit has one voltage: one of the two rooms gets luminaires that fail, or that burn, on what is really there.",
	Source:  commonPractice,
	Example: "Loads of 277 V in two rooms on one circuit pass; one of 120 V among them does not, nor do loads of 277 V on a circuit listed at 120 V.",
	CheckProject: func(f *rule.ProjectFacts) []rule.Finding {
		var out []rule.Finding
		totals := f.Totals()
		for i := range totals {
			t := &totals[i]
			stated := slices.Clone(t.Volts)
			if t.Facts != nil && t.Facts.Volts > 0 && !slices.Contains(stated, t.Facts.Volts) && len(stated) > 0 {
				stated = append(stated, t.Facts.Volts)
			}
			if t.Name == "" || len(stated) < 2 {
				continue
			}
			out = append(out, rule.Finding{Key: t.Key(), Subjects: circuitSubjects(t), Message: fmt.Sprintf(
				"%s feeds %s: settle which voltage holds, and move the other loads to a circuit of theirs. Caution: mains voltage; a licensed electrician decides.",
				circuitName(f.Project, t), voltsOf(t))})
		}
		return out
	},
	FiresProject: func() *rule.ProjectFacts { return twoVoltages("b") },
	QuietProject: func() *rule.ProjectFacts { return twoVoltages("a") },
}

// voltsOf says what runs on which voltage: "loads of 120 V in 102 and of 277 V
// in 101", and what the circuit is listed at where no load agrees.
func voltsOf(t *domain.CircuitTotal) string {
	var parts []string
	for _, v := range t.Volts {
		var rooms []rule.Subject
		for _, s := range t.Shares {
			if s.Volts == v && len(rooms) < 6 {
				rooms = append(rooms, rule.Subject{Tag: s.Number})
			}
		}
		parts = append(parts, fmt.Sprintf("of %s V in %s", rule.Number(float64(v)), rule.Tags(rooms)))
	}
	text := "loads " + domain.JoinWords(parts)
	if t.Facts != nil && t.Facts.Volts > 0 && !slices.Contains(t.Volts, t.Facts.Volts) {
		text += fmt.Sprintf(", and is listed at %s V", rule.Number(float64(t.Facts.Volts)))
	}
	return text
}

// twoVoltages gives a circuit with a few luminaires of 277 V in one room and a
// few of another type in a second.
func twoVoltages(second domain.ID) *rule.ProjectFacts {
	f, other := fed("a", 4), fed(second, 4, 4)
	f.Circuits = append(f.Circuits, other.Circuits[1])
	return f
}
