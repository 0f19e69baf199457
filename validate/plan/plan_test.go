package plan

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

func facts(b *domaintest.Builder) *rule.Facts { return rule.NewFacts(b.P, b.R, time.Time{}) }

func TestOutline_namesTheFaultAndItsPlace(t *testing.T) {
	b := drawn()
	b.R.Outline = geom.Polygon{Outer: []geom.Point{{X: 0, Y: 0}, {X: 4, Y: 4}, {X: 4, Y: 0}, {X: 0, Y: 4}}}
	found := Outline.Check(facts(b))
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "crosses itself")
	assert.InDelta(t, 2, found[0].Places[0].X, 1e-9, "two diagonals of a square of 4 m cross in its middle")
	assert.InDelta(t, 2, found[0].Places[0].Y, 1e-9)
	b.R.Outline = geom.Polygon{Outer: []geom.Point{{X: 0, Y: 0}, {X: 4, Y: 4}}}
	assert.Contains(t, Outline.Check(facts(b))[0].Message, "three corners")
	b.R.Outline = geom.Polygon{}
	assert.Empty(t, Outline.Check(facts(b)))
}

// On an outline that is no shape nobody can say what lies in it.
func TestPlacesAreNotJudgedByABrokenOutline(t *testing.T) {
	b := Outline.Fires()
	b.R.Sitting = []domain.Seat{{ID: "a", At: geom.Pt(100, 100)}}
	for _, r := range []*rule.Rule{&DeviceOutside, &FixtureOutside, &Area} {
		assert.Empty(t, r.Check(facts(b)), r.ID)
	}
}

func TestDeviceOutside_theWallIsPartOfTheRoom(t *testing.T) {
	for beyond, fires := range map[float64]bool{-1: false, 0: false, 0.2032: false, 0.21: true, 3: true} {
		found := DeviceOutside.Check(facts(withStationAt(geom.Pt(8+beyond, 2))))
		if !fires {
			assert.Empty(t, found, beyond)
			continue
		}
		require.Len(t, found, 1, beyond)
		assert.InDelta(t, beyond, found[0].Measured, 1e-9)
		assert.Equal(t, []geom.Point{geom.Pt(8+beyond, 2)}, found[0].Places)
		assert.Equal(t, domain.ID("st"), found[0].Subjects[0].ID)
	}
	b := withStationAt(geom.Pt(20, 20))
	b.R.Outline = geom.Polygon{}
	assert.Empty(t, DeviceOutside.Check(facts(b)), "a room that is not drawn has no outside")
	b.R.Outline = geom.Rectangle(0, 0, 8, 5)
	b.R.Design.Device("st").At = nil
	assert.Empty(t, DeviceOutside.Check(facts(b)))
}

func TestDeviceOutside_aHoleIsOutside(t *testing.T) {
	b := withStationAt(geom.Pt(4, 2.5))
	b.R.Outline.Holes = [][]geom.Point{geom.Rectangle(3, 2, 2, 1).Outer}
	require.Len(t, DeviceOutside.Check(facts(b)), 1, "in the middle of a shaft of 2 by 1 m, half a meter from its walls")
}

func TestFixtureLoad_countsWhatTheScheduleHas(t *testing.T) {
	b := drawn()
	b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: "x", Load: "l1", At: geom.Pt(2, 2)})
	found := FixtureLoad.Check(facts(b))
	require.Len(t, found, 1)
	assert.Equal(t, []float64{7, 6}, []float64{found[0].Measured, found[0].Limit})
	assert.Equal(t, []geom.Point{geom.Pt(2, 2)}, found[0].Places)

	for load, says := range map[domain.ID]string{"": "no load", "gone": "gone", "r1": "receptacle"} {
		b := drawn()
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: "x", Load: load})
		found := FixtureLoad.Check(facts(b))
		require.Len(t, found, 1, load)
		assert.Contains(t, found[0].Message, says)
	}
	many := drawn()
	for i := range 1000 {
		many.R.Fixtures = append(many.R.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("x", i))})
	}
	assert.Len(t, FixtureLoad.Check(facts(many)), mostFindings)
}

