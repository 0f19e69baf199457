package edit_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

// clipOf copies things and sends them through the clipboard.
func clipOf(t require.TestingT, d *edit.Drawing, names ...string) *edit.Clip {
	c, err := edit.Copied(d, things(t, names...))
	require.NoError(t, err)
	read, err := edit.ReadClip([]byte(asJSON(t, c)))
	require.NoError(t, err)
	return read
}

func drawnStorey() (*edit.Drawing, *domain.Resolved) {
	p, r := drawnRoom()
	p.Buildings = []domain.Building{{ID: "b1", Name: "Main", Storeys: []domain.Storey{{ID: "s1", Name: "One"}, {ID: "s2", Name: "Two"}}}}
	r.StoreyID = "s1"
	return &edit.Drawing{Project: p, Storey: "s1", Rooms: []*domain.Resolved{copied(r)}, Plan: walled()}, r
}

func TestPaste_roomsBringWhatTheyHold(t *testing.T) {
	from, r := drawnStorey()
	c := clipOf(t, from, "room/"+string(r.ID), "seat/"+string(r.ID)+"/s1")
	taken := map[string]bool{"101": true, "101 copy": true}
	to := &edit.Drawing{Project: from.Project, Storey: "s2", Plan: &domain.Plan{ID: "s2"}, Taken: func(n string) bool { return taken[n] }}
	said, err := edit.Draw(to, edit.Paste{Clip: c, By: geom.Pt(1, 1), New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, "pasted room 101 copy 2", said)
	require.Len(t, to.Added, 1)
	twin := to.Added[0]
	assert.Equal(t, domain.ID("s2"), twin.StoreyID)
	assert.Equal(t, geom.Rectangle(1, 1, 8, 10), twin.Outline)
	assert.Equal(t, geom.Pt(5, 5), twin.Sitting[0].At)
	assert.Equal(t, geom.Pt(3, 3), *twin.Design.Devices[0].At)
	assert.Len(t, twin.Design.Links, len(r.Design.Links))
	scope := domain.Scope{Project: *from.Project, Rooms: []domain.Room{*r.Room.Clone(), *twin}}
	scope.Rooms[0].StoreyID = "s1"
	assert.Empty(t, scope.Check())

	taken = nil
	to.Added = nil
	_, err = edit.Draw(to, edit.Paste{Clip: c, New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, "101", to.Added[0].Number, "its own number, after a cut")
}

func TestPaste_roomFollowsItsTypicalAgain(t *testing.T) {
	from, r := drawnStorey()
	typical := &domain.Typical{ID: "t1", Name: "CR-1", Design: r.Design.Shared()}
	room := from.Rooms[0]
	room.TypicalID, room.Typical = typical.ID, typical
	c := clipOf(t, from, "room/"+string(r.ID))
	to := &edit.Drawing{Project: from.Project, Storey: "s2", Typical: func(id domain.ID) *domain.Typical {
		if id == typical.ID {
			return typical
		}
		return nil
	}}
	_, err := edit.Draw(to, edit.Paste{Clip: c, New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, typical.ID, to.Added[0].TypicalID)
	assert.True(t, to.Added[0].Design.Empty())
	assert.Empty(t, to.Added[0].RealExceptions())
	to.Typical, to.Added = nil, nil
	_, err = edit.Draw(to, edit.Paste{Clip: c, New: counter("n")})
	require.NoError(t, err)
	assert.Len(t, to.Added[0].Design.Devices, 6, "without the typical it has all for itself")
}

func TestPaste_thingsJoinTheRoomUnderThem(t *testing.T) {
	from, r := drawnStorey()
	id := string(r.ID)
	first := r.Design.Devices[0]
	c := clipOf(t, from, "device/"+id+"/"+string(first.ID), "fixture/"+id+"/f1", "seat/"+id+"/s1", "wall/w1", "opening/w1/o1")
	target := beside("102", geom.Rectangle(20, 0, 8, 10))
	to := &edit.Drawing{Project: from.Project, Storey: "s1", Rooms: []*domain.Resolved{copied(target)}, Plan: &domain.Plan{ID: "s1"}}
	said, err := edit.Draw(to, edit.Paste{Clip: c, By: geom.Pt(20, 0), Into: []domain.ID{target.ID}, New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, "pasted 4 things", said, "the door comes with its wall")
	room := to.Rooms[0]
	require.Len(t, room.Design.Devices, 7)
	twin := room.Design.Devices[6]
	assert.Equal(t, geom.Pt(22, 2), *twin.At)
	assert.NotEqual(t, first.Tag, twin.Tag)
	links := 0
	for _, k := range room.Design.Links {
		if k.Device == twin.ID {
			links++
		}
	}
	want := 0
	for _, k := range r.Design.Links {
		if k.Device == first.ID {
			want++
		}
	}
	assert.Equal(t, want, links, "the room has loads of the same tags")
	require.Len(t, room.Fixtures, 2)
	assert.Equal(t, geom.Pt(22, 5), room.Fixtures[1].At)
	assert.Len(t, room.Sitting, 1)
	require.Len(t, to.Plan.Walls, 1)
	assert.Equal(t, geom.Pt(20, 0), to.Plan.Walls[0].A)
	assert.Len(t, to.Plan.Walls[0].Openings, 1)

	_, err = edit.Draw(to, edit.Paste{Clip: c, By: geom.Pt(60, 0), Into: []domain.ID{target.ID}, New: counter("m")})
	assert.ErrorContains(t, err, "outside every room")
	to.Rooms[0].Design.Loads = to.Rooms[0].Design.Loads[1:]
	c = clipOf(t, from, "fixture/"+id+"/f1")
	_, err = edit.Draw(to, edit.Paste{Clip: c, By: geom.Pt(20, 0), Into: []domain.ID{target.ID}, New: counter("m")})
	assert.ErrorContains(t, err, "no load for a luminaire of L1")
}

func TestPaste_openingGoesIntoTheWallUnderIt(t *testing.T) {
	from, _ := drawnStorey()
	c := clipOf(t, from, "opening/w1/o1") // its middle is at 1.45, 0
	to := &edit.Drawing{Project: from.Project, Storey: "s2", Plan: &domain.Plan{ID: "s2", Walls: []domain.Wall{{ID: "w9", A: geom.Pt(0, 5), B: geom.Pt(8, 5), Kind: domain.FullWall}}}}
	_, err := edit.Draw(to, edit.Paste{Clip: c, By: geom.Pt(2, 5.1), New: counter("n")})
	require.NoError(t, err)
	require.Len(t, to.Plan.Walls[0].Openings, 1)
	assert.InDelta(t, 3, float64(to.Plan.Walls[0].Openings[0].At), 1e-9)
	_, err = edit.Draw(to, edit.Paste{Clip: c, By: geom.Pt(2, 9), New: counter("n")})
	assert.ErrorContains(t, err, "here is none")
}

// A clipboard can be written by anyone.
func TestPaste_refusesWhatNoPlanCouldHaveGiven(t *testing.T) {
	for _, text := range []string{"", "x", "{}", "[]", `{"form":"plan-clip-1"} {}`, `{"form":"plan-clip-1","more":1}`, `{"form":"plan-clip-1","rooms":{}}`, `{"form":"other"}`} {
		_, err := edit.ReadClip([]byte(text))
		assert.ErrorContains(t, err, "clipboard", text)
	}
	from, r := drawnStorey()
	id := string(r.ID)
	for name, c := range map[string]struct {
		spoil func(*edit.Clip)
		says  string
	}{
		"nothing":      {func(c *edit.Clip) { c.Rooms = nil }, "nothing was copied"},
		"crossing":     {func(c *edit.Clip) { o := c.Rooms[0].Outline.Outer; o[1], o[2] = o[2], o[1] }, "crosses itself"},
		"far":          {func(c *edit.Clip) { c.Rooms[0].Outline.Outer[0].X = 1e9 }, "10,000 km"},
		"twice":        {func(c *edit.Clip) { c.Rooms = append(c.Rooms, c.Rooms[0]) }, "cannot be pasted"},
		"no number":    {func(c *edit.Clip) { c.Rooms[0].Number = "" }, "number"},
		"control":      {func(c *edit.Clip) { c.Rooms[0].Name = "a\x00b" }, "cannot be pasted"},
		"long":         {func(c *edit.Clip) { c.Rooms[0].Notes = strings.Repeat("x", 5000) }, "cannot be pasted"},
		"bad id":       {func(c *edit.Clip) { c.Rooms[0].Design.Devices[0].ID = "../x" }, "cannot be pasted"},
		"unknown type": {func(c *edit.Clip) { c.Rooms[0].Design.Devices[0].Type = "nope" }, "equipment book"},
		"no luminaire": {func(c *edit.Clip) { c.Rooms[0].Design.Loads[0].Luminaire = "nope" }, "luminaire schedule"},
		"wrong link":   {func(c *edit.Clip) { c.Rooms[0].Design.Links[0].ID = "x" }, "cannot be pasted"},
		"exceptions":   {func(c *edit.Clip) { c.Rooms[0].TypicalID = "t9" }, "clipboard"},
		"waivers":      {func(c *edit.Clip) { c.Rooms[0].Waivers = []domain.Waiver{{ID: "w"}} }, "clipboard"},
		"wall kind":    {func(c *edit.Clip) { c.Walls = []domain.Wall{{ID: "w", Kind: "moat"}} }, "cannot be pasted"},
		"wall length":  {func(c *edit.Clip) { c.Walls = []domain.Wall{{ID: "w", Kind: domain.FullWall}} }, "no length"},
		"too many":     {func(c *edit.Clip) { c.Rooms[0].Sitting = make([]domain.Seat, 20000) }, "too many"},
		"opening": {func(c *edit.Clip) {
			c.Openings = []edit.LooseOpening{{Opening: domain.Opening{ID: "o", Kind: "hatch"}}}
		}, "cannot be pasted"},
		"loose opening": {func(c *edit.Clip) {
			c.Openings = []edit.LooseOpening{{Opening: domain.Opening{ID: "o", Kind: domain.Door, Width: 90}}}
		}, "does not fit"},
	} {
		clip := clipOf(t, from, "room/"+id)
		c.spoil(clip)
		to := &edit.Drawing{Project: from.Project, Storey: "s2", Plan: walled()}
		_, err := edit.Draw(to, edit.Paste{Clip: clip, New: counter("n")})
		require.Error(t, err, name)
		assert.ErrorContains(t, err, c.says, name)
	}
}

func FuzzReadClip(f *testing.F) {
	from, r := drawnStorey()
	c, err := edit.Copied(from, []edit.Thing{{Kind: edit.RoomThing, Room: r.ID}, {Kind: edit.WallThing, ID: "w1"}})
	require.NoError(f, err)
	raw, err := json.Marshal(c)
	require.NoError(f, err)
	f.Add(raw)
	f.Add([]byte(`{"form":"plan-clip-1","rooflights":[{"id":"r","at":[1,1],"width_m":1,"length_m":2,"turn_deg":30,"glass":0.5}]}`))
	f.Add([]byte(`{"form":"plan-clip-1","walls":[{"id":"w","a":[0,0],"b":[1,0],"kind":"wall"}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		clip, err := edit.ReadClip(text)
		if err != nil {
			return
		}
		to := &edit.Drawing{Project: from.Project, Storey: "s2", Plan: walled(), Rooms: []*domain.Resolved{copied(r)}}
		if _, err := edit.Draw(to, edit.Paste{Clip: clip, New: counter("n")}); err != nil {
			return
		}
		scope := domain.Scope{Project: domain.Project{ID: "p", Name: "p", Units: "SI", Buildings: from.Project.Buildings}, Plans: []domain.Plan{*to.Plan}}
		for _, room := range to.Added {
			scope.Rooms = append(scope.Rooms, *room)
		}
		require.Empty(t, scope.Check(), "what was pasted can be stored and exported")
	})
}

func TestCut_takesDevicesOutOfTheDesignAndRoomsOutOfTheProject(t *testing.T) {
	d, r := drawnStorey()
	id, dev := string(r.ID), r.Design.Devices[0].ID
	said, err := edit.Draw(d, edit.Cut{Things: things(t, "device/"+id+"/"+string(dev), "seat/"+id+"/s1", "wall/w1")})
	require.NoError(t, err)
	assert.Equal(t, "cut 3 things on the plan", said)
	assert.Nil(t, d.Rooms[0].Design.Device(dev))
	for _, k := range d.Rooms[0].Design.Links {
		assert.NotEqual(t, dev, k.Device)
	}
	assert.Empty(t, d.Rooms[0].Sitting)
	assert.Empty(t, d.Plan.Walls)
	_, err = edit.Draw(d, edit.Cut{Things: things(t, "room/"+id)})
	require.NoError(t, err)
	assert.Equal(t, []domain.ID{r.ID}, d.Removed)
	assert.Empty(t, d.Rooms)
}
