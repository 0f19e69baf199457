package match

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

func TestRooflights_comeWithTheFileAndKeepWhatTheDesignerMadeOfThem(t *testing.T) {
	m := oneStorey("Level 1", space("101", "", 0, 0, 8, 5))
	m.Storeys[0].Rooflights = []building.Rooflight{{At: geom.Pt(2, 2), Width: 1, Length: 2, Turn: 30, Glass: 0.604}, {At: geom.Pt(6, 2), Width: 1, Length: 1}}
	f := Model(m, school(), Choices{}, counter())
	plan := f.Storeys[0].Plan
	require.NotNil(t, plan)
	require.Len(t, plan.Rooflights, 2)
	assert.Equal(t, domain.Rooflight{ID: plan.Rooflights[0].ID, Seq: 1, At: geom.Pt(2, 2), Width: 1, Length: 2, Turn: 30, Glass: 0.604}, plan.Rooflights[0])
	assert.Equal(t, 2, f.Storeys[0].Walls.Rooflights)

	// The designer states the second one's glass and draws a third.
	mine := *plan
	mine.Rooflights = append([]domain.Rooflight(nil), plan.Rooflights...)
	mine.Rooflights[1].Glass = 0.4
	mine.Rooflights = append(mine.Rooflights, domain.Rooflight{ID: "own", Seq: 3, At: geom.Pt(4, 4), Width: 1, Length: 1})
	h := school()
	h.Plans = map[domain.ID]*domain.Plan{"s1": &mine}
	again := Model(m, h, Choices{}, counter()).Storeys[0]
	assert.Nil(t, again.Plan, "nothing to draw anew")

	m.Storeys[0].Rooflights[0].At = geom.Pt(2.04, 2) // within 5 cm: the same one, moved
	changed := Model(m, h, Choices{}, counter()).Storeys[0].Plan
	require.NotNil(t, changed)
	assert.Equal(t, mine.Rooflights[0].ID, changed.Rooflights[0].ID)
	assert.Equal(t, geom.Pt(2.04, 2), changed.Rooflights[0].At)
	m.Storeys[0].Rooflights[0].At = geom.Pt(2.06, 2) // beyond: another one beside the old
	changed = Model(m, h, Choices{}, counter()).Storeys[0].Plan
	require.Len(t, changed.Rooflights, 4)

	m.Storeys[0].Rooflights[0].At = geom.Pt(2, 2)
	dropped := Model(m, h, Choices{DropWalls: true}, counter()).Storeys[0]
	require.Len(t, dropped.Plan.Rooflights, 2)
	assert.Equal(t, 1, dropped.Walls.LightsGone)
	assert.InDelta(t, 0.4, dropped.Plan.Rooflights[1].Glass, 1e-9, "the file says nothing of its glass")
}

// A window of the file between two of its rooms is marked by what lies beside it,
// also where the file does not say so, as drawings do not; what the designer typed
// of a window stays.
func TestWindows_betweenRoomsAreMarked(t *testing.T) {
	m := oneStorey("Level 1", space("101", "", 0, 0, 8, 5), space("102", "", 0, -5, 8, 4.9))
	m.Storeys[0].Walls = []building.Wall{
		{A: geom.Pt(0, -0.05), B: geom.Pt(8, -0.05), Kind: building.UnknownWall, Thickness: 0.1, Openings: []building.Opening{{Kind: building.Window, A: geom.Pt(1, 0), B: geom.Pt(2, 0), Head: 2}}},
		{A: geom.Pt(0, 5.05), B: geom.Pt(8, 5.05), Kind: building.UnknownWall, Thickness: 0.1, Openings: []building.Opening{{Kind: building.Window, A: geom.Pt(1, 5), B: geom.Pt(2, 5), Head: 2, Glass: 0.6}, {Kind: building.Window, A: geom.Pt(3, 5), B: geom.Pt(4, 5), Head: 2, Indoors: true}}},
	}
	f := Model(m, school(), Choices{}, counter()).Storeys[0]
	require.NotNil(t, f.Plan)
	in, out := f.Plan.Walls[0].Openings[0], f.Plan.Walls[1].Openings
	assert.True(t, in.Indoors)
	assert.False(t, out[0].Indoors)
	assert.InDelta(t, 0.6, out[0].Glass, 1e-9)
	assert.True(t, out[1].Indoors, "the file says so")
	assert.Equal(t, WallCounts{New: 2, Windows: 3, Indoors: 2}, f.Walls)

	m.Storeys[0].Walls[0].Kind = building.ExteriorWall
	assert.False(t, Model(m, school(), Choices{}, counter()).Storeys[0].Plan.Walls[0].Openings[0].Indoors, "the file says that outdoors is beyond it")
	m.Storeys[0].Walls[0].Kind = building.UnknownWall

	mine := *f.Plan
	mine.Walls[1].Openings[0].Blocked = 20
	mine.Walls[0].Openings[0].Glass = 0.5
	h := school()
	h.Plans = map[domain.ID]*domain.Plan{"s1": &mine}
	assert.Nil(t, Model(m, h, Choices{}, counter()).Storeys[0].Plan, "what was typed of windows is no difference")
}
