package capacity

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

func limit(b *domaintest.Builder, id domain.LimitID, value float64) *domaintest.Builder {
	for i := range b.P.Limits {
		if b.P.Limits[i].ID == id {
			b.P.Limits[i].Value = value
		}
	}
	return b
}

// The limits of devices in a room are common practice, no published source;
// each is tried one below, at and one above.
func TestCounts_oneBelowAtAndOneAbove(t *testing.T) {
	for _, c := range []struct {
		rule  *rule.Rule
		limit float64
		room  func(n int) *domaintest.Builder
	}{
		{&Devices, 32, func(n int) *domaintest.Builder { return domaintest.Room().Devices(n, "rt-plug") }},
		{&BatteryStations, 8, func(n int) *domaintest.Builder {
			return domaintest.Room().Devices(n, "st-2-battery").Devices(9, "st-4-mains").Devices(2, "wb-dim")
		}},
		{&PresenceSensors, 8, func(n int) *domaintest.Builder {
			return domaintest.Room().Devices(n-1, "ps-ceiling").Devices(1, "ps-highbay")
		}},
		{&DaylightSensors, 1, func(n int) *domaintest.Builder {
			return domaintest.Room().Devices(n, "ds-open").Device("closed", "ds-open").Set("devices/closed/loop", "closed loop")
		}},
		{&Gateways, 1, func(n int) *domaintest.Builder { return domaintest.Room().Devices(n, "gw-room") }},
		{&AVInterfaces, 1, func(n int) *domaintest.Builder { return domaintest.Room().Devices(n, "av-serial") }},
	} {
		t.Run(c.rule.ID, func(t *testing.T) {
			most := int(c.limit)
			assert.Empty(t, found(c.rule, c.room(max(most-1, 1))))
			assert.Empty(t, found(c.rule, c.room(most)))
			over := found(c.rule, c.room(most+1))
			require.Len(t, over, 1)
			assert.Equal(t, []float64{c.limit + 1, c.limit, -1}, []float64{over[0].Measured, over[0].Limit, over[0].Margin})
			assert.Len(t, over[0].Subjects, most+1)
			assert.Contains(t, over[0].Message, fmt.Sprintf("%d ", most+1))
			assert.Empty(t, found(c.rule, limit(c.room(most+1), c.rule.Limits[0], c.limit+1)), "the limit is the project's")
		})
	}
}

// Cases P1 to P6, at 6 battery devices for each router and 32 devices in a
// room: common practice, no published source.
func TestParenting_casesP1ToP6(t *testing.T) {
	for name, c := range map[string]struct {
		routers, battery, short, extra, total int
		fits                                  bool
	}{
		"P1": {1, 6, 0, 0, 7, true},
		"P2": {1, 7, 1, 1, 9, true},
		"P3": {1, 9, 3, 1, 11, true},
		"P4": {2, 13, 1, 1, 16, true},
		"P5": {0, 1, 1, 1, 2, true},
		"P6": {4, 28, 4, 1, 33, false},
	} {
		t.Run(name, func(t *testing.T) {
			b := domaintest.Room().Devices(c.routers, "rt-plug").Devices(c.battery, "ps-ceiling")
			got := found(&Parenting, b)
			if c.short == 0 {
				assert.Empty(t, got)
				assert.Len(t, found(&ParentsUnassigned, b), 1, "a full assignment exists and is not written down")
				return
			}
			require.Len(t, got, 1)
			assert.Equal(t, float64(-c.short), got[0].Margin)
			assert.Len(t, got[0].Subjects, c.short)
			assert.Contains(t, got[0].Message, fmt.Sprintf("%d short", c.short))
			if !c.fits {
				assert.Contains(t, got[0].Message, "would make 33 devices, over the limit of 32: split the room")
				assert.Nil(t, got[0].Fix)
				return
			}
			assert.Contains(t, got[0].Message, fmt.Sprintf("Add %s at 6 each (%d devices in all, limit 32)", rule.Many(c.extra, "router"), c.total))
			require.NotNil(t, got[0].Fix)
			b.Do(got[0].Fix.Edits...)
			assert.Len(t, b.R.Design.Devices, c.total)
			assert.Empty(t, found(&Parenting, b))
			assert.Empty(t, found(&ParentsUnassigned, b), "the fix also assigns parents")
		})
	}
}

