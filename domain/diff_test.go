package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
)

// school is a project of three rooms that follow a typical and one of its own.
func school() *domain.Scope {
	b := domaintest.Classroom()
	return &domain.Scope{Project: *b.P, Typicals: []domain.Typical{{ID: "t", Seq: 1, Name: "CR-1", Design: b.R.Design}},
		Rooms: []domain.Room{
			{ID: "r1", StoreyID: "s1", Number: "101", TypicalID: "t"}, {ID: "r2", StoreyID: "s1", Number: "102", TypicalID: "t"},
			{ID: "r3", StoreyID: "s1", Number: "103", TypicalID: "t"}, {ID: "r4", StoreyID: "s1", Number: "104", Name: "Own", Design: b.R.Design.Clone()},
		}}
}

func compare(t require.TestingT, change func(*domain.Scope)) *domain.Difference {
	older := school()
	newer, err := older.Copy()
	require.NoError(t, err)
	change(newer)
	d, err := domain.Compare(older, newer)
	require.NoError(t, err)
	return d
}

// inTypical edits the typical of the school.
func inTypical(s *domain.Scope, edits ...edit.Edit) {
	subject := edit.OfTypical(&s.Project, &s.Typicals[0])
	for _, e := range edits {
		if _, err := e.Apply(subject); err != nil {
			panic(err)
		}
	}
}

// inRoom edits one room of the school.
func inRoom(s *domain.Scope, at int, edits ...edit.Edit) {
	r, err := s.Resolve(&s.Rooms[at])
	if err != nil {
		panic(err)
	}
	r.Design = r.Design.Clone()
	subject := edit.OfRoom(&s.Project, r)
	for _, e := range edits {
		if _, err := e.Apply(subject); err != nil {
			panic(err)
		}
	}
	if err := r.Settle(); err != nil {
		panic(err)
	}
}

func TestCompare_nothing(t *testing.T) {
	d := compare(t, func(*domain.Scope) {})
	assert.True(t, d.Empty())
	assert.True(t, (*domain.Difference)(nil).Empty())
	assert.Nil(t, (*domain.Difference)(nil).Room("r1"))
}

func TestCompare_typicalEditShowsInEachRoomThatFollows(t *testing.T) {
	d := compare(t, func(s *domain.Scope) {
		inTypical(s, edit.SetField{Path: "devices/ps/delay_s", Text: "15"})
	})
	require.Len(t, d.Rooms, 3, "the room of its own stays")
	for i, id := range []domain.ID{"r1", "r2", "r3"} {
		assert.Equal(t, domain.RoomChange{RoomID: id, Label: d.Rooms[i].Label, Kind: domain.RoomChanged, Lines: []string{"PS-1: delay as the intent says -> 15 min"}, Parts: []string{"devices/ps"}}, d.Rooms[i])
	}
	assert.Equal(t, []string{"typical CR-1: PS-1: delay as the intent says -> 15 min"}, d.Project)
	assert.NotNil(t, d.Room("r2"))
	assert.Nil(t, d.Room("r4"))
}

func TestCompare_exceptionShieldsItsRoom(t *testing.T) {
	older := school()
	inRoom(older, 1, edit.SetField{Path: "devices/ps/delay_s", Text: "5"})
	newer, err := older.Copy()
	require.NoError(t, err)
	inTypical(newer, edit.SetField{Path: "devices/ps/delay_s", Text: "15"})
	d, err := domain.Compare(older, newer)
	require.NoError(t, err)
	assert.Nil(t, d.Room("r2"), "it had and has 5 min")
	assert.NotNil(t, d.Room("r1"))
}

func TestCompare_roomFactsAddedAndRemoved(t *testing.T) {
	d := compare(t, func(s *domain.Scope) {
		s.Rooms[3].Area, s.Rooms[3].Seats = 92.90304, 30 // 1000 ft2
		s.Rooms = append(s.Rooms[1:], domain.Room{ID: "r9", StoreyID: "s1", Number: "109"})
	})
	assert.Equal(t, []string{"area none -> 1000 sq ft", "occupants none -> 30"}, d.Room("r4").Lines)
	assert.Equal(t, domain.RoomAdded, d.Room("r9").Kind)
	assert.Equal(t, domain.RoomRemoved, d.Room("r1").Kind)
	assert.Equal(t, domain.ID("r1"), d.Rooms[len(d.Rooms)-1].RoomID, "removed rooms stand last")
}

