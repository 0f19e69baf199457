package edit_test

import (
	"slices"
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

// twoInOne is two classrooms merged into one of 14 by 10 m, and the areas that
// part them again.
func twoInOne(t require.TestingT) (*domain.Project, *domain.Resolved, edit.DivideRoom) {
	p, first := drawnRoom()
	d, _, err := merge(t, p, first, beside("102", geom.Rectangle(8, 0, 6, 10)))
	require.NoError(t, err)
	r := d.Rooms[0]
	delta.Sort(r.Room)
	g := edit.DivideRoom{Room: r.ID, Areas: []edit.DividedArea{{Outline: geom.Rectangle(0, 0, 8, 10)}, {ID: "new", Outline: geom.Rectangle(8, 0, 6, 10)}}}
	for i := range r.Design.Devices {
		a := &g.Areas[which(r.Design.Devices[i].ID)]
		a.Devices = append(a.Devices, r.Design.Devices[i].ID)
	}
	for i := range r.Design.Loads {
		a := &g.Areas[which(r.Design.Loads[i].ID)]
		a.Loads = append(a.Loads, r.Design.Loads[i].ID)
	}
	return p, r, g
}

// which gives the classroom that a part of the merged room comes from.
func which(id domain.ID) int {
	if strings.HasSuffix(string(id), "-2") {
		return 1
	}
	return 0
}

func divided(t require.TestingT, p *domain.Project, r *domain.Resolved, g edit.DivideRoom) (first, second *domain.Room, said string) {
	before := asJSON(t, r.Room)
	work, d, said, err := draw(t, p, r, g)
	require.NoError(t, err)
	require.Equal(t, before, asJSON(t, r.Room), "the room that was read is as it was")
	require.Len(t, d.Added, len(g.Areas)-1)
	return work.Room, d.Added[0], said
}

func TestDivideRoom_isTheOtherWayAroundOfMerging(t *testing.T) {
	p, r, g := twoInOne(t)
	r.Seats, r.Notes, r.Space, r.Outlets = 35, "Key at the desk", domain.SpaceTypes()[0].Type, 30
	for i := range r.Design.Loads {
		if l := &r.Design.Loads[i]; l.Kind == domain.Receptacle && which(l.ID) == 0 {
			l.Count = 9
		} else if l.Kind == domain.Receptacle {
			l.Count = 0
		}
	}
	_, original := drawnRoom()
	first, second, said := divided(t, p, r, g)
	assert.Equal(t, "divided room 101, new rooms 101A", said, "nothing is left out")
	assert.Equal(t, domain.ID("new"), second.ID)
	assert.Equal(t, "101A", second.Number)
	assert.Equal(t, geom.Rectangle(8, 0, 6, 10), second.Outline)
	assert.Equal(t, units.SquareMetres(60), second.Area)
	assert.Equal(t, units.SquareMetres(80), first.Area)
	assert.Equal(t, 20, first.Seats, "35 people on 80 of 140 m2")
	assert.Equal(t, 15, second.Seats)
	assert.Equal(t, r.Use, second.Use)
	assert.Equal(t, r.Space, second.Space)
	assert.Equal(t, 21, first.Outlets, "9 with their load and 12 of 21 by floor area")
	assert.Equal(t, 9, second.Outlets)
	assert.Equal(t, "Key at the desk", second.Notes)
	assert.Len(t, first.Fixtures, 2)
	assert.Len(t, second.Fixtures, 1)
	for _, room := range []*domain.Room{first, second} {
		assert.Len(t, room.Design.Devices, len(original.Design.Devices), room.Number)
		assert.Len(t, room.Design.Loads, len(original.Design.Loads), room.Number)
		assert.Len(t, room.Design.Links, len(original.Design.Links), room.Number)
		assert.Len(t, room.Design.Scenes, 2, room.Number)
		assert.Len(t, room.Design.Intents, len(original.Design.Intents), room.Number)
		for _, s := range room.Design.Scenes {
			assert.Len(t, s.Levels, 4)
		}
	}
	scope := domain.Scope{Project: *p, Rooms: []domain.Room{*first, *second}}
	assert.Empty(t, scope.Check())
}

// However a room is divided, each part of it is in one room, the new rooms are
// sound, and the difference leads back to the same bytes.
func TestDivideRoom_hasAnExactInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, r, g := twoInOne(t)
		at := rapid.Float64Range(0.5, 13.5).Draw(t, "cut at")
		g.Areas[0].Outline, g.Areas[1].Outline = geom.Rectangle(0, 0, at, 10), geom.Rectangle(at, 0, 14-at, 10)
		swap := rapid.SliceOfDistinct(rapid.SampledFrom([]domain.ID{"st", "ps", "ds", "gw", "st-2", "ps-2", "ds-2", "gw-2"}), rapid.ID[domain.ID]).Draw(t, "swapped")
		for _, id := range swap {
			from, to := &g.Areas[which(id)], &g.Areas[1-which(id)]
			var kept []domain.ID
			for _, o := range from.Devices {
				if o != id {
					kept = append(kept, o)
				}
			}
			from.Devices, to.Devices = kept, append(to.Devices, id)
		}
		before := asJSON(t, r.Room)
		first, second, _ := divided(t, p, r, g)
		require.Equal(t, len(r.Design.Devices), len(first.Design.Devices)+len(second.Design.Devices))
		require.Equal(t, len(r.Design.Loads), len(first.Design.Loads)+len(second.Design.Loads))
		require.Equal(t, len(r.Fixtures), len(first.Fixtures)+len(second.Fixtures))
		require.Equal(t, len(r.Sitting), len(first.Sitting)+len(second.Sitting))
		require.InDelta(t, 140, first.Outline.Area()+second.Outline.Area(), 1e-6)
		for _, room := range []*domain.Room{first, second} {
			for _, k := range room.Design.Links {
				require.NotNil(t, room.Design.Device(k.Device))
				require.NotNil(t, room.Design.Load(k.Load))
			}
			for _, dev := range room.Design.Devices {
				require.True(t, dev.Parent == "" || room.Design.Device(dev.Parent) != nil)
			}
			for _, in := range room.Design.Intents {
				for _, id := range in.Loads {
					require.NotNil(t, room.Design.Load(id))
				}
			}
		}
		scope := domain.Scope{Project: *p, Rooms: []domain.Room{*first, *second}}
		require.Empty(t, scope.Check())
		changes, err := delta.Diff(r.Room, first)
		require.NoError(t, err)
		back := first.Clone()
		require.NoError(t, delta.Apply(back, changes.Inverse()))
		delta.Sort(back)
		require.Equal(t, before, asJSON(t, back))
	})
}

