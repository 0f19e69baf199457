package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/domaintest"
)

func TestGoesTo(t *testing.T) {
	for _, c := range []struct {
		in          domain.Intent
		goes, level bool
	}{
		{domain.Intent{Kind: domain.ByPresence}, false, false},
		{domain.Intent{Kind: domain.ByPresence, Enters: true}, true, true},
		{domain.Intent{Kind: domain.ByPresence, Enters: true, Scene: 2}, true, false},
		{domain.Intent{Kind: domain.BySchedule, OffAt: "22:00"}, false, false},
		{domain.Intent{Kind: domain.BySchedule, OnAt: "07:00"}, true, true},
		{domain.Intent{Kind: domain.BySchedule, OnAt: "07:00", Do: domain.SetMode}, false, false},
		{domain.Intent{Kind: domain.ByAV, Scene: 1}, true, false},
		{domain.Intent{Kind: domain.ByAV, Do: domain.GoBack}, false, false},
		{domain.Intent{Kind: domain.ByContact, Do: domain.Lock, Scene: 1}, true, true},
		{domain.Intent{Kind: domain.OnMode, Do: domain.HoldAutomatic}, false, false},
		{domain.Intent{Kind: domain.OnPowerBack, Restore: domain.RestoreLast}, false, false},
		{domain.Intent{Kind: domain.OnPowerBack, Restore: domain.RestoreSet}, true, true},
		{domain.Intent{Kind: domain.OnEmergency}, true, true},
		{domain.Intent{Kind: domain.OnDemandResponse}, false, false},
	} {
		assert.Equal(t, c.goes, c.in.GoesTo(), "%+v", c.in)
		assert.Equal(t, c.level, c.in.GoesToLevel(), "%+v", c.in)
	}
}

func TestDemandResponse_leavesEgressLightingOut(t *testing.T) {
	b := domaintest.Classroom().Set("loads/l4/egress", "yes").Intent("shed", domain.OnDemandResponse)
	in := b.R.Design.Intent("shed")
	assert.Equal(t, []domain.ID{"l1", "l2", "l3"}, in.Targets(&b.R.Design))
	assert.Contains(t, in.Sentence(domain.Env{Project: b.P, Design: &b.R.Design}), "all lighting loads but egress lighting are capped")
	b.Set("intents/shed/loads", "L4")
	assert.Equal(t, []domain.ID{"l4"}, b.R.Design.Intent("shed").Targets(&b.R.Design), "named, it is the designer's wish, and a rule speaks of it")
}
