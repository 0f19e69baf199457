package daylight_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	. "scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// drawn gives a room of 12 by 9 m, traced along the middles of its walls of 0.2 m,
// two windows in the south wall, and a luminaire row of load l3 at y = 2.5.
func drawn() *domaintest.Builder {
	b := domaintest.Room().Load("l1", "a", 4).Load("l3", "a", 4)
	b.P.Units = units.SI
	b.R.Outline = geom.Rectangle(0, 0, 12, 9)
	b.R.Ceiling = 3
	window := func(id domain.ID, at units.Metres) domain.Opening {
		return domain.Opening{ID: id, Kind: domain.Window, At: at, Width: 3, Sill: 0.9, Head: 2.4}
	}
	b.R.Plan = &domain.Plan{ID: "s1", Walls: []domain.Wall{
		{ID: "south", Seq: 1, A: geom.Pt(12, 0), B: geom.Pt(0, 0), Kind: domain.FullWall, Thickness: 0.2, Openings: []domain.Opening{window("o1", 1.5), window("o2", 7.5), {ID: "d", Kind: domain.Door, At: 5, Width: 1}}},
		{ID: "east", Seq: 2, A: geom.Pt(12, 0), B: geom.Pt(12, 9), Kind: domain.FullWall, Thickness: 0.2},
		{ID: "north", Seq: 3, A: geom.Pt(12, 9), B: geom.Pt(0, 9), Kind: domain.FullWall, Thickness: 0.2},
		{ID: "west", Seq: 4, A: geom.Pt(0, 9), B: geom.Pt(0, 0), Kind: domain.FullWall, Thickness: 0.2},
	}}
	for i := range 8 {
		load, y := domain.ID("l1"), 6.0
		if i >= 4 {
			load, y = "l3", 2.5
		}
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), Load: load, At: geom.Pt(2+1.5*float64(i%4), y)})
	}
	return b
}

func spaceOf(t require.TestingT, b *domaintest.Builder) *Space {
	s := NewSpace(b.P, b.R, UsualAssumed())
	require.NotNil(t, s)
	return s
}

// The room of the zone cases, drawn: 25.92 m2 (90.1 section 3.2, adopted code text)
// whichever way it is turned, mirrored or traced.
func TestNewSpace_windows(t *testing.T) {
	b := drawn()
	s := spaceOf(t, b)
	require.Len(t, s.Windows, 2)
	assert.Empty(t, s.Obstructions)
	assert.EqualValues(t, 3, s.Ceiling)
	w := &s.Windows[0]
	assert.EqualValues(t, "o1", w.ID)
	assert.EqualValues(t, "south", w.Wall)
	assert.Equal(t, geom.Pt(7.5, 0), w.A)
	assert.Equal(t, geom.Pt(10.5, 0), w.B)
	assert.False(t, w.Assumed)
	z := zonesOf(t, ashrae2013, s)
	assert.InDelta(t, 25.92, float64(z.Primary.Area), 1e-6)
	assert.InDelta(t, 180, s.Azimuth(w), 1e-9)
	b.R.Plan.North = 30 // north is up and to the right
	assert.InDelta(t, 150, spaceOf(t, b).Azimuth(w), 1e-9)
	slicesReverse(b.R.Outline.Outer)
	assert.InDelta(t, 25.92, float64(zonesOf(t, ashrae2013, spaceOf(t, b)).Primary.Area), 1e-6)
	b.R.Outline = geom.Rectangle(0.1, 0.1, 11.8, 8.8) // along the faces
	assert.InDelta(t, 25.92, float64(zonesOf(t, ashrae2013, spaceOf(t, b)).Primary.Area), 1e-6)
	rapid.Check(t, func(t *rapid.T) {
		turn, by := rapid.Float64Range(-3, 3).Draw(t, "turn"), geom.Pt(rapid.Float64Range(-900, 900).Draw(t, "x"), 40)
		b := drawn()
		b.R.Outline = b.R.Outline.Rotate(geom.Pt(1, 2), turn).Translate(by)
		for i := range b.R.Plan.Walls {
			w := &b.R.Plan.Walls[i]
			w.A, w.B = w.A.Rotate(geom.Pt(1, 2), turn).Add(by), w.B.Rotate(geom.Pt(1, 2), turn).Add(by)
		}
		require.InDelta(t, 25.92, float64(zonesOf(t, ashrae2013, spaceOf(t, b)).Primary.Area), 0.002)
	})
}

