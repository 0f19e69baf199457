package edits

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/store"
)

// followers gives a project of rooms that follow a typical; the first of them
// has one device more.
func followers(t *testing.T, n int) *domain.Scope {
	t.Helper()
	b := domaintest.Classroom()
	s := &domain.Scope{Project: *b.P, Typicals: []domain.Typical{{ID: "t1", Name: "CR", Design: b.R.Design.Clone()}, {ID: "t2", Name: "Unused", Design: b.R.Design.Clone()}}}
	for i := range n {
		s.Rooms = append(s.Rooms, domain.Room{ID: domain.ID(fmt.Sprint("r", i)), StoreyID: "s1", Number: fmt.Sprint(101 + i), TypicalID: "t1"})
	}
	first, err := s.Resolve(&s.Rooms[0])
	require.NoError(t, err)
	first.Design = first.Design.Clone()
	_, err = edit.All(edit.OfRoom(&s.Project, first), []edit.Edit{edit.AddDevice{ID: "extra", Type: "ps-ceiling"}})
	require.NoError(t, err)
	require.NoError(t, first.Settle())
	return s
}

// Counting by typical must give what counting each resolved room gives.
func TestCountUses_seesResolvedRooms(t *testing.T) {
	s := followers(t, 9)
	want := map[string]int{}
	for i := range s.Rooms {
		resolved, err := s.Resolve(&s.Rooms[i])
		require.NoError(t, err)
		for _, d := range resolved.Design.Devices {
			want[d.Type]++
		}
	}
	uses, err := CountUses(s, OfDevices)
	require.NoError(t, err)
	for typ, n := range want {
		assert.Equal(t, n, uses.Of(typ).Count, typ)
		assert.Len(t, uses.Of(typ).Rooms, 9)
	}
	assert.Equal(t, 10, uses.Of("ps-ceiling").Count, "nine follow, one has one more")
	assert.Equal(t, "rooms 101, 102, 103, 104, 105, 106 and 3 more and in typicals CR, Unused", uses.Of("lc-4").Where())
	assert.True(t, uses.Of("lc-1").None())
	assert.Equal(t, "not used", uses.Of("lc-1").Brief())
	assert.Equal(t, "9 in 9 rooms", uses.Of("lc-4").Brief())
}

func TestCountUses_typicalThatNobodyFollows(t *testing.T) {
	s := followers(t, 1)
	s.Rooms = nil
	uses, err := CountUses(s, OfLuminaires)
	require.NoError(t, err)
	assert.False(t, uses.Of("a").None())
	assert.Equal(t, "in 2 typicals", uses.Of("a").Brief())
}

func TestVerdicts_since(t *testing.T) {
	before := Verdicts{"a": store.Summary{Errors: 1, Rules: []string{"x"}}, "b": {}, "gone": {Errors: 9}}
	for _, c := range []struct {
		now  Verdicts
		want string
	}{
		{Verdicts{"a": before["a"], "b": {}}, ""},
		{Verdicts{"a": {Errors: 3, Rules: []string{"x"}}, "b": {}}, "Findings changed in 1 room: 2 more errors."},
		{Verdicts{"a": {}, "b": {Warnings: 1}}, "Findings changed in 2 rooms: 1 fewer error."},
		{Verdicts{"a": {Errors: 1, Rules: []string{"y"}}, "b": {}}, "Findings changed in 1 room."},
	} {
		assert.Equal(t, c.want, c.now.Since(before))
	}
}
