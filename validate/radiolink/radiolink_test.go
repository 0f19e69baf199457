package radiolink_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/validate/radiolink"
	"scopewright/validate/rule"
)

// judge gives what the room rules of the family find.
func judge(b *domaintest.Builder) []rule.Finding {
	facts := rule.NewFacts(b.P, b.R, time.Time{})
	var out []rule.Finding
	for _, one := range []*rule.Rule{&radiolink.BetterParent, &radiolink.FewRouters, &radiolink.Hops, &radiolink.NotPlaced, &radiolink.OutOfReach, &radiolink.Parenting,
		&radiolink.RouterApart, &radiolink.SingleLink, &radiolink.SingleRouter, &radiolink.WeakLink, &radiolink.WeakWay} {
		for _, f := range one.Check(facts) {
			if f.Rule = one.ID; f.Severity == "" {
				f.Severity = one.Severity
			}
			out = append(out, f)
		}
	}
	return out
}

func find(b *domaintest.Builder, id string) []rule.Finding { return only(judge(b), id) }

func only(list []rule.Finding, id string) []rule.Finding {
	var out []rule.Finding
	for _, f := range list {
		if f.Rule == id {
			out = append(out, f)
		}
	}
	return out
}

func limit(p *domain.Project, id domain.LimitID, value float64) {
	for i := range p.Limits {
		if p.Limits[i].ID == id {
			p.Limits[i].Value = value
		}
	}
}

// room gives the classroom whose devices stand at places, 2.5 m over the floor, with
// radios of 0 dBm that hear at -10 dB less FreeSpace(10 m), 60.23 dB at 2450 MHz: a
// margin of 10 dB in the open at 10 m, 16.02 dB at 5 m. Its gateway stands at the
// origin, the rest to the left of it.
func room(spots map[domain.ID]geom.Point) *domaintest.Builder {
	b := domaintest.Classroom()
	for i := range b.P.Book {
		b.P.Book[i].TxPower, b.P.Book[i].Gain, b.P.Book[i].Sensitivity = 0, 0, -70.2318
	}
	limit(b.P, domain.CeilingLoss, 0)
	limit(b.P, domain.LinkMarginAdvice, 10)
	all := map[domain.ID]geom.Point{"gw": geom.Pt(0, 0), "lc": geom.Pt(-1, 0), "rc": geom.Pt(-1, 1), "st": geom.Pt(-1, -1), "ps": geom.Pt(-2, 0), "ds": geom.Pt(-2, 1)}
	for id, at := range spots {
		all[id] = at
	}
	ids := make([]domain.ID, 0, len(all))
	for id := range all {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		if b.R.Design.Device(id) == nil {
			b.Device(id, "rt-plug")
		}
		b.R.Design.Device(id).At, b.R.Design.Device(id).Height = new(all[id]), 2.5
	}
	return b
}

// The examples' radios against the free-space table of ITU-R P.525 at 2450 MHz:
// 60.23 dB at 10 m, 54.21 dB at 5 m.
func TestExamples_radiosCarryTenMeters(t *testing.T) {
	b := room(map[domain.ID]geom.Point{"rt": geom.Pt(10, 0), "rt2": geom.Pt(5, 0)})
	r := radio.NewRoom(b.P, b.R)
	assert.InDelta(t, 10, r.Margin(r.Find("gw"), r.Find("rt")), 0.005)
	assert.InDelta(t, 70.23-54.21, r.Margin(r.Find("gw"), r.Find("rt2")), 0.005)
}

// A sensor 9.9, 10 and 10.1 m from its parent, by 20 lg: 10.09, 10.00 and 9.91 dB
// of the 10 dB needed; two other routers stand beside it.
func TestWeakLink_atTheLimit(t *testing.T) {
	at := func(x float64) *domaintest.Builder {
		return room(map[domain.ID]geom.Point{"ps": geom.Pt(-1-x, 0), "rt1": geom.Pt(-9, 0), "rt2": geom.Pt(-9, 1)})
	}
	assert.Empty(t, find(at(9.9), "radiolink-weak-link"))
	assert.Empty(t, find(at(10), "radiolink-weak-link"))
	found := find(at(10.1), "radiolink-weak-link")
	require.Len(t, found, 1)
	assert.Equal(t, rule.Error, found[0].Severity)
	assert.InDelta(t, 9.91, found[0].Measured, 0.005)
	assert.Equal(t, 10.0, found[0].Limit)
	assert.Contains(t, found[0].Message, "PS-1 to its parent LC-1 has a margin of 9.91 dB, limit 10 dB")
	assert.Contains(t, found[0].Message, "is a better parent")
	require.NotNil(t, found[0].Fix)
}