func TestFixtureOutside_countsLuminairesAndSeats(t *testing.T) {
	b := drawn()
	b.R.Sitting = []domain.Seat{{ID: "a", At: geom.Pt(4, 4)}, {ID: "b", At: geom.Pt(9, 4)}, {ID: "c", At: geom.Pt(4, -1)}}
	b.R.Fixtures[0].At = geom.Pt(-5, 0)
	found := FixtureOutside.Check(facts(b))
	require.Len(t, found, 2)
	assert.Equal(t, "Outside of the outline of room 101: 1 luminaire. Move it in, or redraw the room.", found[0].Message)
	assert.Equal(t, "Outside of the outline of room 101: 2 seats. Move them in, or redraw the room.", found[1].Message)
	assert.Len(t, found[1].Places, 2)
}

// 40 m2 drawn: 2 % are 0.8 m2.
func TestArea_limits(t *testing.T) {
	for stated, fires := range map[units.SquareMetres]bool{0: false, 39.2: false, 39.1: true, 40: false, 40.8: false, 40.81: true, 80: true} {
		found := Area.Check(facts(stating(stated)))
		if !fires {
			assert.Empty(t, found, stated)
			continue
		}
		require.Len(t, found, 1, stated)
		assert.InDelta(t, 100*math.Abs(float64(stated)-40)/40, found[0].Measured, 1e-9)
		assert.NotNil(t, found[0].Fix)
	}
	own := stating(41)
	own.P.Limits = domain.Limits{{ID: domain.AreaOff, Title: "x", Value: 5, Unit: "%", Source: "test"}}
	assert.Empty(t, Area.Check(facts(own)), "the project's own limit counts")
}

func TestUnplaced_namesWhatIsMissing(t *testing.T) {
	b := Unplaced.Fires()
	b.R.Fixtures = b.R.Fixtures[2:]
	found := Unplaced.Check(facts(b))
	require.Len(t, found, 1)
	assert.Equal(t, "Not on the plan of room 101 yet: ST-1 and 2 luminaires. Place them there.", found[0].Message)
	assert.Equal(t, 3.0, found[0].Measured)
	b = drawn()
	b.R.Fixtures = b.R.Fixtures[1:]
	assert.Equal(t, "Not on the plan of room 101 yet: 1 luminaire. Place them there.", Unplaced.Check(facts(b))[0].Message)
	assert.Empty(t, Unplaced.Check(facts(domaintest.Classroom())), "nobody has drawn this room")
}

func TestWallLength_limits(t *testing.T) {
	for length, fires := range map[float64]bool{0: true, 0.001: true, 0.0011: false, 1: false} {
		assert.Equal(t, fires, len(WallLength.CheckStorey(storey([]domain.Wall{wallTo(length)}))) == 1, length)
	}
}

func TestOpening_limits(t *testing.T) {
	for _, c := range []struct {
		o    domain.Opening
		says string // empty: it fits
	}{
		{domain.Opening{Kind: domain.Door, At: 0, Width: 4}, ""},
		{domain.Opening{Kind: domain.Door, At: 0, Width: 4.001}, ""},
		{domain.Opening{Kind: domain.Door, At: 0, Width: 4.01}, "wall of 13 ft 1.48 in"}, // 4 m are 157.48 in
		{domain.Opening{Kind: domain.Door, At: 1}, "no width"},
		{domain.Opening{Kind: domain.Window, At: 1, Width: 1, Sill: 2, Head: 2}, "head"},
		{domain.Opening{Kind: domain.Window, At: 1, Width: 1, Sill: 2}, ""}, // its head is not stated
	} {
		found := Opening.CheckStorey(storey([]domain.Wall{wallTo(4, c.o)}))
		if c.says == "" {
			assert.Empty(t, found, c.o)
			continue
		}
		require.Len(t, found, 1, c.o)
		assert.Contains(t, found[0].Message, c.says)
	}
}

