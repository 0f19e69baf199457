package roomlist

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/units"
	"scopewright/store/intake/table"
)

// counter gives IDs that a test can name.
func counter() func() domain.ID {
	n := 0
	return func() domain.ID { n++; return domain.ID(fmt.Sprintf("new-%d", n)) }
}

func oneBuilding() *domain.Project {
	return &domain.Project{Units: units.US, Buildings: []domain.Building{{ID: "b1", Seq: 1, Name: "Main building", Storeys: []domain.Storey{
		{ID: "s1", Seq: 1, Name: "Level 1"}, {ID: "s2", Seq: 2, Name: "Level 2"}}}}}
}

const ft2 = units.SquareMetresPerSquareFoot

// designed is a room with everything that an import must not touch.
func designed() *domain.Room {
	return &domain.Room{ID: "r101", StoreyID: "s1", Number: "101", Name: "Lobby", Use: "lobby", Area: 800 * ft2, Ceiling: 3, Windows: true, Seats: 20, Notes: "keep",
		Design:  domain.Design{Loads: []domain.Load{{ID: "l1", Tag: "L1"}}, Scenes: []domain.Scene{{ID: "x", Number: 1, Name: "On", Levels: []domain.SceneLevel{{ID: "l1", Level: 80}}}}},
		Waivers: []domain.Waiver{{}}}
}

func plan(t *testing.T, text string, p *domain.Project, typicals []domain.Typical, rooms ...*domain.Room) *Plan {
	t.Helper()
	return readText(t, text, p.Units).Plan(p, typicals, rooms, counter())
}

func TestPlan_newProject(t *testing.T) {
	project := &domain.Project{Units: units.US}
	got := plan(t, "Level,Room No,Room Name,Area,Windows,Occupants\nLevel 1,101,Lobby,900,yes,12\nLEVEL 01,102,Open office,2400,no,\nLevel 2,201,Zumba,,,\n", project, nil)
	assert.Equal(t, Counts{New: 3}, got.Counts)
	require.Len(t, got.NewBuildings, 1)
	assert.Equal(t, "Main building", got.NewBuildings[0].Name)
	require.Len(t, got.NewStoreys, 2, "Level 1 and LEVEL 01 are one")
	assert.Equal(t, []string{"Level 1", "Lobby (guessed)", "900 sq ft", "windows yes", "12 occupants"}, got.Steps[0].Changes)
	r := got.Steps[0].Room
	assert.Equal(t, got.NewStoreys[0].Storey.ID, r.StoreyID)
	assert.InDelta(t, 900*ft2, float64(r.Area), 1e-9)
	assert.True(t, r.Windows)
	assert.Equal(t, 12, r.Seats)
	assert.Equal(t, domain.Use(""), got.Steps[2].Room.Use)
	buildings := got.Buildings(project)
	require.Len(t, buildings, 1)
	assert.Len(t, buildings[0].Storeys, 2)
	assert.Equal(t, 2, buildings[0].Storeys[1].Seq)
	assert.Empty(t, project.Buildings, "nothing is changed")
}

func TestPlan_updateChangesFactsOnly(t *testing.T) {
	room := designed()
	before, err := json.Marshal(room)
	require.NoError(t, err)
	got := plan(t, "Level,Room No,Room Name,Use,Area,Ceiling height,Windows,Occupants,Notes\n2nd floor,101,Main lobby,Retail,864,\"9'-6\"\"\",no,24,new\n", oneBuilding(), nil, room)
	require.Len(t, got.Steps, 1)
	s := got.Steps[0]
	assert.Equal(t, Update, s.Action)
	assert.Equal(t, domain.ID("r101"), s.RoomID)
	assert.Equal(t, []string{
		"storey Level 1 -> Level 2", "name Lobby -> Main lobby", "use Lobby -> Sales area", "area 800 sq ft -> 864 sq ft", "ceiling 9 ft 10.11 in -> 9 ft 6 in",
		"windows yes -> no", "occupants 20 -> 24", "notes keep -> new"}, s.Changes)
	assert.Equal(t, room.Design, s.Room.Design)
	assert.Equal(t, room.Waivers, s.Room.Waivers)
	after, err := json.Marshal(room)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after), "the project's room is not touched")
	assert.Empty(t, got.NewStoreys)
}

