package match

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// counter gives IDs n1, n2, ...
func counter() func() domain.ID {
	n := 0
	return func() domain.ID { n++; return domain.ID(fmt.Sprintf("n%d", n)) }
}

func space(number, name string, x, y, width, depth float64) building.Space {
	outline := geom.Rectangle(x, y, width, depth)
	return building.Space{Key: number + name, Number: number, Name: name, Outline: outline, Area: units.SquareMetres(outline.Area()), Ceiling: 2.7}
}

func oneStorey(name string, spaces ...building.Space) *building.Model {
	return &building.Model{Source: "test", Storeys: []building.Storey{{Name: name, Spaces: spaces}}}
}

// school has a classroom with a design and an office on level 1, and an empty
// level 2.
func school() Here {
	return Here{
		Project: &domain.Project{ID: "p1", Units: units.SI, Buildings: []domain.Building{{ID: "b1", Seq: 1, Name: "School",
			Storeys: []domain.Storey{{ID: "s1", Seq: 1, Name: "Level 1"}, {ID: "s2", Seq: 2, Name: "Level 2"}}}}},
		Rooms: []*domain.Room{
			{ID: "r1", StoreyID: "s1", Number: "101", Name: "Classroom", Area: 60, Ceiling: 3, Design: domain.Design{Loads: []domain.Load{{ID: "l1", Tag: "a"}}}},
			{ID: "r2", StoreyID: "s1", Number: "102", Name: "Office"},
		},
	}
}

// carryOut gives the project as it is with the fit in it.
func carryOut(h Here, f *Fit) Here {
	project := *h.Project
	project.Buildings = f.Buildings(h.Project)
	rooms := append([]*domain.Room(nil), h.Rooms...)
	plans := map[domain.ID]*domain.Plan{}
	for id, p := range h.Plans {
		plans[id] = p
	}
	for i := range f.Storeys {
		for _, st := range f.Storeys[i].Steps {
			switch st.Action {
			case New:
				rooms = append(rooms, st.Room)
			case Update:
				for j := range rooms {
					if rooms[j].ID == st.Room.ID {
						rooms[j] = st.Room
					}
				}
			}
		}
		if p := f.Storeys[i].Plan; p != nil {
			plans[p.ID] = p
		}
	}
	return Here{Project: &project, Rooms: rooms, Plans: plans}
}

func TestRooms_takeOutlinesAndKeepTheirDesign(t *testing.T) {
	h := school()
	f := Model(oneStorey("1st floor", space("101", "Art", 0, 0, 8, 7.5), space("102", "Office", 8, 0, 4, 5), space("103", "Store room", 12, 0, 2, 5)), h, Choices{}, counter())
	require.Len(t, f.Storeys, 1)
	s := f.Storeys[0]
	assert.Equal(t, domain.ID("s1"), s.Into)
	assert.Equal(t, Counts{New: 1, Update: 2}, f.Counts)

	class := s.Steps[0]
	assert.Equal(t, "number", class.By)
	assert.Equal(t, h.Rooms[0].Design, class.Room.Design)
	assert.Equal(t, "Classroom", class.Room.Name, "the file does not rename rooms")
	assert.InDelta(t, 60, class.Room.Outline.Area(), 1e-9)
	assert.EqualValues(t, 60, class.Room.Area)
	assert.EqualValues(t, 3, class.Room.Ceiling, "what the designer stated stays")
	assert.Equal(t, "ceiling 3 m here, 2.7 m in the file", class.Problem)
	assert.Empty(t, h.Rooms[0].Outline.Outer, "the project itself is not touched")

	office := s.Steps[1].Room
	assert.EqualValues(t, 20, office.Area, "it stated none")
	assert.EqualValues(t, 2.7, office.Ceiling)
	made := s.Steps[2].Room
	assert.Equal(t, "103 Store room", made.Label())
	assert.Equal(t, domain.ID("s1"), made.StoreyID)
	assert.Equal(t, domain.Use("storage"), made.Use)
}

func TestAreas_thatDiffer(t *testing.T) {
	m := oneStorey("Level 1", space("101", "Classroom", 0, 0, 8, 8))
	f := Model(m, school(), Choices{}, counter())
	st := f.Storeys[0].Steps[0]
	assert.True(t, st.Differs)
	assert.Contains(t, st.Problem, "area 60 m2 here, 64 m2 in the drawing")
	assert.EqualValues(t, 60, st.Room.Area)
	assert.Equal(t, 1, f.Counts.Differ)
	assert.Equal(t, []*domain.Room{{ID: "r2", StoreyID: "s1", Number: "102", Name: "Office"}}, f.Storeys[0].Missing)

	st = Model(m, school(), Choices{TakeFacts: true}, counter()).Storeys[0].Steps[0]
	assert.EqualValues(t, 64, st.Room.Area)
	assert.EqualValues(t, 2.7, st.Room.Ceiling)
	assert.False(t, st.Differs)
	assert.Contains(t, st.Changes, "area 60 m2 -> 64 m2")

	// At the limit, 1 % is not yet told.
	near := oneStorey("Level 1", space("101", "Classroom", 0, 0, 8, 7.5*1.01))
	assert.False(t, Model(near, school(), Choices{}, counter()).Storeys[0].Steps[0].Differs)
}