func TestCompare_removedDeviceTakesItsLinksAlong(t *testing.T) {
	d := compare(t, func(s *domain.Scope) { inRoom(s, 3, edit.Remove{Part: "devices", ID: "ds"}) })
	lines := d.Room("r4").Lines
	require.NotEmpty(t, lines)
	assert.Regexp(t, `^removed device DS-1 \(Daylight sensor, battery\) with its \d+ links$`, lines[0])
	for _, l := range lines {
		assert.NotContains(t, l, "gone")
	}
}

func TestCompare_typicalTakenUpAndWaiver(t *testing.T) {
	d := compare(t, func(s *domain.Scope) {
		s.Rooms[3].TypicalID, s.Rooms[3].Design = "t", domain.Design{}
		s.Rooms[0].Waivers = []domain.Waiver{{ID: "w", Rule: "presence-area", Reason: "store corner", Name: "R. Viewer", Date: "2026-01-01"}}
	})
	assert.Equal(t, []string{"typical none -> CR-1"}, d.Room("r4").Lines, "the design is the same")
	assert.Equal(t, []string{"waiver of presence-area by R. Viewer: store corner"}, d.Room("r1").Lines)
}

func TestCompare_project(t *testing.T) {
	d := compare(t, func(s *domain.Scope) {
		p := &s.Project
		p.Client, p.Luminaires[0].Watts = "Example client", 40
		p.Luminaires = append(p.Luminaires[:1:1], p.Luminaires[2:]...)
		p.Limits[0].Value = 30
		p.Book[0].Name = "Other name"
		p.Buildings[0].Storeys[0].Name = "First"
		p.Checklist = domain.StartChecklist()[:2]
	})
	for _, want := range []string{"client none -> Example client", "luminaire A: watts 38 W -> 40 W", "luminaire B removed", "limit Devices in one room, all kinds together: value 32 -> 30",
		"equipment Other name: name Room controller, 1 dimmed output -> Other name", "storey Main building, Ground is now storey Main building, First", "checklist: 2 items added, removed or reworded"} {
		assert.Contains(t, d.Project, want)
	}
	require.Len(t, d.Rooms, 4, "the storey's new name shows in its rooms")
	assert.Equal(t, []string{"storey Ground -> First"}, d.Rooms[0].Lines)
}

func TestCompare_missingTypicalIsNamed(t *testing.T) {
	older := school()
	newer, err := older.Copy()
	require.NoError(t, err)
	newer.Rooms[0].TypicalID = "gone"
	_, err = domain.Compare(older, newer)
	assert.ErrorContains(t, err, "room 101")
}

// Whatever is edited in a room, the comparison names that room and no other, and says
// nothing when the edit did nothing.
func TestCompare_findsExactlyWhatWasEdited(t *testing.T) {
	edits := [][2]string{{"devices/st/place", "door"}, {"loads/l1/count", "9"}, {"scenes/s1/name", "Work"}, {"intents/i2/delay_s", "9"}, {"links/st.1.press:l1", "40"}, {"devices/st/buttons/1", "Hello"}, {"scenes/s2/levels/l2", "10"}}
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.IntRange(0, 3).Draw(t, "room")
		e := rapid.SampledFrom(edits).Draw(t, "edit")
		var before, after domain.Design
		d := compare(t, func(s *domain.Scope) {
			r, _ := s.Resolve(&s.Rooms[at])
			before = r.Design.Clone()
			inRoom(s, at, edit.SetField{Path: e[0], Text: e[1]})
			r, _ = s.Resolve(&s.Rooms[at])
			after = r.Design.Clone()
		})
		require.NotEqual(t, before, after)
		require.Len(t, d.Rooms, 1)
		assert.Equal(t, domain.ID([]string{"r1", "r2", "r3", "r4"}[at]), d.Rooms[0].RoomID)
		assert.NotEmpty(t, d.Rooms[0].Lines)
		assert.Empty(t, d.Project)
	})
}

func BenchmarkCompare1000Rooms(b *testing.B) {
	older := school()
	for len(older.Rooms) < 1000 {
		r := older.Rooms[len(older.Rooms)%4].Clone()
		r.ID = domain.NewID()
		older.Rooms = append(older.Rooms, *r)
	}
	newer, err := older.Copy()
	if err != nil {
		b.Fatal(err)
	}
	inTypical(newer, edit.SetField{Path: "devices/ps/delay_s", Text: "15"})
	for b.Loop() {
		if _, err := domain.Compare(older, newer); err != nil {
			b.Fatal(err)
		}
	}
}