// The advice of 16 dB: 5.01 m gives 16.00 dB and passes, 5.1 m 15.85 dB does not,
// and is a warning where nothing better is at hand.
func TestWeakLink_isWarnedOf(t *testing.T) {
	at := func(x float64) *domaintest.Builder {
		b := room(map[domain.ID]geom.Point{"lc": geom.Pt(0, 3), "rc": geom.Pt(0, 2), "gw": geom.Pt(0, 0), "st": geom.Pt(0, 1), "ps": geom.Pt(-x, 0), "ds": geom.Pt(0, 4)})
		limit(b.P, domain.LinkMarginAdvice, 16)
		return b.Set("devices/ps/parent", "GW-1")
	}
	assert.Empty(t, find(at(5), "radiolink-weak-link"))
	assert.Empty(t, find(at(5.01), "radiolink-weak-link"))
	found := find(at(5.1), "radiolink-weak-link")
	require.Len(t, found, 1)
	assert.Equal(t, rule.Warning, found[0].Severity)
	assert.InDelta(t, 15.85, found[0].Measured, 0.005)
	assert.Nil(t, found[0].Fix)
	assert.Empty(t, find(at(5.1), "radiolink-better-parent"), "one thing is told once")
}

// Where the probability asks for more than the margin it is what counts: z(95 %)
// is 1.6449 (published tables), at a shadowing of 8 dB 13.16 dB, which 6.95 m give.
func TestWeakLink_probability(t *testing.T) {
	at := func(x float64) *domaintest.Builder {
		b := room(map[domain.ID]geom.Point{"ps": geom.Pt(-1-x, 0), "rt1": geom.Pt(-6, 0), "rt2": geom.Pt(-6, 1)})
		limit(b.P, domain.Shadowing, 8)
		return b
	}
	assert.Empty(t, find(at(6.9), "radiolink-weak-link"))
	found := find(at(7), "radiolink-weak-link")
	require.Len(t, found, 1)
	assert.InDelta(t, 13.16, found[0].Limit, 0.005)
	assert.Contains(t, found[0].Message, "limit 13.16 dB")
}

// Walls count: a concrete wall of 100 mm takes 12 dB (between ITU-R P.2040 and
// measurements), which leaves 4.2 dB of the 16.2 dB of 4.9 m.
func TestWeakLink_namesTheWall(t *testing.T) {
	b := room(map[domain.ID]geom.Point{"ps": geom.Pt(-5.9, 0), "rt1": geom.Pt(-6, 1), "rt2": geom.Pt(-6, -1)})
	b.R.Plan = &domain.Plan{Walls: []domain.Wall{{ID: "w", A: geom.Pt(-3, -9), B: geom.Pt(-3, 9), Kind: domain.FullWall, Material: domain.Concrete100}}}
	found := find(b, "radiolink-weak-link")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "through 1 obstacle (12 dB, most in concrete 100 mm)")
	assert.InDelta(t, 4.2, found[0].Measured, 0.05)
}

// What the designer says of a device's reach goes before the plan's.
func TestHears_goesBeforeThePlan(t *testing.T) {
	b := room(map[domain.ID]geom.Point{"ds": geom.Pt(30, 0)})
	require.Len(t, find(b, "radiolink-out-of-reach"), 1)
	b.Set("devices/ds/hears", "LC-1")
	assert.Empty(t, find(b, "radiolink-out-of-reach"))
	assert.Empty(t, find(b, "radiolink-few-routers"))
	assert.Len(t, find(b, "radiolink-weak-link"), 1, "the link to its parent is still what the plan makes of it")
}

// Out of reach at 10.1 m from the nearest router, in reach at 10 m; told once, and
// not while a router has no place.
func TestOutOfReach_atTheLimit(t *testing.T) {
	for x, want := range map[float64]int{9.9: 0, 10: 0, 10.1: 1} {
		b := room(map[domain.ID]geom.Point{"ds": geom.Pt(x, 0)})
		assert.Len(t, find(b, "radiolink-out-of-reach"), want, "%g m", x)
	}
	b := room(map[domain.ID]geom.Point{"ds": geom.Pt(10.1, 0)})
	found := find(b, "radiolink-out-of-reach")[0]
	assert.Equal(t, []geom.Point{geom.Pt(10.1, 0)}, found.Places)
	assert.Contains(t, found.Message, "the best of them, GW-1, gives a margin of 9.91 dB of the 10 dB")
	for _, id := range []string{"radiolink-weak-link", "radiolink-parenting", "radiolink-few-routers"} {
		assert.Empty(t, find(b, id), "one thing is told once")
	}
	b.Device("more", "rt-plug")
	assert.Empty(t, find(b, "radiolink-out-of-reach"), "a router has no place yet")
	assert.Len(t, find(b, "radiolink-not-placed"), 1)
}

