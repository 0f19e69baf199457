package demo

import (
	"strings"

	"scopewright/domain"
)

// listCircuits lists the circuits that loads name, with breakers as they are
// usual. Their trip is what the limits say: US breakers bear no letter for it.
func listCircuits(s *domain.Scope) {
	p := &s.Project
	for i := range p.Limits {
		switch l := &p.Limits[i]; l.ID {
		case domain.TripMultiple:
			l.Value, l.Source = 10, "invented for the demo"
		case domain.InrushFactor:
			l.Value, l.Source = 6, "invented for the demo, as if read from the breaker's curve"
		}
	}
	var shares []domain.CircuitShare
	for i := range s.Rooms {
		resolved, err := s.Resolve(&s.Rooms[i])
		if err != nil {
			panic("demo: a room cannot be resolved")
		}
		shares = append(shares, resolved.CircuitShares(p)...)
	}
	totals := domain.SumCircuits(p, shares)
	for i := range totals {
		t := &totals[i]
		if t.Name == "" {
			continue
		}
		k := domain.Circuit{ID: domain.ID("circuit-" + strings.ToLower(t.Name)), Seq: i + 1, Name: t.Name, Breaker: 20}
		if len(t.Volts) == 1 {
			k.Volts = t.Volts[0]
		}
		if i == 0 {
			k.Notes = "breaker read from the panel that is there"
		}
		p.Circuits = append(p.Circuits, k)
	}
}
