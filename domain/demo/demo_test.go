package demo_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
)

func TestDemoIsWhatItPromises(t *testing.T) {
	s := demo.Scope()
	assert.Empty(t, s.Check())
	assert.True(t, s.Project.Invented, "every sheet says so")
	assert.Contains(t, s.Project.Name, "invented")
	assert.GreaterOrEqual(t, len(s.Project.Buildings[0].Storeys), 3)
	assert.GreaterOrEqual(t, len(s.Rooms), 45)
	assert.LessOrEqual(t, len(s.Rooms), 60)
	assert.GreaterOrEqual(t, len(s.Typicals), 6)
	assert.Len(t, s.Project.Luminaires, 8)
	uses, numbers, followed, luminaires := map[domain.Use]int{}, map[string]bool{}, map[domain.ID]int{}, map[domain.ID]bool{}
	for i := range s.Rooms {
		r := &s.Rooms[i]
		uses[r.Use]++
		assert.False(t, numbers[r.Number], "room %s stands twice", r.Number)
		numbers[r.Number] = true
		followed[r.TypicalID]++
		resolved, err := s.Resolve(r)
		require.NoError(t, err)
		assert.Empty(t, resolved.Orphans, r.Number)
		assert.False(t, resolved.Design.Empty(), r.Number)
		assert.Positive(t, float64(r.Area), r.Number)
		for _, l := range resolved.Design.Loads {
			luminaires[l.Luminaire] = true
			assert.NotEmpty(t, l.Circuit, "%s %s", r.Number, l.Tag)
		}
	}
	for _, use := range []domain.Use{"stair", "restroom", "workshop", "break-room", "lobby", "classroom", "conference", "office-open", "office-private", "storage", "corridor"} {
		assert.Positive(t, uses[use], use)
	}
	for _, typ := range s.Typicals {
		assert.GreaterOrEqual(t, followed[typ.ID], 3, "typical %s repeats", typ.Name)
	}
	for _, l := range s.Project.Luminaires {
		assert.True(t, luminaires[l.ID], "luminaire %s is used", l.Tag)
	}
}

func TestDemoShowsExceptionsInWords(t *testing.T) {
	s := demo.Scope()
	for number, want := range map[string][]string{
		"201": nil, // its own circuits are no exceptions
		"205": {"PS-1: delay as the intent says -> 30 min", "PS-2: delay as the intent says -> 30 min"},
		"212": {"L1: window zone window row -> none", "removed device DS-1 (Daylight sensor, battery)"},
		"300": {"Schedule"},
		"3S2": {"L1: bypass device Listed bypass relay EB-1 in panel EP-1 -> none"},
	} {
		for i := range s.Rooms {
			if s.Rooms[i].Number != number {
				continue
			}
			resolved, err := s.Resolve(&s.Rooms[i])
			require.NoError(t, err)
			said := resolved.DescribeExceptions(&s.Project)
			if want == nil {
				assert.Empty(t, said, number)
			}
			for _, w := range want {
				assert.Contains(t, join(said), w, number)
			}
		}
	}
}

func join(lines []string) string {
	out := ""
	for _, l := range lines {
		out += l + "\n"
	}
	return out
}

func TestDemoIsTheSameEachTime(t *testing.T) {
	a, err := json.Marshal(demo.Scope())
	require.NoError(t, err)
	b, err := json.Marshal(demo.Scope())
	require.NoError(t, err)
	assert.Equal(t, string(a), string(b))
}

func TestSignPutsTwoGoodNamesAndAStaleOne(t *testing.T) {
	hash := func(_ *domain.Project, r *domain.Resolved) string {
		b, err := json.Marshal(r.Design.Devices)
		require.NoError(t, err)
		return r.Number + string(b)
	}
	s := demo.Scope()
	demo.Sign(s, hash)
	assert.Empty(t, s.Check())
	require.Len(t, s.SignOffs, 3)
	var fresh []string
	for _, o := range s.SignOffs {
		for i := range s.Rooms {
			if s.Rooms[i].ID != o.RoomID {
				continue
			}
			resolved, err := s.Resolve(&s.Rooms[i])
			require.NoError(t, err)
			if hash(&s.Project, resolved) == o.Hash {
				fresh = append(fresh, resolved.Number)
			}
		}
	}
	assert.Equal(t, []string{"201", "203"}, fresh)
}

func TestDemoReviewsHaveOpenAndSettledObjections(t *testing.T) {
	s := demo.Scope()
	open := map[string]int{}
	for i := range s.Rooms {
		var steps []domain.Review
		for _, r := range s.Reviews {
			if r.RoomID == s.Rooms[i].ID {
				steps = append(steps, r)
			}
		}
		for _, o := range domain.Opinions(s.Project.Checklist, domain.AskRoom, steps) {
			if o.Open() {
				open[s.Rooms[i].Number]++
			}
		}
	}
	assert.Equal(t, map[string]int{"301": 1, "106": 1}, open, "that of 201 is settled")
}