// A device that hears one, two or three routers of a room, two being wanted.
func TestFewRouters_atTheLimit(t *testing.T) {
	for n, want := range []int{1, 0, 0} {
		spots := map[domain.ID]geom.Point{"ds": geom.Pt(9.5, 0)}
		for i := range n {
			spots[domain.ID("rt"+string(rune('a'+i)))] = geom.Pt(-0.1, float64(i)/2)
		}
		assert.Len(t, find(room(spots).Set("devices/ds/parent", "GW-1"), "radiolink-few-routers"), want, "%d more", n)
	}
	one := domaintest.Room().Device("lc", "lc-1").Device("ps", "ps-ceiling")
	one.R.Design.Device("lc").At, one.R.Design.Device("ps").At = new(geom.Pt(0, 0)), new(geom.Pt(1, 0))
	assert.Empty(t, find(one, "radiolink-few-routers"), "a room with one router has no second")
}

// Routers 9.9, 10 and 10.1 m from all others, with a gateway and without one.
func TestRouterApart_atTheLimit(t *testing.T) {
	for x, want := range map[float64]int{9.9: 0, 10: 0, 10.1: 1} {
		b := room(map[domain.ID]geom.Point{"rt": geom.Pt(x, 0)})
		found := find(b, "radiolink-router-apart")
		require.Len(t, found, want, "%g m", x)
		if want > 0 {
			assert.Contains(t, found[0].Message, "RT-1 does not reach the gateway GW-1: the best link, from RT-1 to GW-1, has a margin of 9.91 dB of the 10 dB needed")
			require.NotNil(t, found[0].Fix)
			add, ok := found[0].Fix.Edits[0].(edit.AddDevice)
			require.True(t, ok)
			assert.NotNil(t, add.At, "the router is put on the plan")
		}
	}
	b := room(map[domain.ID]geom.Point{"rt": geom.Pt(20, 0), "rt2": geom.Pt(21, 0)})
	found := find(b, "radiolink-router-apart")
	require.Len(t, found, 1, "two that hear each other are one part")
	assert.Len(t, found[0].Subjects, 2)
	b.R.Design.Device("gw").Type = "rt-plug"
	found = find(b, "radiolink-router-apart")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "do not reach the other routers")
}

// The worked graphs of mesh theory as rooms: bow-tie, barbell, star.
func TestSingles_workedGraphs(t *testing.T) {
	bow := room(map[domain.ID]geom.Point{"x": geom.Pt(8, 0), "b": geom.Pt(16.5, 0), "c": geom.Pt(16.5, 1)})
	found := find(bow, "radiolink-single-router")
	require.Len(t, found, 1)
	assert.Equal(t, "x", found[0].Key)
	assert.Equal(t, 2.0, found[0].Measured)
	assert.Contains(t, found[0].Message, "RT-1 and RT-2 would be cut off")
	assert.Empty(t, find(bow, "radiolink-single-link"))

	barbell := room(map[domain.ID]geom.Point{"x": geom.Pt(8, 0), "y": geom.Pt(17, 0), "b": geom.Pt(26, 0), "c": geom.Pt(26, 1)})
	assert.Len(t, find(barbell, "radiolink-single-router"), 2)
	assert.Empty(t, find(barbell, "radiolink-single-link"), "the bridge lies beyond a router that is told of")

	star := room(map[domain.ID]geom.Point{"a": geom.Pt(9.5, 0)})
	assert.Empty(t, find(star, "radiolink-single-router"), "the gateway is the root")
	found = find(star, "radiolink-single-link")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "Without the link from RT-1 to the gateway GW-1, of 10.45 dB margin, RT-1 would be cut off (1 router)")
}

// Battery devices that hang on what is cut off are counted.
func TestSingleRouter_countsBatteryDevices(t *testing.T) {
	b := room(map[domain.ID]geom.Point{"x": geom.Pt(8, 0), "b": geom.Pt(16.5, 0), "c": geom.Pt(16.5, 1), "ds": geom.Pt(17, 0)}).Set("devices/ds/parent", "RT-1")
	assert.Contains(t, find(b, "radiolink-single-router")[0].Message, "(2 routers, with 1 battery device)")
}