// Case P7: 24 battery devices on 4 routers fit by count; 7 of them hear only
// the first router, so that the maximum flow is 23.
func TestParenting_caseP7IsShortByReach(t *testing.T) {
	b := domaintest.Room().Devices(4, "rt-plug").Devices(24, "ps-ceiling")
	b.Spoil(func(d *domain.Design) {
		for i := range d.Devices[4:11] {
			d.Devices[4+i].Hears = []domain.ID{d.Devices[0].ID}
		}
	})
	got := found(&Parenting, b)
	require.Len(t, got, 1)
	assert.Equal(t, []float64{24, 23, -1}, []float64{got[0].Measured, got[0].Limit, got[0].Margin})
	assert.Contains(t, got[0].Message, "fit by count, but not by reach: 1 short")
	assert.Contains(t, got[0].Message, "near RT-1")
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&Parenting, b))
	assert.Empty(t, found(&ParentsUnassigned, b))
}

// Thirteen without a router take ceil(13/6) = 3 more.
func TestParenting_severalRoutersMore(t *testing.T) {
	b := domaintest.Room().Devices(13, "ps-ceiling")
	got := found(&Parenting, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "no router at all")
	assert.Contains(t, got[0].Message, "Add 3 routers at 6 each (16 devices in all, limit 32)")
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&Parenting, b))
	assert.Len(t, b.R.Design.Devices, 16)
}

func TestParenting_aLimitOfZeroOrABookWithoutRouters(t *testing.T) {
	b := limit(domaintest.Room().Devices(1, "rt-plug").Devices(1, "ps-ceiling"), domain.ChildrenPerRouter, 0)
	got := found(&Parenting, b)
	require.Len(t, got, 1)
	assert.Nil(t, got[0].Fix)
	assert.Contains(t, got[0].Message, "use mains devices")

	b = domaintest.Room().Devices(7, "ps-ceiling").Devices(1, "st-4-mains")
	for i := range b.P.Book {
		if b.P.Book[i].ID == "rt-plug" {
			b.P.Book[i].Routes = false
		}
	}
	got = found(&Parenting, b)
	require.Len(t, got, 1)
	assert.Nil(t, got[0].Fix, "there is nothing to add")
}

func TestParentsUnassigned_noneWrongOrFull(t *testing.T) {
	base := func(change func(d *domain.Device)) *domaintest.Builder {
		return domaintest.Classroom().Spoil(func(d *domain.Design) {
			for i := range d.Devices {
				if d.Devices[i].ID == "ps" {
					change(&d.Devices[i])
				}
			}
		})
	}
	for name, c := range map[string]struct {
		b    *domaintest.Builder
		want float64
	}{
		"sound":                        {base(func(*domain.Device) {}), 0},
		"none":                         {base(func(d *domain.Device) { d.Parent = "" }), 1},
		"not a router":                 {base(func(d *domain.Device) { d.Parent = "ds" }), 1},
		"out of reach":                 {base(func(d *domain.Device) { d.Hears = []domain.ID{"rc"} }), 1},
		"gone is for another rule":     {base(func(d *domain.Device) { d.Parent = "lost" }), 0},
		"six on one":                   {crowded(6), 0},
		"seven on one of two in reach": {crowded(7).Spoil(func(d *domain.Design) { hear(d, "lc", "rc") }), 1},
		"seven that hear only one":     {crowded(7), 0}, // parenting says it
	} {
		got := found(&ParentsUnassigned, c.b)
		if c.want == 0 {
			assert.Empty(t, got, name)
			continue
		}
		require.Len(t, got, 1, name)
		assert.Equal(t, c.want, got[0].Measured, name)
		c.b.Do(got[0].Fix.Edits...)
		assert.Empty(t, found(&ParentsUnassigned, c.b), name)
	}
}

func hear(d *domain.Design, ids ...domain.ID) {
	for i := range d.Devices {
		if len(d.Devices[i].Hears) > 0 {
			d.Devices[i].Hears = ids
		}
	}
}

// 16 scenes for each controller, 3 for each station: common practice, no
// published source.
func TestScenes_oneBelowAtAndOneAbove(t *testing.T) {
	for n, want := range map[int]int{15: 0, 16: 0, 17: 1} {
		assert.Len(t, found(&ScenesController, withScenes(n)), want, "%d scenes on a controller", n)
	}
	got := found(&ScenesController, withScenes(17))[0]
	assert.Equal(t, "lc", got.Key)
	assert.Equal(t, []float64{17, 16, -1}, []float64{got.Measured, got.Limit, got.Margin})
	for n, want := range map[int]int{2: 0, 3: 0, 4: 1} {
		assert.Len(t, found(&StationRecall, recalling(n)), want, "%d scenes of a station", n)
	}
	assert.Equal(t, []float64{4, 3}, []float64{found(&StationRecall, recalling(4))[0].Measured, found(&StationRecall, recalling(4))[0].Limit})
}

