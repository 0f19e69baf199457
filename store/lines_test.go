package store

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
)

func numbers(lines []RoomLine) string {
	var out []string
	for _, l := range lines {
		out = append(out, l.Number)
	}
	return strings.Join(out, " ")
}

// building has three storeys whose IDs are not in their order, and numbers as
// people write them.
func building(t *testing.T, change ...func(*Options)) *Store {
	s := invented(0, 0)
	s.Project.Buildings = []domain.Building{
		{ID: "b2", Seq: 2, Name: "Hall", Storeys: []domain.Storey{{ID: "a0", Seq: 1, Name: "Ground"}}},
		{ID: "b1", Seq: 1, Name: "Annex", Storeys: []domain.Storey{{ID: "z1", Seq: 1, Name: "Level 1"}, {ID: "m2", Seq: 2, Name: "Level 2"}}},
	}
	for i, r := range []domain.Room{
		{StoreyID: "z1", Number: "10", Name: "Caf\u00e9 \u00c9toile", Use: "break-room", Area: 40},
		{StoreyID: "z1", Number: "2", Name: "Lobby", Use: "lobby", Area: 120},
		{StoreyID: "m2", Number: "101A", Name: "100%_office", Use: "office-private", Area: 12},
		{StoreyID: "m2", Number: "101", Name: "Office", Use: "office-private", Area: 14},
		{StoreyID: "m2", Number: "101B", Name: "Class", Use: "classroom", Area: 70, TypicalID: typicalID},
		{StoreyID: "a0", Number: "1", Name: "Hall", Use: "other", Area: 300},
	} {
		r.ID = domain.ID(fmt.Sprint("q", i))
		if r.TypicalID == "" {
			r.Design = design(i)
		}
		s.Rooms = append(s.Rooms, r)
	}
	return open(t, s, change...)
}

func TestRoomsAreListedInTheOrderOfTheBuilding(t *testing.T) {
	s := building(t)
	lines, total, err := s.RoomLines(ctx, projectID, Filter{})
	require.NoError(t, err)
	assert.Equal(t, 6, total)
	assert.Equal(t, "2 10 101 101A 101B 1", numbers(lines))
	assert.Equal(t, "Level 2", lines[4].StoreyName)
	assert.Equal(t, "Annex", lines[4].BuildingName)
	assert.Equal(t, "CR-1", lines[4].TypicalName)
	for offset := range 7 {
		for limit := 1; limit < 7; limit++ {
			page, total, err := s.RoomLines(ctx, projectID, Filter{Limit: limit, Offset: offset})
			require.NoError(t, err)
			assert.Equal(t, 6, total)
			assert.Equal(t, numbers(lines[min(offset, 6):min(offset+limit, 6)]), numbers(page))
		}
	}
	turned, _, err := s.RoomLines(ctx, projectID, Filter{Sort: "-"})
	require.NoError(t, err)
	slices.Reverse(turned)
	assert.Equal(t, numbers(lines), numbers(turned))

	for i, l := range lines {
		previous, next, err := s.Neighbours(ctx, l.ID)
		require.NoError(t, err)
		var before, after domain.ID
		if i > 0 {
			before = lines[i-1].ID
		}
		if i < len(lines)-1 {
			after = lines[i+1].ID
		}
		assert.Equal(t, []domain.ID{before, after}, []domain.ID{previous, next}, l.Number)
	}
	_, _, err = s.Neighbours(ctx, "nope")
	assert.ErrorIs(t, err, ErrNotFound)

	scope, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	for i := range scope.Rooms {
		assert.Equal(t, lines[i].ID, scope.Rooms[i].ID)
	}
}

