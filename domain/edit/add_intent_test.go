package edit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/units"
)

// A target starts round in the project's own unit (1 fc = 10.763 910 lx, NIST Special
// Publication 811, appendix B.8).
func TestAddIntent_targetIsRoundInTheProjectsUnits(t *testing.T) {
	for sys, want := range map[units.System]float64{units.US: 430.5564, units.SI: 400} {
		b := domaintest.Room()
		b.P.Units = sys
		b.Do(edit.AddIntent{ID: "day", Kind: domain.ByDaylight})
		assert.InDelta(t, want, float64(b.R.Design.Intent("day").Target), 1e-4)
	}
}
