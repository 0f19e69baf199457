package capacity_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/capacity"
	"scopewright/validate/rule"
)

// Assigning parents goes by the plan where devices stand on it: of radios that
// carry 10 m in the open, 60.23 dB at 2450 MHz (ITU-R P.525), a sensor 9.5 m from
// the gateway and 10.5 m from all other routers gets the gateway for its parent.
func TestParentsUnassigned_theFixGoesByThePlan(t *testing.T) {
	b := domaintest.Classroom().Set("devices/ds/parent", "")
	for i := range b.P.Book {
		b.P.Book[i].TxPower, b.P.Book[i].Sensitivity = 0, -70.2318
	}
	for id, x := range map[domain.ID]float64{"gw": 0, "lc": -1, "rc": -1.5, "st": -2, "ps": -2.5, "ds": 9.5} {
		d := b.R.Design.Device(id)
		d.At, d.Height = new(geom.Pt(x, 0)), 2.5
	}
	found := capacity.ParentsUnassigned.Check(rule.NewFacts(b.P, b.R, time.Time{}))
	require.Len(t, found, 1)
	b.Do(found[0].Fix.Edits...)
	assert.Equal(t, domain.ID("gw"), b.R.Design.Device("ds").Parent)
	assert.Equal(t, domain.ID("lc"), b.R.Design.Device("ps").Parent, "a parent that does is kept")
}

// Seven sensors on one router are one short by count; with all on the plan the
// router that is added stands there, too.
func TestParenting_theFixPutsRoutersOnThePlan(t *testing.T) {
	b := domaintest.Room().Device("rt", "rt-plug").Devices(7, "ps-ceiling")
	for i := range b.R.Design.Devices {
		b.R.Design.Devices[i].At = new(geom.Pt(float64(i), float64(i%2)))
	}
	found := capacity.Parenting.Check(rule.NewFacts(b.P, b.R, time.Time{}))
	require.Len(t, found, 1)
	b.Do(found[0].Fix.Edits...)
	require.Len(t, b.R.Design.Devices, 9)
	assert.NotNil(t, b.R.Design.Devices[8].At)
	assert.Empty(t, capacity.Parenting.Check(rule.NewFacts(b.P, b.R, time.Time{})))
	used := map[domain.ID]int{}
	for i := range b.R.Design.Devices {
		used[b.R.Design.Devices[i].Parent]++
	}
	assert.Contains(t, []int{3, 4}, used["rt"], "seven on two routers")
}
