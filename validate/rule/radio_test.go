package rule_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// row gives a room of a gateway and routers in a row, whose radios carry 10 m in
// the open: 60.23 dB at 2450 MHz (ITU-R P.525).
func row(at ...float64) *domaintest.Builder {
	b := domaintest.Room()
	for i := range b.P.Book {
		b.P.Book[i].TxPower, b.P.Book[i].Sensitivity = 0, -70.2318
	}
	for i := range b.P.Limits {
		if b.P.Limits[i].ID == domain.LinkMarginAdvice {
			b.P.Limits[i].Value = 10
		}
	}
	for i, x := range at {
		id, typ := domain.ID(fmt.Sprint("d", i)), "rt-plug"
		if i == 0 {
			typ = "gw-room"
		}
		b.Device(id, typ)
		b.R.Design.Device(id).At = new(geom.Pt(x, 0))
	}
	return b
}

func TestFacts_radioOfWhatStandsOnThePlan(t *testing.T) {
	b := row(0, 9, 18)
	f := facts(b)
	require.NotNil(t, f.Radio())
	assert.Same(t, f.Radio(), f.Radio(), "worked out once")
	assert.Same(t, f.Net(), f.Net())
	assert.Equal(t, []int{0, 1, 2}, f.Net().Hops)
	assert.Equal(t, "d1", string(f.Node(1).ID))
	assert.Equal(t, "GW-1 and RT-2", rule.Tags(f.NodeSubjects([]int{0, 2})))

	b.Device("more", "rt-plug")
	f = facts(b)
	assert.NotNil(t, f.Radio())
	assert.Nil(t, f.Net(), "a router without a place could join what seems apart")
	f = facts(domaintest.Classroom())
	assert.Nil(t, f.Radio())
	assert.Nil(t, f.Net())
	assert.Empty(t, f.ParentingByRadio().Short)
}

// The fix puts routers on the plan, unless that is more than a room may have.
func TestFacts_moreRouters(t *testing.T) {
	b := row(0, 18)
	f := facts(b)
	fix := f.MoreRouters(propose.RouterWish{})
	require.NotNil(t, fix)
	assert.Same(t, fix, f.MoreRouters(propose.RouterWish{}), "worked out once")
	require.Len(t, fix.Edits, 1, "no battery devices, no parents")
	add := fix.Edits[0].(edit.AddDevice)
	require.NotNil(t, add.At)
	assert.InDelta(t, 9, add.At.X, 1)
	assert.Contains(t, fix.Title, "ft from the left")
	b.Do(fix.Edits...)
	assert.Len(t, facts(b).Net().Parts, 1)
	assert.Nil(t, facts(b).MoreRouters(propose.RouterWish{}), "nothing is wanted any more")

	full := row(0, 18).Devices(30, "ps-wired")
	assert.Nil(t, facts(full).MoreRouters(propose.RouterWish{}), "32 devices are the limit")
}