func slicesReverse(p []geom.Point) {
	for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
		p[i], p[j] = p[j], p[i]
	}
}

// Windows of other walls, other rooms and no wall at all are not the room's.
func TestNewSpace_foreignWindows(t *testing.T) {
	b := drawn()
	b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: "far", A: geom.Pt(0, -4), B: geom.Pt(12, -4), Kind: domain.FullWall, Thickness: 0.2, Openings: []domain.Opening{{ID: "x", Kind: domain.Window, At: 1, Width: 2, Head: 2}}},
		domain.Wall{ID: "next", A: geom.Pt(12, 0), B: geom.Pt(20, 0), Kind: domain.FullWall, Thickness: 0.2, Openings: []domain.Opening{{ID: "y", Kind: domain.Window, At: 1, Width: 2, Head: 2}}})
	assert.Len(t, spaceOf(t, b).Windows, 2)
	for i := range b.R.Plan.Walls[0].Openings {
		if o := &b.R.Plan.Walls[0].Openings[i]; o.ID != "o2" {
			o.Indoors = true
		}
	}
	s := NewSpace(b.P, b.R, UsualAssumed())
	require.Len(t, s.Windows, 1, "the other one opens into a room")
	assert.EqualValues(t, "o2", s.Windows[0].ID)
	b.R.Plan = nil
	assert.Empty(t, spaceOf(t, b).Windows)
	b.R.Outline = geom.Polygon{}
	assert.Nil(t, NewSpace(b.P, b.R, UsualAssumed()))
}

func TestNewSpace_heights(t *testing.T) {
	b := drawn()
	o := b.R.Plan.Walls[0].Openings
	for _, c := range []struct {
		sill, head, wantSill, wantHead units.Metres
		assumed                        bool
	}{{0.9, 2.4, 0.9, 2.4, false}, {0, 2.4, 0, 2.4, false}, {0, 0, 0.9, 2.1, true}, {1.2, 0, 1.2, 2.1, true}, {2.2, 0, 2.2, 3, true}} {
		o[0].Sill, o[0].Head = c.sill, c.head
		w := spaceOf(t, b).Windows[0]
		assert.Equal(t, c.wantSill, w.Sill)
		assert.Equal(t, c.wantHead, w.Head)
		assert.Equal(t, c.assumed, w.Assumed)
	}
}

// What stands within the outline obstructs: partitions by their height or the
// limit, walls to the ceiling; walls along the outline do not, nor do boundaries.
func TestNewSpace_obstructions(t *testing.T) {
	b := drawn()
	b.R.Plan.Walls = append(b.R.Plan.Walls,
		domain.Wall{ID: "low", A: geom.Pt(1, 3), B: geom.Pt(5, 3), Kind: domain.Partition, Height: 1.2},
		domain.Wall{ID: "usual", A: geom.Pt(1, 4), B: geom.Pt(5, 4), Kind: domain.Partition, Material: domain.ClearGlazing},
		domain.Wall{ID: "full", A: geom.Pt(1, 5), B: geom.Pt(9, 5), Kind: domain.FullWall, Openings: []domain.Opening{{ID: "g", Kind: domain.Gap, At: 3, Width: 2}, {ID: "d", Kind: domain.Door, At: 6, Width: 1}}},
		domain.Wall{ID: "line", A: geom.Pt(1, 6), B: geom.Pt(9, 6), Kind: domain.Boundary},
		domain.Wall{ID: "away", A: geom.Pt(13, 1), B: geom.Pt(20, 1), Kind: domain.Partition, Height: 2})
	s := spaceOf(t, b)
	require.Len(t, s.Obstructions, 4)
	assert.EqualValues(t, 1.2, s.Obstructions[0].Height)
	assert.EqualValues(t, b.P.Limits.Value(domain.PartitionHeight), s.Obstructions[1].Height)
	assert.True(t, s.Obstructions[1].Clear)
	assert.Equal(t, geom.Segment{A: geom.Pt(1, 5), B: geom.Pt(4, 5)}, s.Obstructions[2].Line)
	assert.Equal(t, geom.Segment{A: geom.Pt(6, 5), B: geom.Pt(9, 5)}, s.Obstructions[3].Line)
	assert.Greater(t, s.Obstructions[3].Height, s.Ceiling)
}

