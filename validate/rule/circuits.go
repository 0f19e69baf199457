package rule

import "scopewright/domain"

// Totals gives what each circuit carries over all rooms, worked out once.
func (f *ProjectFacts) Totals() []domain.CircuitTotal {
	if f.totals == nil {
		sums := domain.SumCircuits(f.Project, f.Circuits)
		f.totals = &sums
	}
	return *f.totals
}