func TestPlan_blankKeepsWhatWasThere(t *testing.T) {
	got := plan(t, "Room No,Room Name,Area,Ceiling height,Windows,Occupants,Notes,Typical,Level\n101,,,,,,,,\n", oneBuilding(), nil, designed())
	require.Len(t, got.Steps, 1)
	assert.Equal(t, Same, got.Steps[0].Action)
	assert.Equal(t, designed(), got.Steps[0].Room)
	assert.Equal(t, Counts{Same: 1}, got.Counts)
}

func TestPlan_guessFromTheNameOverridesNoUse(t *testing.T) {
	room := designed()
	room.Use = "retail"
	got := plan(t, "Room No,Room Name\n101,Lobby\n", oneBuilding(), nil, room)
	assert.Equal(t, Same, got.Steps[0].Action)
	assert.Equal(t, domain.Use("retail"), got.Steps[0].Room.Use)
}

func TestPlan_sameListTwiceIsTheSame(t *testing.T) {
	for _, name := range []string{"us_ft2.csv", "si_decimal_comma.csv", "groups_totals.csv", "storey_once.csv", "duplicates.csv", "combined.csv"} {
		for _, sys := range []units.System{units.US, units.SI} {
			l := readFile(t, name, sys)
			project := &domain.Project{Units: sys}
			first := l.Plan(project, nil, nil, counter())
			project.Buildings = first.Buildings(project)
			var rooms []*domain.Room
			for _, s := range first.Steps {
				if s.Room != nil {
					rooms = append(rooms, s.Room)
				}
			}
			second := l.Plan(project, nil, rooms, counter())
			assert.Equal(t, Counts{Same: len(rooms), Skip: first.Counts.Skip}, second.Counts, "%s %s", name, sys)
			assert.Empty(t, second.NewStoreys)
			assert.Empty(t, second.NewBuildings)
		}
	}
}

func TestPlan_typicals(t *testing.T) {
	typicals := []domain.Typical{{ID: "t1", Name: "CR-1"}, {ID: "t2", Name: "CR-2"}}
	plain := func() *domain.Room { return &domain.Room{ID: "r1", StoreyID: "s1", Number: "1"} }
	follows := func(ex delta.Changes) *domain.Room {
		return &domain.Room{ID: "r1", StoreyID: "s1", Number: "1", TypicalID: "t1", Exceptions: ex}
	}
	own := plain()
	own.Design.Loads = []domain.Load{{ID: "l"}}
	for name, c := range map[string]struct {
		room    *domain.Room
		typical string
		want    domain.ID
		change  string
		problem string
	}{
		"assigned by name":          {plain(), "cr-2", "t2", "typical (blank) -> CR-2", ""},
		"another one":               {follows(nil), "CR-2", "t2", "typical CR-1 -> CR-2", ""},
		"the same":                  {follows(nil), "CR-1", "t1", "", ""},
		"unknown":                   {plain(), "CR-9", "", "", `no typical "CR-9"`},
		"would replace a design":    {own, "CR-1", "", "", "has a design of its own"},
		"would lose exceptions":     {follows(delta.Changes{{Path: "loads/l1/name"}}), "CR-2", "t1", "", "has exceptions"},
		"exceptions, and no change": {follows(delta.Changes{{Path: "loads/l1/name"}}), "CR-1", "t1", "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			s := plan(t, "No,Typical\n1,"+c.typical+"\n", oneBuilding(), typicals, c.room).Steps[0]
			assert.Equal(t, c.want, s.Room.TypicalID)
			assert.Equal(t, c.change, strings.Join(s.Changes, "; "))
			if c.problem == "" {
				assert.Empty(t, s.Problem)
			} else {
				assert.Contains(t, s.Problem, c.problem)
			}
			assert.Equal(t, c.room.Exceptions, s.Room.Exceptions)
		})
	}
	s := plan(t, "No,Typical\n7,CR-1\n", oneBuilding(), typicals).Steps[0]
	assert.Equal(t, domain.ID("t1"), s.Room.TypicalID)
}