// Watts are a luminaire's own: by its type, or its share of a load that states
// watts itself. Type A of the test project has 38 W.
func TestNewSpace_luminaires(t *testing.T) {
	b := drawn().Do(edit.AddLoad{ID: "own", Kind: domain.Lighting})
	own := b.R.Design.Load("own")
	own.Luminaire, own.Watts, own.Layer = "", 100, domain.Board
	b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: "x", Load: "own", At: geom.Pt(1, 1)}, domain.Fixture{ID: "y", Load: "own", At: geom.Pt(2, 1)}, domain.Fixture{ID: "z", Load: "gone", At: geom.Pt(2, 1)})
	s := spaceOf(t, b)
	require.Len(t, s.Luminaires, 10)
	assert.EqualValues(t, 38, s.Luminaires[0].Watts)
	assert.True(t, s.Luminaires[0].General)
	assert.EqualValues(t, 50, s.Luminaires[8].Watts)
	assert.False(t, s.Luminaires[8].General)
	z := zonesOf(t, ashrae2013, s) // the row hangs from 2.35 to 2.65 m, h is 2.4: x = 2 and 3.5 partly inside, 5 too; 6.5 too
	tally := rulesOf(t, ashrae2013).Tally(&z, s.Luminaires)
	assert.EqualValues(t, 4*38, tally.Primary.Watts)
	assert.Equal(t, []domain.ID{"l3"}, tally.Primary.Loads)
	assert.Zero(t, tally.Secondary.Watts)
	ca := rulesOf(t, california).Tally(&z, s.Luminaires)
	assert.Zero(t, ca.Primary.Watts)
	assert.EqualValues(t, 4*38, ca.Secondary.Watts)

	assert.Empty(t, Unhung(b.R))
	b.R.Fixtures = b.R.Fixtures[1:]
	assert.Equal(t, []domain.ID{"l1"}, Unhung(b.R))
}

// Sensors by common practice, no published source: an open loop about 1.8 m from
// the glass and facing it, a closed loop without the glass in view; numbers by hand.
func TestSights(t *testing.T) {
	b := drawn().Device("ds", "ds-open")
	at := geom.Pt(9, 1.8)
	b.R.Design.Devices[0].At, b.R.Design.Devices[0].Turn = &at, 270
	sensors := Sensors(b.P, b.R)
	require.Len(t, sensors, 1)
	d := &sensors[0]
	assert.EqualValues(t, 3, d.Height)
	require.NotNil(t, d.Facing)
	s := spaceOf(t, b)
	sights := s.Sights(d)
	require.Len(t, sights, 2)
	near := sights[0]
	assert.EqualValues(t, "o1", s.Windows[near.Window].ID)
	assert.InDelta(t, 1.8, float64(near.Distance), 1e-9)
	assert.InDelta(t, 0, near.Aside, 1e-9)
	assert.InDelta(t, 40.601, near.Steep, 0.001) // atan(1.8/2.1)
	assert.True(t, near.SeesGlass(90))
	assert.False(t, near.SeesGlass(81.2))
	assert.True(t, near.SeesGlass(81.3))
	*d.Facing = 90
	assert.InDelta(t, 180, s.Sights(d)[0].Aside, 1e-9)
	*d.Facing = -45
	assert.InDelta(t, 45, s.Sights(d)[0].Aside, 1e-9)
	assert.Equal(t, 0, s.Between(d, &near))
	s.Luminaires = append(s.Luminaires, Luminaire{At: geom.Pt(9.2, 1)}, Luminaire{At: geom.Pt(9, 2.5)}, Luminaire{At: geom.Pt(10.5, 1.7)})
	assert.Equal(t, 1, s.Between(d, &near))
	d.View = 180
	assert.Equal(t, 2, s.Between(d, &near))
	s.Obstructions = []Obstruction{screen(8, 1, 10, 1, 4)}
	hidden := s.Sights(d)[0]
	assert.True(t, hidden.Hidden)
	assert.False(t, hidden.SeesGlass(180))
	s.Obstructions[0].Height = 1.5
	assert.False(t, s.Sights(d)[0].Hidden)
	d.At = geom.Pt(9, -2)
	assert.Empty(t, s.Sights(d), "outside")
}

