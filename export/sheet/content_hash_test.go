package sheet_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/export/sheet"
)

func hashOf(b *domaintest.Builder) string {
	return sheet.RoomContentHash(input(b), b.R)
}

func TestRoomContentHash_changesWithEveryPrintedField(t *testing.T) {
	before := hashOf(domaintest.Classroom())
	assert.Len(t, before, 64)
	fields := [][2]string{
		{"devices/st/place", "by the door"}, {"devices/st/mounting", "post"}, {"devices/st/height_m", "48 in"}, {"devices/st/tag", "ST-9"}, {"devices/st/type", "st-4-battery"},
		{"devices/st/sending", "group"}, {"devices/st/buttons/1", "Work"}, {"devices/ps/presence", "occupancy"}, {"devices/ps/delay_s", "10"}, {"devices/ps/parent", "ST-1"}, {"devices/ds/loop", "closed loop"},
		{"loads/l1/tag", "L9"}, {"loads/l1/name", "Back"}, {"loads/l1/luminaire", "B"}, {"loads/l1/count", "7"}, {"loads/l1/volts", "120"}, {"loads/l1/circuit", "LP-9"}, {"loads/l1/dimming", "switched"}, {"loads/l1/pair_wire", "16 AWG"},
		{"loads/l1/zone", "second row"}, {"loads/l1/egress", "yes"}, {"loads/l1/output", "2"}, {"loads/r1/rating_a", "15"},
		{"scenes/s1/name", "Work"}, {"scenes/s1/number", "5"}, {"scenes/s2/levels/l2", "61 in 2 s"}, {"scenes/s2/levels/l1", "0 in 3 s"},
		{"intents/i2/delay_s", "19"}, {"intents/i2/warn_to", "40"}, {"intents/i3/target_lx", "300 lx"}, {"intents/i5/restore", "off"}, {"intents/i1/source", "wish 4"},
		{"links/st.1.press:l1", "90"}, {"links/ds:l1", "ACT"},
	}
	seen := map[string]string{before: "nothing"}
	for _, f := range fields {
		h := hashOf(domaintest.Classroom().Set(f[0], f[1]))
		assert.NotContains(t, seen, h, "%s = %s gives the hash of %s", f[0], f[1], seen[h])
		seen[h] = f[0]
	}
	facts := map[string]func(*domaintest.Builder){
		"number": func(b *domaintest.Builder) { b.R.Room.Number = "9" }, "name": func(b *domaintest.Builder) { b.R.Room.Name = "Hall" },
		"use": func(b *domaintest.Builder) { b.R.Use = "lab" }, "area": func(b *domaintest.Builder) { b.R.Area = 45 }, "ceiling": func(b *domaintest.Builder) { b.R.Ceiling = 3 },
		"seats": func(b *domaintest.Builder) { b.R.Seats = 31 }, "notes": func(b *domaintest.Builder) { b.R.Notes = "x" },
		"project": func(b *domaintest.Builder) { b.P.Name = "Other" }, "code": func(b *domaintest.Builder) { b.P.CodeEdition = "2024" }, "hours": func(b *domaintest.Builder) { b.P.Hours = "day" },
		"units": func(b *domaintest.Builder) { b.P.Units = "SI" }, "storey": func(b *domaintest.Builder) { b.P.Buildings[0].Storeys[0].Name = "First" },
		"building": func(b *domaintest.Builder) { b.P.Buildings[0].Name = "Annex" }, "watts": func(b *domaintest.Builder) { b.P.Luminaires[0].Watts = 39 },
		"type name": func(b *domaintest.Builder) { b.P.Book.Find("gw-room").Name = "Other gateway" }, "a finding": func(b *domaintest.Builder) { b.P.Limits[0].Value = 2 },
	}
	for name, change := range facts {
		b := domaintest.Classroom()
		change(b)
		h := hashOf(b)
		assert.NotContains(t, seen, h, "%s gives the hash of %s", name, seen[h])
		seen[h] = name
	}
}