func TestOverlap_limitsAndPlaces(t *testing.T) {
	// A square of 4 m and one that reaches so far into it: overlaps of 4 m height.
	for into, fires := range map[float64]bool{-1: false, 0: false, 0.025: false, 0.026: true, 4: true} {
		found := Overlap.CheckStorey(storey(nil, geom.Rectangle(0, 0, 4, 4), geom.Rectangle(4-into, 0, 4, 4)))
		require.Equal(t, fires, len(found) == 1, "%g: %v", into, found)
		if fires {
			assert.InDelta(t, 4*into, found[0].Measured, 1e-3)
			assert.InDelta(t, 4-into/2, found[0].Places[0].X, into/2)
			assert.Equal(t, "r1/r2", found[0].Key)
		}
	}
	assert.Empty(t, Overlap.CheckStorey(storey(nil, geom.Rectangle(0, 0, 4, 4), geom.Polygon{})))
	// A room in the hole of another, such as a shaft, shares nothing with it.
	around := geom.Polygon{Outer: geom.Rectangle(0, 0, 9, 9).Outer, Holes: [][]geom.Point{geom.Rectangle(3, 3, 3, 3).Outer}}
	assert.Empty(t, Overlap.CheckStorey(storey(nil, around, geom.Rectangle(3, 3, 3, 3))))
	require.Len(t, Overlap.CheckStorey(storey(nil, around, geom.Rectangle(3, 3, 4, 3))), 1)
}

// A storey that was imported twice over is told of and does not hold anyone up.
func TestOverlap_manyRoomsOnOnePlace(t *testing.T) {
	var outlines []geom.Polygon
	for range 300 {
		outlines = append(outlines, geom.Rectangle(0, 0, 4, 4))
	}
	assert.Len(t, Overlap.CheckStorey(storey(nil, outlines...)), mostFindings)
}

// BenchmarkStorey300Rooms judges a storey of 300 rooms that touch each other.
func BenchmarkStorey300Rooms(b *testing.B) {
	var outlines []geom.Polygon
	for i := range 300 {
		outlines = append(outlines, geom.Rectangle(float64(i%20)*4, float64(i/20)*5, 4, 5))
	}
	f := storey(nil, outlines...)
	for b.Loop() {
		if len(Overlap.CheckStorey(f)) > 0 {
			b.Fatal("the rooms only touch")
		}
	}
}

func TestOutsideStorey_saysNothingWhereWallsDoNotTellTheEdge(t *testing.T) {
	f := walled(14)
	found := OutsideStorey.CheckStorey(f)
	require.Len(t, found, 1)
	assert.InDelta(t, 14-10-0.06, found[0].Measured, 1e-9, "from the outer face of a wall of 0.12 m")
	assert.Equal(t, domain.ID("r2"), found[0].Subjects[0].ID)
	assert.InDelta(t, 14, found[0].Places[0].X, 1e-9)

	far := walled(9)
	far.Rooms = append(far.Rooms, &domain.Room{ID: "r3", Number: "103", Outline: geom.Rectangle(30, 0, 3, 3)})
	found = OutsideStorey.CheckStorey(far)
	require.Len(t, found, 1, "a room wholly outside")
	assert.Equal(t, domain.ID("r3"), found[0].Subjects[0].ID)

	open := walled(14)
	open.Plan.Walls = open.Plan.Walls[:3]
	assert.Empty(t, OutsideStorey.CheckStorey(open), "walls that do not close")
	open.Plan.Walls = nil
	assert.Empty(t, OutsideStorey.CheckStorey(open))

	part := walled(10)
	part.Rooms = append(part.Rooms, &domain.Room{ID: "r3", Number: "103", Outline: geom.Rectangle(20, 0, 20, 20)})
	assert.Empty(t, OutsideStorey.CheckStorey(part), "walls of one corner of the storey only")
}

// A room may bridge a notch of the outer walls with all corners inside.
func TestOutsideStorey_findsWhatOnlyAnEdgeReaches(t *testing.T) {
	var walls []domain.Wall
	corners := []geom.Point{geom.Pt(0, 0), geom.Pt(12, 0), geom.Pt(12, 8), geom.Pt(8, 8), geom.Pt(8, 4), geom.Pt(4, 4), geom.Pt(4, 8), geom.Pt(0, 8)}
	for i, a := range corners {
		walls = append(walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), Seq: i + 1, A: a, B: corners[(i+1)%len(corners)], Kind: domain.FullWall})
	}
	found := OutsideStorey.CheckStorey(storey(walls, geom.Rectangle(0, 0, 12, 8)))
	require.Len(t, found, 1)
	assert.InDelta(t, 2, found[0].Measured, 1e-9, "the middle of the notch of 4 m")
}