func TestScenesController_leavingTakesNoPlace(t *testing.T) {
	b := withScenes(17)
	for _, l := range []string{"l1", "l2", "l3", "l4"} {
		b.Set("scenes/s1/levels/"+l, "leave")
	}
	assert.Empty(t, found(&ScenesController, b))
	b.P.Book.Find("lc-4").Scenes = 15
	got := found(&ScenesController, b)
	require.Len(t, got, 1, "what the type states comes before the limit")
	assert.Equal(t, 15.0, got[0].Limit)
}

// 200 rooms under a server, 50 gateways on a backbone: common practice, no
// published source.
func TestJoined_oneBelowAtAndOneAbove(t *testing.T) {
	for n, want := range map[int]int{199: 0, 200: 0, 201: 1} {
		assert.Len(t, RoomsServer.CheckProject(joined(n, 0)), want, "%d rooms", n)
	}
	for n, want := range map[int]int{49: 0, 50: 0, 51: 1} {
		assert.Len(t, GatewaysBackbone.CheckProject(joined(60, n)), want, "%d gateways", n)
	}
}

func TestJoined_storeysNameTheirServer(t *testing.T) {
	f := joined(250, 0)
	b := &f.Project.Buildings[0]
	b.Storeys = append(b.Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "First", Server: "B"})
	for i := range 60 {
		f.Rooms[i].Storey = "s2"
	}
	assert.Empty(t, RoomsServer.CheckProject(f), "190 on the building's own, 60 on B")
	for i := range 201 {
		f.Rooms[i].Storey = "s2"
	}
	got := RoomsServer.CheckProject(f)
	require.Len(t, got, 1)
	assert.Equal(t, "b1/B", got[0].Key)
	assert.Contains(t, got[0].Message, "The server B of Main building has 201 rooms, limit 200: 1 over")
	for i := range f.Rooms {
		f.Rooms[i].Controlled = false
	}
	assert.Empty(t, RoomsServer.CheckProject(f), "rooms without devices do not count")
}

// 8 messages in any 9 s: common practice; the arithmetic of the window has its
// own tests (cases B1 to B5) in the radio package.
func TestBroadcasts_oneBelowAtAndOneAbove(t *testing.T) {
	assert.Empty(t, found(&Broadcasts, limit(calling(domain.ToLoads), domain.BroadcastsPerWindow, 9)))
	assert.Empty(t, found(&Broadcasts, calling(domain.ToLoads)), "8 of two stations")
	got := found(&Broadcasts, calling(domain.ToRoom))
	require.Len(t, got, 1, "and one of a sensor")
	assert.Equal(t, []float64{9, 8, -1}, []float64{got[0].Measured, got[0].Limit, got[0].Margin})
	assert.Contains(t, got[0].Message, "1 message is refused")
}

func TestBroadcasts_groupsCountAsTheLimitSays(t *testing.T) {
	assert.Len(t, found(&Broadcasts, calling(domain.ToGroup)), 1)
	assert.Empty(t, found(&Broadcasts, limit(calling(domain.ToGroup), domain.GroupIsBroadcast, 0)))
}

func TestBroadcasts_onlyButtonsThatDoSomethingSend(t *testing.T) {
	b := calling(domain.ToRoom)
	for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
		b.Link("st", 3, domain.Press, l, "-")
	}
	assert.Empty(t, found(&Broadcasts, b))
}

// A presenter who steps through a station of 12 buttons, one a second: presses
// at 0 to 11 s; the one at 8 s is refused, at 9 s the first has left the window
// (case B2 goes on like this).
func TestBroadcasts_oneLongStation(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1)
	b.P.Book.Find("st-4-mains").Buttons = 12
	b.Do(edit.AddDevice{ID: "st", Type: "st-4-mains"})
	for n := 1; n <= 12; n++ {
		b.Link("st", n, domain.Press, "l1", fmt.Sprint(n))
	}
	got := found(&Broadcasts, b)
	require.Len(t, got, 1)
	assert.Equal(t, 9.0, got[0].Measured, "the window that ends at 8 s")
	assert.Contains(t, got[0].Message, "1 message is refused")
}