func TestRoomContentHash_staysForWhatBelongsToThePrint(t *testing.T) {
	b := domaintest.Classroom()
	before := hashOf(b)
	in := input(b)
	in.Issue = sheet.Issue{Revision: "7", Date: "2031-01-01", Purpose: "record", Author: "B. Author"}
	in.Changes = &domain.Difference{Rooms: []domain.RoomChange{{RoomID: b.R.ID, Kind: domain.RoomChanged, Lines: []string{"x"}, Parts: []string{"devices/st"}}}}
	in.Scope.Project.Checklist = domain.StartChecklist()
	in.Scope.Project.Reviewer = "Somebody else"
	in.Scope.Reviews = []domain.Review{{ID: "v", RoomID: b.R.ID, ItemID: "q05", Verdict: domain.Object}}
	in.Scope.SignOffs = []domain.SignOff{{ID: "s", RoomID: b.R.ID, Name: "R", Role: "Reviewer", Hash: before}}
	assert.Equal(t, before, sheet.RoomContentHash(in, b.R))

	b.Set("devices/ps/fitted", "2001-01-01") // long overdue: a finding of the calendar
	assert.Equal(t, before, hashOf(b), "a battery's date is the operator's business")
	assert.NotEmpty(t, input(b).Findings(b.R), "though the finding itself prints")
}

func TestRoomContentHash_isTheOneThatTheSheetPrints(t *testing.T) {
	s := demo.Scope()
	in := inputOf(s)
	sheets := sheet.RoomScope(open(t, in))
	byRoom := map[string]string{}
	for _, sh := range sheets {
		byRoom[sh.Head.Room] = sh.Head.Hash
	}
	for i := range s.Rooms {
		r, err := s.Resolve(&s.Rooms[i])
		require.NoError(t, err)
		h := sheet.RoomContentHash(in, r)
		assert.Equal(t, h[:4]+" "+h[4:8], byRoom[r.Label()])
	}
}

func TestRoomContentHash_followsTheTypical(t *testing.T) {
	s := demo.Scope()
	at := 0
	for s.Rooms[at].TypicalID == "" {
		at++
	}
	hash := func() string {
		r, err := s.Resolve(&s.Rooms[at])
		require.NoError(t, err)
		return sheet.RoomContentHash(inputOf(s), r)
	}
	before := hash()
	s.Typical(s.Rooms[at].TypicalID).Design.Devices[0].Place = "elsewhere"
	assert.NotEqual(t, before, hash())
}

func TestSignOffState(t *testing.T) {
	sign := func(role, at, hash string) domain.SignOff {
		return domain.SignOff{ID: domain.ID(role + at), Role: role, Name: "N", At: at, Hash: hash}
	}
	state := func(list ...domain.SignOff) sheet.SignState { s, _ := sheet.SignOffState("now", list); return s }
	assert.Equal(t, sheet.Unsigned, state())
	assert.Equal(t, sheet.Signed, state(sign("Reviewer", "2026-01-02", "now")))
	assert.Equal(t, sheet.Stale, state(sign("Reviewer", "2026-01-02", "then")))
	assert.Equal(t, sheet.Signed, state(sign("Reviewer", "2026-01-02", "then"), sign("Reviewer", "2026-01-03", "now")), "the newest of a role counts")
	assert.Equal(t, sheet.Stale, state(sign("Reviewer", "2026-01-02", "then"), sign("Designer", "2026-01-03", "now")), "each role's counts")
	back := sign("Reviewer", "2026-01-02", "now")
	back.Withdrawn = "2026-01-04"
	assert.Equal(t, sheet.Unsigned, state(back))
}

func TestRoomScope_printsReviewAndStaleSignature(t *testing.T) {
	b := domaintest.Classroom()
	in := input(b)
	in.Scope.Project.Checklist = domain.StartChecklist()
	item := in.Scope.Project.Checklist[4]
	require.Equal(t, domain.AskRoom, item.For)
	in.Scope.Reviews = []domain.Review{
		{ID: "v1", RoomID: b.R.ID, ItemID: item.ID, At: "2026-02-01T10:00:00Z", Name: "R. Viewer", Verdict: domain.Agree},
		{ID: "v2", RoomID: b.R.ID, ItemID: item.ID, At: "2026-02-02T10:00:00Z", Name: "R. Viewer", Verdict: domain.Object, Comment: "which one?"},
		{ID: "v3", RoomID: b.R.ID, ItemID: item.ID, At: "2026-02-03T10:00:00Z", Name: "D. Signer", Answer: "none is relied on"},
	}
	in.Scope.SignOffs = []domain.SignOff{{ID: "s", RoomID: b.R.ID, Name: "R. Viewer", Role: "Reviewer", At: "2026-02-04T09:00:00Z", Hash: "old"}}
	text := printed(sheet.RoomScope(open(t, in)))
	assert.Contains(t, text, "stale: the room changed since")
	assert.Contains(t, text, "Open objections")
	assert.Contains(t, text, "which one? (R. Viewer, 2026-02-02) (1 earlier verdict)")
	assert.Contains(t, text, "none is relied on (D. Signer, 2026-02-03)")
	asked := 0
	for _, i := range in.Scope.Project.Checklist {
		if i.For == domain.AskRoom {
			asked++
		}
	}
	assert.Contains(t, text, fmt.Sprintf("0 of %d agreed, 1 objection, %d open", asked, asked-1))

	in.Scope.SignOffs[0].Hash = sheet.RoomContentHash(in, b.R)
	assert.Contains(t, printed(sheet.RoomScope(open(t, in))), "holds for this content")
}