func twoBuildings() (*domain.Project, []*domain.Room) {
	p := &domain.Project{Units: units.SI, Buildings: []domain.Building{
		{ID: "a", Name: "Building A", Storeys: []domain.Storey{{ID: "a1", Seq: 1, Name: "Level 1"}}},
		{ID: "b", Name: "Building B", Storeys: []domain.Storey{{ID: "b1", Seq: 1, Name: "Level 1"}, {ID: "b2", Seq: 2, Name: "Level 2"}}}}}
	return p, []*domain.Room{{ID: "ra", StoreyID: "a1", Number: "101"}, {ID: "rb", StoreyID: "b1", Number: "101"}, {ID: "rc", StoreyID: "b2", Number: "201"}}
}

func TestPlan_buildings(t *testing.T) {
	project, rooms := twoBuildings()
	t.Run("named", func(t *testing.T) {
		got := plan(t, "Bldg,No,Name\nB,101,Lobby\nA,101,Foyer\nC,101,Hall\n", project, nil, rooms...)
		assert.Equal(t, []domain.ID{"rb", "ra", got.Steps[2].RoomID}, []domain.ID{got.Steps[0].RoomID, got.Steps[1].RoomID, got.Steps[2].RoomID})
		assert.Equal(t, New, got.Steps[2].Action)
		require.Len(t, got.NewBuildings, 1)
		assert.Equal(t, "C", got.NewBuildings[0].Name)
		require.Len(t, got.Missing, 1)
		assert.Equal(t, domain.ID("rc"), got.Missing[0].ID)
	})
	t.Run("a list of one building", func(t *testing.T) {
		got := plan(t, "Bldg,No,Name\nA,101,Foyer\n", project, nil, rooms...)
		assert.Empty(t, got.Missing, "building B is not the list's affair")
		assert.Contains(t, got.Notes[0], "2 rooms are in buildings that the file does not mention")
	})
	t.Run("not named", func(t *testing.T) {
		got := plan(t, "No,Name,Level\n201,Lab,\n101,Lobby,\n300,New,\n301,New,Level 2\n", project, nil, rooms...)
		assert.Equal(t, domain.ID("rc"), got.Steps[0].RoomID, "only one room has the number")
		assert.Equal(t, Skip, got.Steps[1].Action)
		assert.Contains(t, got.Steps[1].Problem, "the project has 2 rooms 101")
		assert.Contains(t, got.Steps[2].Problem, `add a column "Building"`)
		assert.Equal(t, domain.ID("b2"), got.Steps[3].Room.StoreyID, "only one building has a Level 2")
	})
}

func TestPlan_missingAndSkipped(t *testing.T) {
	rooms := []*domain.Room{{ID: "r1", StoreyID: "s1", Number: "1"}, {ID: "r2", StoreyID: "s1", Number: "2"}, {ID: "r3", StoreyID: "s1", Number: "3"}}
	got := plan(t, "No,Area,Name\n1,100\n2,-4\n,5,No number\n", oneBuilding(), nil, rooms...)
	assert.Equal(t, Counts{Update: 1, Skip: 2, Missing: 1}, got.Counts)
	assert.Equal(t, domain.ID("r3"), got.Missing[0].ID, "room 2 is in the file, though its line is refused")
	assert.Equal(t, []int{2, 3, 4}, []int{got.Steps[0].Line, got.Steps[1].Line, got.Steps[2].Line})
	assert.Contains(t, got.Steps[1].Problem, "negative")
	assert.Nil(t, got.Steps[1].Room)
}

func TestPlan_noStoreyStated(t *testing.T) {
	got := plan(t, "No,Name\n1,a\n2,b\n", oneBuilding(), nil)
	require.Len(t, got.NewStoreys, 1)
	assert.Equal(t, "Storey not stated", got.NewStoreys[0].Storey.Name)
	assert.Contains(t, got.Steps[0].Problem, "names no storey")
	single := oneBuilding()
	single.Buildings[0].Storeys = single.Buildings[0].Storeys[:1]
	got = plan(t, "No,Name\n1,a\n", single, nil)
	assert.Equal(t, domain.ID("s1"), got.Steps[0].Room.StoreyID)
}