func TestFacades(t *testing.T) {
	b := drawn()
	b.R.Plan.Walls[1].Openings = []domain.Opening{{ID: "o3", Kind: domain.Window, At: 5.5, Width: 3, Sill: 0.9, Head: 2.4}}
	s := spaceOf(t, b)
	f := s.Facades()
	require.Len(t, f, 2)
	assert.Len(t, f[0].Windows, 2)
	assert.InDelta(t, 180, f[0].Azimuth, 1e-9)
	assert.InDelta(t, 90, f[1].Azimuth, 1e-9)
	l := lit(t, s)
	assert.Equal(t, 0, l.FacadeAt(f, geom.Pt(3, 1)))
	assert.Equal(t, 1, l.FacadeAt(f, geom.Pt(11, 7)))
	assert.Equal(t, []int{0}, l.Governs(f, "l3"))
	s.Luminaires = append(s.Luminaires, Luminaire{Load: "l3", At: geom.Pt(11, 7)})
	assert.Equal(t, []int{0, 1}, l.Governs(f, "l3"))
	row, known := s.Row("l1")
	assert.True(t, known)
	assert.InDelta(t, 5.5, float64(row.From), 1e-9, "from the east window, 12 - 6.5")
	assert.InDelta(t, math.Hypot(6, 0.5), float64(row.To), 1e-9, "from the south ones: the third hangs half a meter beside both")
	assert.InDelta(t, math.Hypot(6, 0.5)-5.5, float64(row.Depth()), 1e-9)
	_, known = s.Row("none")
	assert.False(t, known)
}

// The classroom of the tests has no outline, so it has no space, and no sensor on
// the plan.
func TestSensors_unplaced(t *testing.T) {
	b := domaintest.Classroom()
	assert.Nil(t, NewSpace(b.P, b.R, UsualAssumed()))
	assert.Empty(t, Sensors(b.P, b.R))
	assert.NotEmpty(t, Unhung(b.R))
}

// What the plan states of glass, of what stands outside and of rooflights goes before
// what the project's limits say.
func TestNewSpace_statedGlass(t *testing.T) {
	b := drawn()
	o := b.R.Plan.Walls[0].Openings
	o[0].Glass, o[0].Blocked = 0.4, 25
	b.R.Plan.Rooflights = []domain.Rooflight{{ID: "r1", At: geom.Pt(5, 3), Width: 1, Length: 2, Turn: 30, Glass: 0.5}, {ID: "r2", At: geom.Pt(6, 3), Width: 1, Length: 1}}
	b.P.Limits = domain.Limits{{ID: domain.GlassTransmittance, Value: 72, Unit: "%", Source: "data sheet"}}
	s := NewSpace(b.P, b.R, AssumedOf(b.P))
	require.Len(t, s.Windows, 2)
	assert.Equal(t, Glass{Transmittance: 0.4, Net: 0.85, Maintenance: 0.9}, s.Windows[0].Glass)
	assert.Equal(t, Outside{Altitude: 25}, s.Windows[0].Outside)
	assert.Equal(t, Glass{Transmittance: 0.72, Net: 0.85, Maintenance: 0.9}, s.Windows[1].Glass)
	require.Len(t, s.Rooflights, 2)
	assert.InDelta(t, 0.5, s.Rooflights[0].Glass.Transmittance, 1e-12)
	assert.InDelta(t, 0.72, s.Rooflights[1].Glass.Transmittance, 1e-12)
	assert.InDelta(t, 2, float64(s.Rooflights[0].Area()), 1e-12)
}

// The built-in limits are the values that the models start from.
func TestAssumedOf_genericLimits(t *testing.T) {
	p := &domain.Project{}
	assert.Equal(t, UsualAssumed(), AssumedOf(p))
	assert.Equal(t, UsualInterior(), InteriorOf(p))
}

// Luminaires come by the load schedule, not by what their identifiers happen to be.
func TestNewSpace_luminairesInTheOrderOfTheirLoads(t *testing.T) {
	b := domaintest.Room()
	b.R.Outline = geom.Rectangle(0, 0, 4, 4)
	b.R.Design.Loads = []domain.Load{{ID: "l1", Seq: 1, Tag: "L1", Kind: domain.Lighting}, {ID: "l2", Seq: 2, Tag: "L2", Kind: domain.Lighting}, {ID: "l10", Seq: 10, Tag: "L10", Kind: domain.Lighting}}
	b.R.Fixtures = nil
	for _, id := range []domain.ID{"l10", "l1", "l2", "l10"} {
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: "f" + id, Load: id, At: geom.Pt(1, 1)})
	}
	var order []domain.ID
	for _, l := range NewSpace(b.P, b.R, UsualAssumed()).Luminaires {
		order = append(order, l.Load)
	}
	assert.Equal(t, []domain.ID{"l1", "l2", "l10", "l10"}, order)
}