func TestDivideRoom_saysWhatIsLeftOut(t *testing.T) {
	p, r, g := twoInOne(t)
	r.Design = r.Design.Clone()
	r.Design.Intents = append(r.Design.Intents,
		domain.Intent{ID: "av", Seq: 90, Kind: domain.ByAV, Command: "start", Device: "gw", Level: 50, Loads: []domain.ID{"l1", "l1-2"}},
		domain.Intent{ID: "cn", Seq: 91, Kind: domain.ByContact, Command: "closed", Device: "gw", Level: 50, Loads: []domain.ID{"l2-2"}})
	r.Design.Scenarios = []domain.Scenario{
		{ID: "own", Seq: 1, Name: "Morning", Steps: []domain.ScenarioStep{{ID: "a", Seq: 1, Happen: domain.Occupied, Device: "ps"}, {ID: "b", Seq: 2, Happen: domain.Expect, Load: "l1", Level: 100}}},
		{ID: "across", Seq: 2, Name: "Both", Steps: []domain.ScenarioStep{{ID: "a", Seq: 1, Happen: domain.Occupied, Device: "ps"}, {ID: "b", Seq: 2, Happen: domain.Expect, Load: "l1-2", Level: 100}}}}
	r.Design.Links = append(r.Design.Links, domain.Link{ID: domain.LinkID("ps", 0, "", "l1-2"), Device: "ps", Load: "l1-2", Do: domain.Action{Verb: domain.Acts}},
		domain.Link{ID: domain.LinkID("ds", 0, "", "l1-2"), Device: "ds", Load: "l1-2", Do: domain.Action{Verb: domain.Nothing}})
	r.Room.Design = r.Design
	work, d, said, err := draw(t, p, r, g)
	require.NoError(t, err)
	rooms := []*domain.Resolved{work, {Room: d.Added[0], Design: d.Added[0].Design}}
	second := r.Design.Load("l1-2").Tag
	assert.Equal(t, []string{"1 link of PS-1, to " + second, "intent AV command for " + second, "intent Contact for " + r.Design.Load("l2-2").Tag, "scenario Both"}, edit.LeftOut(&r.Design, rooms))
	assert.Equal(t, "divided room 101, new rooms 101A; 4 parts of its design left out", said)
	assert.Equal(t, []domain.ID{"l1"}, work.Design.Intent("av").Loads)
	assert.Nil(t, work.Design.Intent("cn"))
	assert.Nil(t, d.Added[0].Design.Intent("cn"), "its input is in the other area")
	assert.NotNil(t, work.Design.Scenario("own"))
	assert.Nil(t, d.Added[0].Design.Scenario("own"))
}

