package edit_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// beside is a second classroom under another number, with an outline.
func beside(number string, outline geom.Polygon) *domain.Resolved {
	_, r := drawnRoom()
	r.ID, r.Number, r.Outline = domain.ID("room"+strings.ToLower(number)), number, outline
	for i := range r.Design.Devices {
		r.Design.Devices[i].At = nil
	}
	r.Fixtures, r.Sitting = r.Fixtures[:1], nil
	return r
}

func merge(t require.TestingT, p *domain.Project, rooms ...*domain.Resolved) (*edit.Drawing, string, error) {
	d := &edit.Drawing{Project: p}
	g := edit.MergeRooms{}
	for _, r := range rooms {
		d.Rooms, g.IDs = append(d.Rooms, copied(r)), append(g.IDs, r.ID)
	}
	said, err := edit.Draw(d, g)
	if err == nil {
		for _, r := range d.Rooms {
			require.NoError(t, r.Settle())
		}
	}
	return d, said, err
}

// The merged room is as large as its parts, holds what they held under tags and
// IDs of their own, and the difference leads back to the same bytes.
func TestMergeRooms_sumsAreasAndHoldsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, first := drawnRoom()
		low, high := rapid.Float64Range(0, 4).Draw(t, "low"), rapid.Float64Range(5, 14).Draw(t, "high")
		second := beside("102", geom.Rectangle(8, low, rapid.Float64Range(1, 9).Draw(t, "wide"), high-low))
		require.NoError(t, first.Settle())
		delta.Sort(first.Room)
		before := asJSON(t, first.Room)
		d, said, err := merge(t, p, first, second)
		require.NoError(t, err)
		require.Equal(t, "merged 102 into room 101", said)
		require.Equal(t, []domain.ID{second.ID}, d.Removed)
		require.Len(t, d.Rooms, 1)
		room := d.Rooms[0]
		require.InDelta(t, first.Outline.Area()+second.Outline.Area(), room.Outline.Area(), 0.02, "written to the tenth of a millimeter")
		require.Len(t, room.Design.Devices, 2*len(first.Design.Devices))
		require.Len(t, room.Design.Loads, 2*len(first.Design.Loads))
		require.Len(t, room.Design.Links, 2*len(first.Design.Links))
		require.Len(t, room.Fixtures, len(first.Fixtures)+1)
		ids, tags := map[domain.ID]bool{}, map[string]bool{}
		for _, dev := range room.Design.Devices {
			require.False(t, ids[dev.ID] || tags[dev.Tag], "%s %s twice", dev.ID, dev.Tag)
			ids[dev.ID], tags[dev.Tag] = true, true
		}
		for _, l := range room.Design.Loads {
			require.False(t, tags[l.Tag], "%s twice", l.Tag)
			tags[l.Tag] = true
			require.True(t, l.Controller == "" || ids[l.Controller], "%s is carried by a device of the room", l.Tag)
		}
		for _, k := range room.Design.Links {
			require.Equal(t, domain.LinkID(k.Device, k.Button, k.On, k.Load), k.ID)
			require.True(t, ids[k.Device])
			require.NotNil(t, room.Design.Load(k.Load))
		}
		scope := domain.Scope{Project: *p, Rooms: []domain.Room{*room.Room}}
		require.Empty(t, scope.Check())

		delta.Sort(room.Room)
		changes, err := delta.Diff(first.Room, room.Room)
		require.NoError(t, err)
		back := room.Room.Clone()
		require.NoError(t, delta.Apply(back, changes.Inverse()))
		delta.Sort(back)
		require.Equal(t, before, asJSON(t, back))
	})
}

func TestMergeRooms_eachIntentKeepsItsLoads(t *testing.T) {
	p, first := drawnRoom()
	second := beside("102", geom.Rectangle(8, 0, 6, 10))
	second.Design.Intents[1].Delay = 600 // presence
	d, _, err := merge(t, p, first, second)
	require.NoError(t, err)
	design := &d.Rooms[0].Design
	counts := map[domain.IntentKind]int{}
	for i := range design.Intents {
		in := &design.Intents[i]
		counts[in.Kind]++
		switch in.Kind {
		case domain.ByPresence:
			require.Len(t, in.Loads, 4, "the delays differ: each goes for the loads that it went for")
			for _, id := range in.Loads {
				assert.Equal(t, in.Delay == 600, strings.HasSuffix(string(id), "-2"), "%v", in.Loads)
			}
		case domain.ByHand, domain.OnPowerBack, domain.ForReceptacles:
			assert.Empty(t, in.Loads, "both rooms say the same of all loads: said once of all")
		}
	}
	assert.Equal(t, map[domain.IntentKind]int{domain.ByHand: 1, domain.ByPresence: 2, domain.ByDaylight: 2, domain.ForReceptacles: 1, domain.OnPowerBack: 1}, counts)
	require.Len(t, design.Scenes, 2, "scenes of one name are one")
	assert.Len(t, design.Scenes[0].Levels, 8)
}

