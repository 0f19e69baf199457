package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// circuitSubjects names the rooms that a circuit feeds, and the circuit itself
// where it is listed and feeds none.
func circuitSubjects(t *domain.CircuitTotal) []rule.Subject {
	var out []rule.Subject
	for _, s := range t.Rooms() {
		out = append(out, rule.Subject{Part: "rooms", ID: s.Room, Tag: s.Number})
	}
	if len(out) == 0 && t.Facts != nil {
		out = append(out, rule.Subject{Part: "circuits", ID: t.Facts.ID, Tag: t.Name})
	}
	return out
}

// circuitName names a circuit, with its building where there are several.
func circuitName(p *domain.Project, t *domain.CircuitTotal) string {
	if len(p.Buildings) > 1 {
		for i := range p.Buildings {
			if p.Buildings[i].ID == t.Building {
				return fmt.Sprintf("Circuit %s of %s", t.Name, p.Buildings[i].Name)
			}
		}
	}
	return "Circuit " + t.Name
}

// assumedBreaker says which of a breaker's facts are assumed, empty for none.
func assumedBreaker(p *domain.Project, t *domain.CircuitTotal, withTrip bool) string {
	rating, guess := t.Rating(p)
	multiple, guessTrip := t.TripMultiple(p)
	switch {
	case guess && guessTrip && withTrip:
		return fmt.Sprintf(" A breaker of %s A that trips at %s times that is assumed: state it on the page of circuits.", rule.Number(float64(rating)), rule.Number(multiple))
	case guess:
		return fmt.Sprintf(" A breaker of %s A is assumed: state it on the page of circuits.", rule.Number(float64(rating)))
	case guessTrip && withTrip:
		return fmt.Sprintf(" A trip at %s times the rating is assumed: state it on the page of circuits.", rule.Number(multiple))
	}
	return ""
}

// fed gives a project in which rooms of n luminaires each of a type are all on
// circuit LP1-1.
func fed(luminaire domain.ID, counts ...int) *rule.ProjectFacts {
	f := &rule.ProjectFacts{Project: domaintest.Project(units.US)}
	for i, n := range counts {
		d := domain.Design{Loads: []domain.Load{{ID: "l1", Tag: "L1", Kind: domain.Lighting, Luminaire: luminaire, Count: n, Circuit: "LP1-1"}}}
		r := &domain.Resolved{Room: &domain.Room{ID: domain.ID(fmt.Sprint("r", i)), StoreyID: "s1", Number: fmt.Sprint(101 + i)}, Design: d}
		f.Circuits = append(f.Circuits, r.CircuitShares(f.Project)...)
	}
	return f
}
