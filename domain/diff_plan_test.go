package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// drawn is the school with room 104 on a plan of its storey.
func drawn(t require.TestingT) *domain.Scope {
	s := school()
	r := &s.Rooms[3]
	r.Outline = geom.Rectangle(0, 0, 10, 8)
	r.Design.Device("ps").At = &geom.Point{X: 5, Y: 4}
	r.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1", At: geom.Pt(1, 1)}, {ID: "f2", Load: "l1", At: geom.Pt(3, 1)}}
	s.Plans = []domain.Plan{{ID: "s1", Walls: []domain.Wall{{ID: "w1", B: geom.Pt(10, 0), Kind: domain.FullWall}, {ID: "w2", B: geom.Pt(0, 8), Kind: domain.FullWall}}}}
	copied, err := s.Copy()
	require.NoError(t, err)
	return copied
}

func redrawn(t *testing.T, change func(*domain.Scope)) *domain.Difference {
	newer := drawn(t)
	change(newer)
	d, err := domain.Compare(drawn(t), newer)
	require.NoError(t, err)
	return d
}

// 80 m2 are 861.1 ft2 and 81.76 m2 are 880.1 ft2; 1.2 m are 3 ft 11.2 in (1 ft
// is 0.3048 m exactly).
func TestCompare_shapesAndPlaces(t *testing.T) {
	d := redrawn(t, func(s *domain.Scope) {
		r := &s.Rooms[3]
		r.Outline = geom.Rectangle(0, 0, 10.22, 8)
		r.Design.Device("ps").At = &geom.Point{X: 5, Y: 5.2}
		r.Design.Device("st").At = &geom.Point{X: 1, Y: 1}
		r.Fixtures = append(r.Fixtures[1:], domain.Fixture{ID: "f3", Load: "l1"}, domain.Fixture{ID: "f4", Load: "l1"})
		r.Fixtures[0].At.X = 4
		r.Sitting = []domain.Seat{{ID: "a"}}
	})
	require.Len(t, d.Rooms, 1)
	assert.Equal(t, []string{"outline changed: 861 sq ft -> 880 sq ft", "luminaires on the plan: 2 added, 1 removed, 1 moved", "seats on the plan: 1 added", "ST-1 placed on the plan", "PS-1 moved 3 ft 11.24 in"}, sortedAs(d.Rooms[0].Lines))
	assert.Empty(t, d.Project)
}

// sortedAs puts what is told of devices into one order: it follows their IDs.
func sortedAs(lines []string) []string {
	if n := len(lines); n >= 2 && strings.HasPrefix(lines[n-2], "PS-1") {
		lines[n-2], lines[n-1] = lines[n-1], lines[n-2]
	}
	return lines
}

func TestCompare_shapeThatIsWrittenAlikeIsTheSame(t *testing.T) {
	d := redrawn(t, func(s *domain.Scope) {
		s.Rooms[3].Outline.Outer[0].X += 0.00004 // finer than a plan is written
		s.Rooms[3].Design.Device("ps").At.X += 0.00004
	})
	assert.True(t, d.Empty(), d)
	d = redrawn(t, func(s *domain.Scope) { s.Rooms[3].Outline = s.Rooms[3].Outline.Translate(geom.Pt(1, 0)) })
	assert.Equal(t, []string{"outline changed, still 861 sq ft"}, d.Rooms[0].Lines)
	d = redrawn(t, func(s *domain.Scope) {
		s.Rooms[3].Outline, s.Rooms[3].Design.Device("ps").At = geom.Polygon{}, nil
		s.Rooms[2].Outline = geom.Rectangle(0, 0, 10, 8)
	})
	assert.Equal(t, []string{"outline drawn: 861 sq ft"}, d.Room("r3").Lines)
	assert.Equal(t, []string{"outline removed: was 861 sq ft", "PS-1 taken off the plan"}, d.Room("r4").Lines)
}

func TestCompare_plans(t *testing.T) {
	d := redrawn(t, func(s *domain.Scope) {
		p := &s.Plans[0]
		p.Walls = append(p.Walls[1:], domain.Wall{ID: "w3"}, domain.Wall{ID: "w4"})
		p.Walls[0].Openings = []domain.Opening{{ID: "o1", Kind: domain.Door}}
		p.North, p.Underlay = 12.5, &domain.Underlay{}
	})
	assert.Equal(t, []string{"plan of Ground: walls 2 added, 1 removed, 1 changed; north 0 -> 12.5 degrees; picture added"}, d.Project)
	assert.Empty(t, d.Rooms)
	d = redrawn(t, func(s *domain.Scope) { s.Plans = nil })
	assert.Equal(t, []string{"plan of Ground: walls 2 removed"}, d.Project)
}

// A place is each room's own: it is no exception to a typical that a sheet
// would list.
func TestPlacesAreNoExceptions(t *testing.T) {
	s := school()
	r, err := s.Resolve(&s.Rooms[0])
	require.NoError(t, err)
	r.Design = r.Design.Clone()
	r.Design.Device("ps").At, r.Design.Device("ps").Turn = &geom.Point{X: 1, Y: 2}, 90
	require.NoError(t, r.Settle())
	assert.Len(t, r.Exceptions, 2)
	assert.Empty(t, r.RealExceptions())
	assert.Empty(t, r.DescribeExceptions(&s.Project))
	assert.Empty(t, s.Check())
}