func TestMergeRooms_numbersScenesThatBothHave(t *testing.T) {
	p, first := drawnRoom()
	second := beside("102", geom.Rectangle(8, 0, 6, 10))
	second.Design.Scenes[1].Name = "Film" // number 2, as the first room's Present
	d, _, err := merge(t, p, first, second)
	require.NoError(t, err)
	design := &d.Rooms[0].Design
	require.Len(t, design.Scenes, 3)
	film := design.SceneNumbered(3)
	require.NotNil(t, film)
	assert.Equal(t, "Film", film.Name)
	link := design.Link(domain.Input{Device: "st-2", Button: 2, On: domain.Press}, "l1-2")
	require.NotNil(t, link)
	assert.Equal(t, 3, link.Do.Scene, "its button calls it under its new number")
	assert.Equal(t, 2, design.Link(domain.Input{Device: "st", Button: 2, On: domain.Press}, "l1").Do.Scene)
}

func TestMergeRooms_expectationsStayWithTheirLoads(t *testing.T) {
	p, first := drawnRoom()
	second := beside("102", geom.Rectangle(8, 0, 6, 10))
	for _, r := range []*domain.Resolved{first, second} {
		r.Design.Scenarios = []domain.Scenario{{ID: "sc", Seq: 1, Name: "Morning", Steps: []domain.ScenarioStep{{ID: "a", Seq: 1, Happen: domain.Occupied, Device: "ps"}, {ID: "b", Seq: 2, Happen: domain.Expect, Level: 100}}}}
	}
	d, _, err := merge(t, p, first, second)
	require.NoError(t, err)
	scenarios := d.Rooms[0].Design.Scenarios
	require.Len(t, scenarios, 2)
	assert.Equal(t, "Morning (102)", scenarios[1].Name)
	assert.Equal(t, domain.ID("ps-2"), scenarios[1].Steps[0].Device)
	require.Len(t, scenarios[1].Steps, 5)
	ids := map[domain.ID]bool{}
	for _, st := range scenarios[1].Steps[1:] {
		assert.True(t, strings.HasSuffix(string(st.Load), "-2"), "%v", st.Load)
		assert.False(t, ids[st.ID])
		ids[st.ID] = true
	}
}

func TestMergeRooms_takesTheWallBetweenAlong(t *testing.T) {
	p, first := drawnRoom()
	second := beside("102", geom.Rectangle(8.2, 0, 6, 7))
	d, _, err := merge(t, p, first, second)
	require.NoError(t, err)
	// 8 by 10 m, 6 by 7 m, and the wall of 0.2 m along the 7 m that they share.
	assert.InDelta(t, 80+42+1.4, d.Rooms[0].Outline.Area(), 0.01)
	assert.InDelta(t, 123.4, float64(d.Rooms[0].Area), 0.011)
}

func TestMergeRooms_partsWithItsTypical(t *testing.T) {
	p, first := drawnRoom()
	typical := &domain.Typical{ID: "t1", Name: "CR-1", Design: first.Design.Clone()}
	first.TypicalID, first.Typical, first.Room.Design = typical.ID, typical, domain.Design{}
	d, _, err := merge(t, p, first, beside("102", geom.Rectangle(8, 0, 6, 10)))
	require.NoError(t, err)
	room := d.Rooms[0]
	assert.Empty(t, room.TypicalID)
	assert.Empty(t, room.Exceptions)
	assert.Len(t, room.Room.Design.Devices, 12)
	assert.Len(t, typical.Design.Devices, 6, "the typical stays as it is")
}

func TestMergeRooms_refusals(t *testing.T) {
	p, first := drawnRoom()
	for says, other := range map[string]*domain.Resolved{
		"room 102 does not touch": beside("102", geom.Rectangle(9, 0, 6, 10)),
		"room 103 does not touch": beside("103", geom.Rectangle(8, 10, 6, 10)), // at one corner only
		"room 104 has no outline": beside("104", geom.Polygon{}),
	} {
		_, _, err := merge(t, p, first, other)
		assert.ErrorContains(t, err, says)
	}
	_, _, err := merge(t, p, first, first)
	assert.ErrorContains(t, err, "with itself")
	_, _, err = merge(t, p, first)
	assert.ErrorContains(t, err, "select 2")
	full := beside("105", geom.Rectangle(8, 0, 6, 10))
	for n := range domain.MaxParts - 3 {
		full.Design.Devices = append(full.Design.Devices, domain.Device{ID: domain.ID(fmt.Sprintf("x%d", n)), Tag: fmt.Sprintf("X-%d", n), Type: "lc-4"})
	}
	_, _, err = merge(t, p, first, full)
	assert.ErrorContains(t, err, "devices, more than the 500 of one room")
	long := beside("106", geom.Rectangle(8, 0, 6, 10))
	first.Notes, long.Notes = strings.Repeat("a", 3000), strings.Repeat("b", 3000)
	_, _, err = merge(t, p, first, long)
	assert.ErrorContains(t, err, "notes")
}

func TestMergeRooms_statedAreasAddUp(t *testing.T) {
	p, first := drawnRoom()
	second := beside("102", geom.Rectangle(8, 0, 6, 10))
	first.Area, second.Area = 81, 59
	first.Seats, second.Seats, first.Outlets, second.Outlets = 20, 10, 12, 7
	d, _, err := merge(t, p, first, second)
	require.NoError(t, err)
	assert.Equal(t, units.SquareMetres(140), d.Rooms[0].Area)
	assert.Equal(t, 30, d.Rooms[0].Seats)
	assert.Equal(t, 19, d.Rooms[0].Outlets)
}