func TestFilters(t *testing.T) {
	judge := func(p *domain.Project, r *domain.Resolved) Summary {
		sum := CountOnly(p, r)
		switch r.Number {
		case "2":
			sum.Errors, sum.Rules = 2, []string{"capacity-devices", "controls-no-way-on", "capacity-devices"}
		case "10":
			sum.Warnings, sum.Rules = 1, []string{"capacity-devices-more"}
		case "101":
			sum.Waived, sum.Infos = 1, 1
		}
		return sum
	}
	s := building(t, func(o *Options) { o.Summarize = judge })
	for want, f := range map[string]Filter{
		"2 10":                 {Storey: "z1"},
		"101B":                 {Typical: typicalID},
		"2 10 101 101A 1":      {NoTypical: true},
		"101 101A":             {Use: "office-private"},
		"10":                   {Text: "\u00c9TOILE caf\u00e9"},
		"101A":                 {Text: "100%_"},
		"2":                    {Rule: "capacity-devices"},
		"10 ":                  {Severity: WithWarnings},
		"2 ":                   {Severity: WithErrors},
		"101":                  {Severity: WithWaivers},
		"101 ":                 {Severity: WithInfos},
		"101 101A 101B 1":      {Severity: Clean},
		"1 2 10 101 101A 101B": {Sort: ByNumber},
		"1 2 101B 10 101 101A": {Sort: "-area"},
		"2 10 101 101A 101B 1": {Sort: InOrder, Text: "  "},
		"":                     {Text: "nothing like it"},
		" ":                    {Rule: "capacity"},
	} {
		lines, total, err := s.RoomLines(ctx, projectID, f)
		require.NoError(t, err)
		assert.Equal(t, strings.TrimSpace(want), numbers(lines), "%+v", f)
		assert.Equal(t, len(lines), total)
	}
	lines, _, err := s.RoomLines(ctx, projectID, Filter{Sort: "-findings", Limit: 2})
	require.NoError(t, err)
	assert.Equal(t, "2 10", numbers(lines))
	assert.Equal(t, []string{"capacity-devices", "controls-no-way-on"}, lines[0].Rules)
	_, _, err = s.RoomLines(ctx, projectID, Filter{Sort: "number; DROP TABLE rooms"})
	assert.ErrorIs(t, err, ErrRefused)
	_, _, err = s.RoomLines(ctx, "nope", Filter{})
	assert.ErrorIs(t, err, ErrNotFound)

	totals, err := s.Totals(ctx, projectID)
	require.NoError(t, err)
	require.Len(t, totals, 3)
	assert.Equal(t, domain.ID("z1"), totals[0].Storey)
	assert.Equal(t, []int{2, 2, 1}, []int{totals[0].Rooms, totals[0].Errors, totals[0].Warnings})
	projects, err := s.Projects(ctx)
	require.NoError(t, err)
	assert.Equal(t, 2, projects[0].Errors)
	assert.Equal(t, 6, projects[0].Rooms)

	followers, err := s.Followers(ctx, typicalID)
	require.NoError(t, err)
	assert.Equal(t, "101B", numbers(followers))
	typicals, err := s.Typicals(ctx, projectID)
	require.NoError(t, err)
	require.Len(t, typicals, 1)
	assert.Equal(t, 1, typicals[0].Followers)
	one, owner, err := s.Typical(ctx, typicalID)
	require.NoError(t, err)
	assert.Equal(t, projectID, owner)
	assert.Equal(t, 1, one.Followers)
}

func TestSortKeyIsTheNaturalOrder(t *testing.T) {
	want := []string{"1", "2", "9", "10", "10A", "10b", "11", "99", "100", "101", "101A", "101B", "110", "1000", "A1", "A2", "A10", "B-1", "B-2", "B-10", "B1"}
	got := slices.Clone(want)
	slices.SortFunc(got, func(a, b string) int { return strings.Compare(sortKey(a), sortKey(b)) })
	assert.Equal(t, want, got)
	assert.Equal(t, sortKey("007"), sortKey(" 7 "))
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(0, 1<<30).Draw(t, "a"), rapid.IntRange(0, 1<<30).Draw(t, "b")
		front := rapid.StringMatching(`[A-Z]{0,3}-?`).Draw(t, "front")
		require.Equal(t, a < b, sortKey(fmt.Sprint(front, a)) < sortKey(fmt.Sprint(front, b)))
	})
}