// A scene that has no level for an area's loads is not kept there, unless one of
// the area's buttons calls it.
func TestDivideRoom_keepsScenesThatStillNameSomething(t *testing.T) {
	p, r, g := twoInOne(t)
	r.Design = r.Design.Clone()
	r.Design.Scenes = append(r.Design.Scenes, domain.Scene{ID: "only", Seq: 8, Number: 8, Name: "Film", Levels: []domain.SceneLevel{{ID: "l1", Level: 5}}}, domain.Scene{ID: "none", Seq: 9, Number: 9, Name: "Bare"})
	r.Design.Intents = append(r.Design.Intents, domain.Intent{ID: "film", Seq: 90, Kind: domain.OnMode, Mode: domain.EventMode, Scene: 8})
	r.Room.Design = r.Design
	first, second, _ := divided(t, p, r, g)
	assert.NotNil(t, first.Design.Scene("only"))
	assert.NotNil(t, first.Design.Intent("film"))
	assert.Nil(t, second.Design.Scene("only"))
	assert.Nil(t, second.Design.Intent("film"), "it goes to a scene that this room has not")
	assert.Nil(t, first.Design.Scene("none"))
}

func TestDivideRoom_addsWhatAnAreaNeedsBesides(t *testing.T) {
	p, r, g := twoInOne(t)
	r.Design = r.Design.Clone()
	r.Design.Device("gw").Mounting = "rack"
	r.Design.Device("ps-2").Hears = []domain.ID{"lc", "lc-2"}
	r.Room.Design = r.Design
	g.Areas[0].Devices = append(g.Areas[0].Devices, "gw-2")
	g.Areas[1].Devices = []domain.ID{"lc-2", "rc-2", "st-2", "ps-2", "ds-2"}
	g.Areas[1].Added = []domain.Device{{ID: "gateway", Type: "gw-room"}, {ID: "router", Type: "rt-plug"}}
	g.Areas[1].Parents = map[domain.ID]domain.ID{"ps-2": "router", "ds-2": "lc-2"}
	_, second, _ := divided(t, p, r, g)
	gateway := second.Design.Device("gateway")
	require.NotNil(t, gateway)
	assert.Equal(t, "GW-1", gateway.Tag)
	assert.Equal(t, "rack", gateway.Mounting)
	assert.Nil(t, gateway.At, "where it goes is for the designer to say")
	assert.Equal(t, domain.ID("router"), second.Design.Device("ps-2").Parent)
	assert.Equal(t, []domain.ID{"lc-2", "router"}, second.Design.Device("ps-2").Hears, "not the one that stayed behind")
	assert.Empty(t, second.Design.Device("ds-2").Hears, "it said nothing before and says nothing now")
}

func TestDivideRoom_hangsLoadsOnOtherControllers(t *testing.T) {
	p, r, g := twoInOne(t)
	g.Areas[0].Loads = append(g.Areas[0].Loads, "l1-2")
	g.Areas[1].Loads = slices.DeleteFunc(g.Areas[1].Loads, func(id domain.ID) bool { return id == "l1-2" })
	_, _, _, err := draw(t, p, r, g)
	require.ErrorContains(t, err, "its areas were worked out", "its controller stays behind")
	for _, h := range []edit.HungLoad{{Load: "l1-2", Controller: "lc-2", Output: 1}, {Load: "l1-2", Controller: "lc"}, {Load: "l1", Controller: "lc", Output: 1}} {
		g.Areas[0].Hung = []edit.HungLoad{h}
		_, _, _, err = draw(t, p, r, g)
		require.ErrorContains(t, err, "its areas were worked out", "%v", h)
	}
	g.Areas[0].Added = []domain.Device{{ID: "more", Type: "lc-2"}}
	g.Areas[0].Hung = []edit.HungLoad{{Load: "l1-2", Controller: "more", Output: 1}}
	first, second, _ := divided(t, p, r, g)
	moved := first.Design.Load("l1-2")
	require.NotNil(t, moved)
	assert.Equal(t, domain.ID("more"), moved.Controller)
	assert.Equal(t, 1, moved.Output)
	assert.Equal(t, r.Design.Load("l1-2").Circuit, moved.Circuit)
	assert.Nil(t, second.Design.Load("l1-2"))
	scope := domain.Scope{Project: *p, Rooms: []domain.Room{*first, *second}}
	assert.Empty(t, scope.Check())
}

func TestDivideRoom_waiversGoWithWhatTheyAreAbout(t *testing.T) {
	p, r, g := twoInOne(t)
	waiver := func(id, key domain.ID) domain.Waiver {
		return domain.Waiver{ID: id, Rule: "some-rule", Key: string(key), Reason: "as built", Name: "A. Designer", Date: "2026-03-02"}
	}
	r.Waivers = []domain.Waiver{waiver("w1", "ps"), waiver("w2", "ps-2"), waiver("w3", "l1-2"), waiver("w4", ""), waiver("w5", "windows")}
	first, second, _ := divided(t, p, r, g)
	assert.Equal(t, []domain.Waiver{waiver("w1", "ps"), waiver("w4", ""), waiver("w5", "windows")}, first.Waivers)
	assert.Equal(t, []domain.Waiver{waiver("w2", "ps-2"), waiver("w3", "l1-2")}, second.Waivers)
}