func TestPlan_remarksStandBesideTheirLine(t *testing.T) {
	got := plan(t, "No,Name,Ceiling height\n1,a,varies\n2,b,9\n3,c,9\n", oneBuilding(), nil)
	assert.Contains(t, got.Steps[0].Problem, `Ceiling height: "varies" is not a number`)
	assert.NotContains(t, got.Steps[1].Problem, "varies")
}

// A list made of any rooms, read and planned, gives those rooms.
func TestPlan_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 20).Draw(t, "rooms")
		var b strings.Builder
		b.WriteString("Room number;Room name;Storey;Area [m2];Ceiling height [mm];Windows;Occupants\n")
		type fact struct {
			area, ceiling, seats, level int
			windows                     bool
		}
		facts := make([]fact, n)
		for i := range facts {
			f := fact{rapid.IntRange(1, 9_999_999).Draw(t, "area"), rapid.IntRange(1000, 20_000).Draw(t, "ceiling"), rapid.IntRange(0, 500).Draw(t, "seats"), rapid.IntRange(1, 3).Draw(t, "level"), rapid.Bool().Draw(t, "windows")}
			facts[i] = f
			fmt.Fprintf(&b, "R%03d;Room %d;Level %d;%d,%02d;%d;%s;%d\n", i, i, f.level, f.area/100, f.area%100, f.ceiling, yesNo(f.windows), f.seats)
		}
		l, err := Read("x.csv", []byte(b.String()), table.Options{}, Options{Units: units.US})
		if err != nil {
			t.Fatal(err)
		}
		p := l.Plan(&domain.Project{Units: units.US}, nil, nil, counter())
		if p.Counts != (Counts{New: n}) {
			t.Fatalf("%+v of %d: %v\n%s", p.Counts, n, l.Problems, b.String())
		}
		for i, s := range p.Steps {
			f := facts[i]
			if r := s.Room; r.Number != fmt.Sprintf("R%03d", i) || !alike(float64(r.Area), float64(f.area)/100) || !alike(float64(r.Ceiling), float64(f.ceiling)/1000) || r.Seats != f.seats || r.Windows != f.windows {
				t.Fatalf("%+v became %+v", f, r)
			}
		}
	})
}

func listOf(n int) []byte {
	var b strings.Builder
	b.WriteString("Level,Room No,Room Name,Area (SF),Ceiling Ht,Windows,Occupants,Remarks\n")
	for i := range n {
		fmt.Fprintf(&b, "Level %d,%05d,Office %d,\"1,%03d.5\",9'-6\",yes,%d,a remark\n", i/1000, i, i, i%1000, i%40)
	}
	return []byte(b.String())
}

func TestRead_aHundredThousandRows(t *testing.T) {
	start := time.Now()
	l, err := Read("x.csv", listOf(100_000), table.Options{}, Options{Units: units.US})
	require.NoError(t, err)
	assert.Len(t, l.Rooms, 100_000)
	p := l.Plan(&domain.Project{Units: units.US}, nil, nil, domain.NewID)
	assert.Equal(t, Counts{New: 100_000}, p.Counts)
	assert.Len(t, p.NewStoreys, 100)
	assert.Less(t, time.Since(start), 20*time.Second, "some 1 s where nothing else runs: see the benchmark")
	_, err = Read("x.csv", listOf(100_001), table.Options{}, Options{Units: units.US})
	assert.ErrorContains(t, err, "the file has 100,001 rows; at most 100,000 can be read at once")
}

func BenchmarkRead100000(b *testing.B) {
	data := listOf(100_000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read("x.csv", data, table.Options{}, Options{Units: units.US}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlan100000(b *testing.B) {
	l, err := Read("x.csv", listOf(100_000), table.Options{}, Options{Units: units.US})
	require.NoError(b, err)
	project := &domain.Project{Units: units.US}
	first := l.Plan(project, nil, nil, domain.NewID)
	project.Buildings = first.Buildings(project)
	rooms := make([]*domain.Room, len(first.Steps))
	for i, s := range first.Steps {
		rooms[i] = s.Room
	}
	b.ReportAllocs()
	for b.Loop() {
		if p := l.Plan(project, nil, rooms, domain.NewID); p.Counts.Same != 100_000 {
			b.Fatal(p.Counts)
		}
	}
}