func TestRooms_byUniqueName(t *testing.T) {
	f := Model(oneStorey("Level 1", space("", "OFFICE", 0, 0, 4, 5), space("", "Hall", 4, 0, 4, 5)), school(), Choices{}, counter())
	assert.Equal(t, "name", f.Storeys[0].Steps[0].By)
	assert.Equal(t, domain.ID("r2"), f.Storeys[0].Steps[0].Room.ID)
	hall := f.Storeys[0].Steps[1]
	assert.Equal(t, New, hall.Action)
	assert.Equal(t, "U1", hall.Room.Number)
	assert.Contains(t, hall.Problem, "no number")

	twice := Model(oneStorey("Level 1", space("", "Office", 0, 0, 4, 5), space("", "Office", 4, 0, 4, 5)), school(), Choices{}, counter())
	assert.Equal(t, 2, twice.Counts.New, "a name that stands twice says nothing")
	assert.Equal(t, "U2", twice.Storeys[0].Steps[1].Room.Number)
}

func TestNumbers_thatStandTwice(t *testing.T) {
	f := Model(oneStorey("Level 1", space("101", "A", 0, 0, 4, 5), space("101", "B", 4, 0, 4, 5)), school(), Choices{}, counter())
	assert.Equal(t, "101 (2)", f.Storeys[0].Steps[1].Room.Number)
	assert.Contains(t, f.Storeys[0].Steps[1].Problem, "101 stands more than once")
}

func TestStoreys_whereTheyGo(t *testing.T) {
	m := &building.Model{Storeys: []building.Storey{
		{Name: "Foundation"},
		{Name: "Ground", Spaces: []building.Space{space("101", "", 0, 0, 4, 4), space("102", "", 4, 0, 4, 4)}},
		{Name: "2nd floor", Spaces: []building.Space{space("201", "", 0, 0, 4, 4)}},
		{Name: "Roof", Spaces: []building.Space{space("301", "", 0, 0, 4, 4)}},
	}}
	f := Model(m, school(), Choices{}, counter())
	assert.Empty(t, f.Storeys[0].Into)
	assert.Equal(t, domain.ID("s1"), f.Storeys[1].Into, "by the numbers of its rooms")
	assert.Equal(t, domain.ID("s2"), f.Storeys[2].Into, "by its name")
	require.NotNil(t, f.Storeys[3].Made)
	assert.Equal(t, domain.Storey{ID: f.Storeys[3].Into, Seq: 3, Name: "Roof"}, *f.Storeys[3].Made)
	assert.Len(t, f.Buildings(school().Project)[0].Storeys, 3)
	assert.Empty(t, f.Conflict)

	chosen := Model(m, school(), Choices{Storeys: []string{"", Leave, "s1", "s1"}}, counter())
	assert.Empty(t, chosen.Storeys[1].Into)
	assert.Empty(t, chosen.Storeys[1].Steps)
	assert.Contains(t, chosen.Conflict, "2nd floor and Roof, go to Level 1")

	empty := Model(m, Here{Project: &domain.Project{Units: units.US}}, Choices{}, counter())
	require.NotNil(t, empty.NewBuilding)
	storeys := empty.Buildings(&domain.Project{})[0].Storeys
	require.Len(t, storeys, 3)
	assert.Equal(t, []int{1, 2, 3}, []int{storeys[0].Seq, storeys[1].Seq, storeys[2].Seq})
}

func TestSpaces_thatMakeNoRoom(t *testing.T) {
	void := space("", "Analytical Space", 0, 0, 1, 1)
	void.Unassigned = true
	f := Model(oneStorey("Level 1", void, building.Space{Name: "Nothing"}, building.Space{Number: "105", Name: "Area only", DeclaredArea: 12}), school(), Choices{}, counter())
	assert.Equal(t, Counts{New: 1, Skip: 2, Missing: 2}, f.Counts)
	made := f.Storeys[0].Steps[2]
	assert.EqualValues(t, 12, made.Room.Area)
	assert.Contains(t, made.Problem, "draw it by hand")
}

