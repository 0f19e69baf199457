package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// CircuitOverloaded holds what all rooms together put on a circuit to what its
// breaker carries for hours. It sizes no wire and no breaker.
var CircuitOverloaded = rule.Rule{
	ID: "power-circuit-overloaded", Title: "Circuit carries more than its breaker may", Severity: rule.Error, Scope: rule.OfProject,
	Limits:  []domain.LimitID{domain.CircuitRating, domain.OutputShare},
	Why:     "Each room by itself may be sound while their common breaker trips in the evening, when all of them are lit.",
	Source:  "NEC 210.19(A)(1), 210.20(A): 125 % of continuous load and 100 % of the rest within the rating; I = P/(V pf); elsewhere the share is a value to choose",
	Example: "Luminaires of 38 W at power factor 0.95 on a breaker of 20 A at 80 % (16 A): at 120 V 48 draw 16 A exactly and pass, 49 do not; at 277 V 110 pass and 111 do not, however many rooms share them.",
	CheckProject: func(f *rule.ProjectFacts) []rule.Finding {
		var out []rule.Finding
		totals := f.Totals()
		for i := range totals {
			t := &totals[i]
			amps, most := float64(t.Counted(f.Project)), float64(t.Allowed(f.Project))
			if t.Name == "" || units.AtMost(amps, most) {
				continue
			}
			out = append(out, overloaded(f.Project, t, amps, most))
		}
		return out
	},
	FiresProject: func() *rule.ProjectFacts { return fed("b", 40, 9) },
	QuietProject: func() *rule.ProjectFacts { return fed("b", 40, 8) },
}

func overloaded(p *domain.Project, t *domain.CircuitTotal, amps, most float64) rule.Finding {
	found := rule.AtMost(amps, most, "A")
	found.Key, found.Subjects = t.Key(), circuitSubjects(t)
	rating, _ := t.Rating(p)
	found.Message = fmt.Sprintf("%s carries %s A from %s in %s, limit %s A (%s %% of %s A): %s A over. Move loads to another circuit.",
		circuitName(p, t), fine(amps), rule.Many(t.Loads, "lighting load"), rule.Many(len(t.Rooms()), "room"), fine(most),
		rule.Number(p.Limits.Value(domain.OutputShare)), rule.Number(float64(rating)), fine(amps-most))
	if t.Rest > 0 {
		found.Message += fmt.Sprintf(" Receptacle loads of %s A are in it at that share: they are no continuous load.", fine(float64(t.Rest)))
	}
	if t.Unknown > 0 {
		found.Message += fmt.Sprintf(" %s without watts or volts%s not in it.", rule.Many(t.Unknown, "load"), isAre(t.Unknown))
	}
	found.Message += assumedBreaker(p, t, false) + " Caution: local codes and a licensed electrician decide."
	return found
}

func isAre(n int) string {
	if n == 1 {
		return " is"
	}
	return " are"
}
