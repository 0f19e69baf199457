package power

import (
	"cmp"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/electrical"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// BreakerInrush holds the peaks of all drivers that one breaker starts, as when
// power comes back, to what it stands without tripping. The sum is the upper
// bound: cable lowers it. Where the breaker is assumed, one finding speaks for
// all circuits; what cannot be checked is told, and never passes.
var BreakerInrush = rule.Rule{
	ID: "power-breaker-inrush", Title: "Inrush of a circuit beyond what its breaker stands", Severity: rule.Warning, Scope: rule.OfProject,
	Limits:  []domain.LimitID{domain.CircuitRating, domain.TripMultiple, domain.InrushFactor},
	Why:     "When power comes back all drivers start at once, and a breaker that is loaded well within its rating trips all the same.",
	Source:  "peak allowed = K x sqrt 2 x m x rating; m the least instantaneous trip: IEC 60898, B 3, C 5, D 10 (from memory); K from the breaker's curve, 1 is safe",
	Example: "A C16 with K 4 stands 452.5 A: 18 drivers of 25 A (450 A) pass and 19 (475 A) do not. Drivers whose peak is not stated are not checked.",
	CheckProject: func(f *rule.ProjectFacts) []rule.Finding {
		var out []rule.Finding
		var guessed, unchecked []*domain.CircuitTotal
		totals := f.Totals()
		for i := range totals {
			t := &totals[i]
			if t.Name == "" || t.Loads == 0 {
				continue
			}
			if t.Unstated > 0 {
				unchecked = append(unchecked, t)
			}
			if units.AtMost(float64(t.Inrush), float64(electrical.BreakerPeak(f.Project, t))) {
				continue
			}
			if _, assumed := t.TripMultiple(f.Project); assumed {
				guessed = append(guessed, t)
				continue
			}
			found := beyondBreaker(f.Project, t)
			found.Message += assumedBreaker(f.Project, t, true)
			out = append(out, found)
		}
		return append(append(out, beyondAssumed(f.Project, guessed)...), notChecked(unchecked)...)
	},
	FiresProject: func() *rule.ProjectFacts { return started(19) },
	QuietProject: func() *rule.ProjectFacts { return started(18) },
}

func beyondBreaker(p *domain.Project, t *domain.CircuitTotal) rule.Finding {
	most := electrical.BreakerPeak(p, t)
	rating, _ := t.Rating(p)
	multiple, _ := t.TripMultiple(p)
	found := rule.AtMost(float64(t.Inrush), float64(most), "A")
	found.Key, found.Subjects = t.Key(), circuitSubjects(t)
	found.Message = fmt.Sprintf("%s starts %s that peak at %s A together, limit %s A (%s A, trip at %s times it, factor %s): %s A over. Spread them over more circuits, or take the factor from the breaker's curve.",
		circuitName(p, t), rule.Many(t.Drivers, "driver"), rule.Number(float64(t.Inrush)), rule.Number(float64(most)), rule.Number(float64(rating)),
		rule.Number(multiple), rule.Number(p.Limits.Value(domain.InrushFactor)), rule.Number(float64(t.Inrush-most)))
	return found
}

// beyondAssumed speaks of the worst of the circuits whose breaker's trip nobody
// has stated: what is assumed is no ground for a warning on each.
func beyondAssumed(p *domain.Project, list []*domain.CircuitTotal) []rule.Finding {
	if len(list) == 0 {
		return nil
	}
	worst := slices.MaxFunc(list, func(a, b *domain.CircuitTotal) int {
		return cmp.Compare(a.Inrush-electrical.BreakerPeak(p, a), b.Inrush-electrical.BreakerPeak(p, b))
	})
	found := beyondBreaker(p, worst)
	found.Severity, found.Key = rule.Info, "assumed"
	found.Message += assumedBreaker(p, worst, true)
	if n := len(list) - 1; n > 0 {
		found.Message += fmt.Sprintf(" %s%s beyond an assumed breaker too.", rule.Many(n, "more circuit"), isAre(n))
	}
	return []rule.Finding{found}
}

// notChecked names the circuits of which not enough is known.
func notChecked(list []*domain.CircuitTotal) []rule.Finding {
	if len(list) == 0 {
		return nil
	}
	loads, names := 0, []string(nil)
	var subjects []rule.Subject
	for _, t := range list {
		loads += t.Unstated
		if len(names) < 6 {
			names = append(names, t.Name)
		}
		for _, s := range circuitSubjects(t) {
			if len(subjects) < 12 && !slices.Contains(subjects, s) {
				subjects = append(subjects, s)
			}
		}
	}
	if n := len(list) - len(names); n > 0 {
		names = append(names, fmt.Sprintf("%d more", n))
	}
	what := "circuit"
	if len(list) > 1 {
		what = "circuits"
	}
	return []rule.Finding{{Severity: rule.Info, Key: "unchecked", Subjects: subjects, Message: fmt.Sprintf(
		"Inrush is not checked on %s %s: the peak of %s is not stated. Fill it in on the luminaire schedule.", what, domain.JoinWords(names), rule.Many(loads, "load"))}}
}

// started gives a circuit on a C16 with factor 4 that starts n drivers of 25 A.
func started(n int) *rule.ProjectFacts {
	f := fed("a")
	f.Project.Luminaire("a").InrushPeak = 25
	f.Project.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "LP1-1", Breaker: 16, Trip: domain.TripC}}
	for i := range f.Project.Limits {
		if f.Project.Limits[i].ID == domain.InrushFactor {
			f.Project.Limits[i].Value = 4
		}
	}
	d := domain.Design{Loads: []domain.Load{{ID: "l1", Tag: "L1", Kind: domain.Lighting, Luminaire: "a", Count: n, Circuit: "LP1-1"}}}
	r := &domain.Resolved{Room: &domain.Room{ID: "r1", StoreyID: "s1", Number: "101"}, Design: d}
	f.Circuits = r.CircuitShares(f.Project)
	return f
}