// Two, three and four hops, three being the limit. A battery device counts the
// link to its parent.
func TestHops_atTheLimit(t *testing.T) {
	pairs := func(n int) map[domain.ID]geom.Point {
		out := map[domain.ID]geom.Point{}
		for i := range n {
			x := 9 * float64(i+1)
			out[domain.ID(rune('a'+i))], out[domain.ID(rune('k'+i))] = geom.Pt(x, 0), geom.Pt(x, 1)
		}
		return out
	}
	for n, want := range map[int]int{2: 0, 3: 0, 4: 1} {
		assert.Len(t, find(room(pairs(n)), "radiolink-hops"), want, "%d", n)
	}
	spots := pairs(3)
	spots["ds"] = geom.Pt(30, 0)
	found := find(room(spots).Set("devices/ds/parent", "RT-3"), "radiolink-hops")
	require.Len(t, found, 1)
	assert.Equal(t, 4.0, found[0].Measured)
	assert.Equal(t, "ds", string(found[0].Subjects[0].ID))
}

// The best way to the gateway: over 5 m 16.02 dB pass, over 5.1 m 15.85 dB do not,
// whatever the direct link has.
func TestWeakWay_atTheLimit(t *testing.T) {
	at := func(x float64, more map[domain.ID]geom.Point) []rule.Finding {
		spots := map[domain.ID]geom.Point{"rt": geom.Pt(x, 0)}
		for id, p := range more {
			spots[id] = p
		}
		b := room(spots)
		limit(b.P, domain.LinkMarginAdvice, 16)
		return find(b, "radiolink-weak-way")
	}
	assert.Empty(t, at(5, nil))
	found := at(5.1, nil)
	require.Len(t, found, 1)
	assert.InDelta(t, 10+20*math.Log10(10/5.1), found[0].Measured, 0.005)
	assert.Empty(t, at(9.9, map[domain.ID]geom.Point{"between": geom.Pt(5, 0)}))
	found = at(6, map[domain.ID]geom.Point{"rt2": geom.Pt(7, 0), "rt3": geom.Pt(8, 0)})
	require.Len(t, found, 1, "three behind one weak link")
	assert.Len(t, found[0].Subjects, 3)
	assert.InDelta(t, 10+20*math.Log10(10.0/6), found[0].Measured, 0.005)
}

// Of seven sensors that hear one router of six places, one is short within reach,
// though by count all fit: case P7 of capacity, on the plan. A click puts a router
// where the seven hear it and gives all of them parents.
func TestParenting_countsFitReachDoesNot(t *testing.T) {
	at := func(n int) *domaintest.Builder {
		b := room(map[domain.ID]geom.Point{"a": geom.Pt(9, 0)})
		for i := range n {
			id := domain.ID(rune('p' + i))
			b.Device(id, "ps-ceiling")
			b.R.Design.Device(id).At, b.R.Design.Device(id).Height, b.R.Design.Device(id).Parent = new(geom.Pt(18, float64(i)/2)), 2.5, "a"
		}
		return b
	}
	assert.Empty(t, find(at(5), "radiolink-parenting"))
	assert.Empty(t, find(at(6), "radiolink-parenting"))
	b := at(7)
	assert.Empty(t, rule.NewFacts(b.P, b.R, time.Time{}).Parenting().Short, "by count all fit")
	found := find(b, "radiolink-parenting")
	require.Len(t, found, 1)
	assert.Equal(t, 9.0, found[0].Measured)
	assert.Equal(t, 8.0, found[0].Limit)
	require.NotNil(t, found[0].Fix)
	b.Do(found[0].Fix.Edits...)
	assert.Empty(t, find(b, "radiolink-parenting"))
	assert.Empty(t, find(b, "radiolink-weak-link"))
}

// Short by count is told by capacity-parenting alone.
func TestParenting_isQuietWhereCountIsShort(t *testing.T) {
	b := room(nil)
	limit(b.P, domain.ChildrenPerRouter, 0)
	require.Len(t, rule.NewFacts(b.P, b.R, time.Time{}).Parenting().Short, 2)
	assert.Empty(t, find(b, "radiolink-parenting"))
}

// Nothing on the plan, nothing to say; the classroom with everything 2 m apart and
// the radios of the generic book has nothing to find.
func TestRadiolink_quietRooms(t *testing.T) {
	b := domaintest.Classroom()
	assert.Empty(t, judge(b))
	for i := range b.R.Design.Devices {
		b.R.Design.Devices[i].At = new(geom.Pt(2*float64(i), 0))
	}
	assert.Empty(t, judge(b))
}