func TestDivideRoom_partsWithItsTypical(t *testing.T) {
	p, r, g := twoInOne(t)
	typical := &domain.Typical{ID: "t1", Name: "CR-2", Space: domain.SpaceTypes()[0].Type, Design: r.Design.Clone()}
	r.TypicalID, r.Typical, r.Room.Design = typical.ID, typical, domain.Design{}
	first, second, _ := divided(t, p, r, g)
	assert.Empty(t, first.TypicalID)
	assert.Empty(t, first.Exceptions)
	assert.Empty(t, second.TypicalID)
	assert.Equal(t, typical.Space, first.Space)
	assert.Equal(t, typical.Space, second.Space)
	assert.Len(t, first.Design.Devices, 6)
	assert.Len(t, second.Design.Devices, 6)
	assert.Len(t, typical.Design.Devices, 12, "the typical stays as it is")
}

func TestDivideRoom_takesFreeNumbers(t *testing.T) {
	p, r, g := twoInOne(t)
	third := g.Areas[1]
	third.ID, third.Outline, third.Devices, third.Loads = "third", geom.Rectangle(8, 5, 6, 5), nil, nil
	g.Areas[1].Outline = geom.Rectangle(8, 0, 6, 5)
	g.Areas = append(g.Areas, third)
	d := &edit.Drawing{Project: p, Rooms: []*domain.Resolved{copied(r)}, Taken: func(n string) bool { return n == "101A" || len(n) == 4 && n > "101C" }}
	_, err := edit.Draw(d, g)
	require.NoError(t, err)
	assert.Equal(t, "101B", d.Added[0].Number)
	assert.Equal(t, "101C", d.Added[1].Number)
	d = &edit.Drawing{Project: p, Rooms: []*domain.Resolved{copied(r)}, Taken: func(n string) bool { return len(n) < 5 }}
	said, err := edit.Draw(d, g)
	require.NoError(t, err)
	assert.Equal(t, "divided room 101, new rooms 101AA, 101AB", said)
	g.Areas[2].Number = "101aa"
	_, err = edit.Draw(&edit.Drawing{Project: p, Rooms: []*domain.Resolved{copied(r)}, Taken: d.Taken}, g)
	assert.ErrorContains(t, err, "there is a room 101aa already")
}

func TestDivideRoom_refusals(t *testing.T) {
	for says, spoil := range map[string]func(*domain.Resolved, *edit.DivideRoom){
		"into 2 to 50 areas":       func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas = g.Areas[:1] },
		"no outline":               func(r *domain.Resolved, _ *edit.DivideRoom) { r.Outline = geom.Polygon{} },
		"no longer on this storey": func(_ *domain.Resolved, g *edit.DivideRoom) { g.Room = "gone" },
		"area 2 cannot be drawn":   func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[1].Outline = geom.Polygon{} },
		"lie over each other":      func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[1].Outline = geom.Rectangle(7, 0, 7, 10) },
		"reaches beyond":           func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[1].Outline = geom.Rectangle(8, 0, 7, 10) },
		"leave 108 sq ft of room":  func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[1].Outline = geom.Rectangle(9, 0, 5, 10) },
		"is no ID":                 func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[1].ID = "../x" },
		"the equipment book": func(_ *domain.Resolved, g *edit.DivideRoom) {
			g.Areas[1].Added = []domain.Device{{ID: "n", Type: "none"}}
		},
		"has a device of the ID": func(_ *domain.Resolved, g *edit.DivideRoom) {
			g.Areas[1].Added = []domain.Device{{ID: "lc-2", Type: "gw-room"}}
		},
		"no longer as it was":      func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[1].Devices = g.Areas[1].Devices[1:] },
		"as it was when its areas": func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[0].Devices = append(g.Areas[0].Devices, "lc-2") },
		"look at them again":       func(_ *domain.Resolved, g *edit.DivideRoom) { g.Areas[1].Loads[0] = "gone" },
		"its areas were worked out": func(_ *domain.Resolved, g *edit.DivideRoom) { // a load without its controller
			g.Areas[0].Loads, g.Areas[1].Loads = g.Areas[1].Loads, g.Areas[0].Loads
		},
	} {
		p, r, g := twoInOne(t)
		spoil(r, &g)
		_, _, _, err := draw(t, p, r, g)
		var refused *edit.Refused
		require.ErrorAs(t, err, &refused, says)
		assert.ErrorContains(t, err, says)
	}
}