func TestWalls_keepWhatTheDesignerMadeOfThem(t *testing.T) {
	m := oneStorey("Level 1", space("101", "", 0, 0, 8, 5))
	m.Storeys[0].Walls = []building.Wall{
		{A: geom.Pt(0, 0), B: geom.Pt(8, 0), Kind: building.ExteriorWall, Thickness: 0.3, Openings: []building.Opening{
			{Kind: building.Window, A: geom.Pt(3, 0), B: geom.Pt(1, 0), Sill: 0.9, Head: 2.1},
			{Kind: building.Skylight, A: geom.Pt(4, 0), B: geom.Pt(5, 0)},
		}},
		{A: geom.Pt(8, 0), B: geom.Pt(0, 0), Kind: building.ExteriorWall, Openings: []building.Opening{{Kind: building.Door, A: geom.Pt(5, 0), B: geom.Pt(6, 0), Head: 2}}},
		{A: geom.Pt(8, 0), B: geom.Pt(8, 5), Kind: building.AirWall},
		{A: geom.Pt(1, 1), B: geom.Pt(1, 1.001), Kind: building.InteriorWall},
	}
	f := Model(m, school(), Choices{}, counter())
	plan := f.Storeys[0].Plan
	require.NotNil(t, plan)
	require.Len(t, plan.Walls, 2, "two surfaces on one line are one wall; a wall of no length is none")
	w := plan.Walls[0]
	assert.Equal(t, domain.FullWall, w.Kind)
	require.Len(t, w.Openings, 2)
	assert.Equal(t, domain.Opening{ID: w.Openings[0].ID, Seq: 1, Kind: domain.Window, At: 1, Width: 2, Sill: 0.9, Head: 2.1}, w.Openings[0])
	assert.Equal(t, domain.Opening{ID: w.Openings[1].ID, Seq: 2, Kind: domain.Door, At: 5, Width: 1, Head: 2}, w.Openings[1])
	assert.Equal(t, domain.Boundary, plan.Walls[1].Kind)
	assert.Equal(t, WallCounts{New: 2, Windows: 1, Doors: 1}, f.Storeys[0].Walls)

	// The designer chooses a material, adds a door, draws a partition.
	mine := plan.Walls[0]
	mine.Material = "brick"
	mine.Openings = append(mine.Openings[:2:2], domain.Opening{ID: "o9", Seq: 3, Kind: domain.Door, At: 7, Width: 0.9, Head: 2.1})
	part := domain.Wall{ID: "w9", Seq: 9, Kind: domain.Partition, A: geom.Pt(2, 2), B: geom.Pt(4, 2)}
	h := school()
	h.Plans = map[domain.ID]*domain.Plan{"s1": {ID: "s1", Walls: []domain.Wall{mine, plan.Walls[1], part}, Underlay: &domain.Underlay{Picture: "x"}}}
	again := Model(m, h, Choices{}, counter()).Storeys[0]
	assert.Nil(t, again.Plan, "nothing to draw anew")
	assert.Equal(t, 3, again.Walls.Kept)

	// The same file with the wall from the other end and a new door.
	m.Storeys[0].Walls[0], m.Storeys[0].Walls[1] = m.Storeys[0].Walls[1], m.Storeys[0].Walls[0]
	m.Storeys[0].Walls[2].Openings = []building.Opening{{Kind: building.AirOpening, A: geom.Pt(8, 1), B: geom.Pt(8, 2), Head: 2}}
	changed := Model(m, h, Choices{}, counter()).Storeys[0].Plan
	require.NotNil(t, changed)
	assert.Equal(t, mine, changed.Walls[0])
	assert.Equal(t, domain.Gap, changed.Walls[1].Openings[0].Kind)
	assert.Equal(t, part, changed.Walls[2])
	assert.NotNil(t, changed.Underlay)

	dropped := Model(m, h, Choices{DropWalls: true}, counter()).Storeys[0]
	assert.Equal(t, 1, dropped.Walls.Gone)
	assert.Len(t, dropped.Plan.Walls, 2)
	assert.Len(t, h.Plans["s1"].Walls, 3, "the project itself is not touched")
}

func TestNorth(t *testing.T) {
	m := oneStorey("Level 1", space("101", "", 0, 0, 8, 5))
	m.HasNorth, m.NorthDegrees = true, 30
	h := school()
	assert.InDelta(t, 30, Model(m, h, Choices{}, counter()).Storeys[0].Plan.North, 0)
	h.Plans = map[domain.ID]*domain.Plan{"s1": {ID: "s1", North: 15}}
	assert.Nil(t, Model(m, h, Choices{}, counter()).Storeys[0].Plan, "the designer's own stays")
}