func TestRoomScope_marksExceptionsAndChanges(t *testing.T) {
	typical := domaintest.Classroom()
	s := &domain.Scope{Project: *typical.P, Typicals: []domain.Typical{{ID: "t", Seq: 1, Name: "CR-1", Title: "Classroom", Design: typical.R.Design}},
		Rooms: []domain.Room{{ID: "r1", StoreyID: "s1", Number: "101", TypicalID: "t"}, {ID: "r2", StoreyID: "s1", Number: "102", TypicalID: "t"}}}
	r, err := s.Resolve(&s.Rooms[1])
	require.NoError(t, err)
	own := &domaintest.Builder{P: typical.P, R: r}
	r.Design = r.Design.Clone()
	own.Set("devices/ps/delay_s", "10")
	in := inputOf(s)
	in.Issue.Revision = "3"
	in.Changes = &domain.Difference{Rooms: []domain.RoomChange{{RoomID: "r2", Kind: domain.RoomChanged, Lines: []string{"PS-1: delay none -> 10 min"}, Parts: []string{"devices/ps"}}}}
	sheets := sheet.RoomScope(open(t, in))
	text := printed(sheets[1:])
	assert.Contains(t, text, "typical CR-1 Classroom, 1 exception")
	assert.Contains(t, text, "How this room differs from typical CR-1")
	assert.Contains(t, text, "PS-1: delay none -> 10 min")
	assert.Contains(t, printed(sheets[:1]), "typical CR-1 Classroom, no exceptions")
	devices := find(t, sheets[1:], "Devices")
	for _, row := range devices.Rows {
		if row.Cells[0].Text == "PS-1" {
			assert.Equal(t, 3, row.Changed)
			assert.Equal(t, sheet.Exception, row.Cells[len(row.Cells)-1].Mark)
		} else {
			assert.Zero(t, row.Changed)
		}
	}
	sequence := printed(sheet.SequenceOfOperations(open(t, in)))
	assert.Contains(t, sequence, "Typical CR-1 Classroom")
	assert.Contains(t, sequence, "Holds for 1 room: 101.")
	assert.Contains(t, sequence, "102: exceptions to typical CR-1")
}

func TestDeviceSchedule_namesTheFeedOfAWiredSensor(t *testing.T) {
	b := domaintest.Room().Device("cn", "cn-2").Device("ps", "ps-wired").Set("devices/ps/fed_by", "CN-1")
	assert.Contains(t, printed(sheet.DeviceSchedule(open(t, input(b)))), "wired from CN-1")
}

func BenchmarkRoomContentHash(b *testing.B) {
	room := domaintest.Classroom()
	in := input(room)
	b.ReportAllocs()
	for b.Loop() {
		sheet.RoomContentHash(in, room.R)
	}
}

// The demo's open office is the largest room: 40 devices.
func BenchmarkRoomContentHash40Devices(b *testing.B) {
	s := demo.Scope()
	in := inputOf(s)
	var largest *domain.Resolved
	for i := range s.Rooms {
		r, err := s.Resolve(&s.Rooms[i])
		if err != nil {
			b.Fatal(err)
		}
		if largest == nil || len(r.Design.Devices) > len(largest.Design.Devices) {
			largest = r
		}
	}
	for b.Loop() {
		sheet.RoomContentHash(in, largest)
	}
}
