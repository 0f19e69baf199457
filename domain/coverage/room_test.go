package coverage_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	. "scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// plane gives a type with one radius for both motions, stated on the target's
// plane at 2.7 m: what tables of discs speak of.
func plane(r units.Metres) equipment.Type {
	return equipment.Type{ID: "plane", Name: "Plane", Kind: equipment.Presence, Supply: equipment.Mains, Mounting: "ceiling", Senses: equipment.Infrared,
		MajorRadius: r, MinorRadius: r, StatedAt: 2.7, StatedOn: equipment.TargetPlane}
}

// cone gives a type whose radius was stated on the floor at 2.7 m.
func cone(r units.Metres) equipment.Type {
	t := plane(r)
	t.ID, t.StatedOn, t.MinorRadius = "cone", equipment.FloorPlane, 0
	return t
}

// roomOf draws a room with a ceiling of 2.7 m, walls and sensors of a type.
func roomOf(outline geom.Polygon, t equipment.Type, cell float64, walls []domain.Wall, at ...geom.Point) *domaintest.Builder {
	b := domaintest.Room()
	b.P.Units = units.SI
	b.P.Book = append(b.P.Book, t)
	setLimit(b.P, domain.SightCell, cell)
	b.R.Outline = outline
	b.Devices(len(at), t.ID)
	for i := range at {
		b.R.Design.Devices[i].At = &at[i]
	}
	b.R.Plan = &domain.Plan{ID: "s1", Walls: walls}
	return b
}

func setLimit(p *domain.Project, id domain.LimitID, v float64) {
	for i := range p.Limits {
		if p.Limits[i].ID == id {
			p.Limits[i].Value = v
		}
	}
}

func walled(kind domain.WallKind, height units.Metres, ends ...geom.Point) []domain.Wall {
	var out []domain.Wall
	for i := 0; i+1 < len(ends); i += 2 {
		out = append(out, domain.Wall{ID: domain.ID(fmt.Sprint("w", i/2+1)), Seq: i/2 + 1, A: ends[i], B: ends[i+1], Kind: kind, Height: height})
	}
	return out
}

func seenArea(room *Room, m Motion) float64 { return room.Area(room.Seen(m)) }

// An L-room that only its outline bounds: cut by a disc of 5 m and sight lines.
// GEOS 65,536 segments a quarter circle; cells of 0.02 m come within 0.2 %.
func TestRoom_outlineBoundsSight(t *testing.T) {
	for _, c := range []struct{ x, y, want float64 }{{9, 1, 27.5577}, {2.5, 2.5, 47.8306}, {7.5, 4.5, 34.4669}, {1, 9, 27.5577}} {
		b := roomOf(ell, plane(5), 0.02, nil, geom.Pt(c.x, c.y))
		room := NewRoom(b.P, b.R)
		assert.InEpsilon(t, c.want, seenArea(room, Minor), 0.002, "from %g, %g", c.x, c.y)
		assert.InEpsilon(t, c.want, seenArea(room, Major), 0.002)
		assert.InEpsilon(t, c.want/75, room.Share(Minor), 0.002)
	}
	// A boundary along the edges of the notch says that no wall stands there.
	open := walled(domain.Boundary, 0, geom.Pt(5, 5), geom.Pt(10, 5), geom.Pt(5, 5), geom.Pt(5, 10))
	b := roomOf(ell, plane(5), 0.02, open, geom.Pt(7.5, 4.5))
	assert.InEpsilon(t, 40.3018, seenArea(NewRoom(b.P, b.R), Minor), 0.002, "GEOS: the disc in the room without sight lines")
}

// Two partitions in 8 by 6 m, seen at 1.1 m by a disc of 3.845 m: GEOS.
func TestRoom_partitionsShadowSeats(t *testing.T) {
	for hp, want := range map[units.Metres]float64{1.07: 40.894586, 1.37: 38.211223, 1.50: 36.227919, 1.65: 32.962613, 2.70: 25.027073} {
		walls := walled(domain.Partition, hp, geom.Pt(2, 4.5), geom.Pt(6, 4.5), geom.Pt(2, 1.5), geom.Pt(6, 1.5))
		b := roomOf(room(8, 6), plane(3.845), 0.02, walls, geom.Pt(4, 3))
		assert.InEpsilon(t, want, seenArea(NewRoom(b.P, b.R), Minor), 0.002, "partitions of %g m", hp)
		if hp == 1.65 { // the height of partitions that state none
			for i := range walls {
				walls[i].Height = 0
			}
			assert.InEpsilon(t, want, seenArea(NewRoom(b.P, b.R), Minor), 0.002)
		}
	}
}

// Ultrasound and small motion of dual sensors pass over partitions that end
// below them; the walk of dual sensors is the infrared's.
func TestRoom_ultrasoundPassesPartitions(t *testing.T) {
	full := 40.894586 // GEOS: the disc in the room
	seen := func(s equipment.Sensing, hp units.Metres, m Motion) float64 {
		typ := plane(3.845)
		typ.Senses = s
		b := roomOf(room(8, 6), typ, 0.02, walled(domain.Partition, hp, geom.Pt(2, 4.5), geom.Pt(6, 4.5), geom.Pt(2, 1.5), geom.Pt(6, 1.5)), geom.Pt(4, 3))
		return seenArea(NewRoom(b.P, b.R), m)
	}
	assert.InEpsilon(t, full, seen(equipment.Ultrasonic, 2.69, Minor), 0.002)
	assert.InEpsilon(t, full, seen(equipment.Ultrasonic, 2.69, Major), 0.002)
	assert.InEpsilon(t, full, seen(equipment.Dual, 2.69, Minor), 0.002)
	assert.Equal(t, seen(equipment.Infrared, 2.69, Major), seen(equipment.Dual, 2.69, Major))
	assert.Less(t, seen(equipment.Dual, 1.7, Major), seen(equipment.Dual, 1.7, Minor))
	assert.InEpsilon(t, 25.027073, seen(equipment.Ultrasonic, 2.7, Minor), 0.002, "as high as the sensor: a wall")
}

// Radii by height: the cone of 3.845 m on the floor at 2.7 m, and the small
// ceiling sensor's 2.5436 m on the plane of the arm.
func TestRoom_radii(t *testing.T) {
	small := cone(3.84525)
	small.MinorRadius = 2.5436
	for _, c := range []struct {
		typ         equipment.Type
		h           units.Metres
		walk, small float64
	}{
		{cone(3.845), 2.4, 3.4178, 1.8513}, {cone(3.845), 2.7, 3.845, 2.2785}, {cone(3.845), 3.0, 4.2722, 2.7057}, {cone(3.845), 3.6, 5.1267, 3.5602},
		{small, 2.7, 3.84525, 3.84525 * 1.6 / 2.7}, {small, 3.6, 3.84525 * 3.6 / 2.7, 3.84525 * 2.5 / 2.7},
		{plane(3.845), 2.4, 3.845 * 0.8 / 1.1, 3.1241}, {plane(3.845), 3.6, 3.845 * 2 / 1.1, 6.0078},
	} {
		b := roomOf(room(10, 10), c.typ, 0.25, nil, geom.Pt(5, 5))
		b.R.Room.Ceiling = c.h
		s := NewRoom(b.P, b.R).Sensors[0]
		assert.InDelta(t, c.walk, s.Walk, 0.0005, "%s at %g m", c.typ.ID, c.h)
		assert.InDelta(t, c.small, s.Small, 0.001, "%s at %g m", c.typ.ID, c.h)
		assert.True(t, s.Guess)
		assert.NoError(t, s.Refused)
	}
}

// A type that states no radius counts as a disc of its coverage, else of the
// limit's 500 ft2 = 46.4515 m2: 3.84525 m.
func TestRoom_assumedDisc(t *testing.T) {
	bare := equipment.Type{ID: "bare", Name: "Bare", Kind: equipment.Presence, Supply: equipment.Mains, Mounting: "ceiling"}
	b := roomOf(room(20, 20), bare, 0.25, nil, geom.Pt(10, 10))
	s := NewRoom(b.P, b.R).Sensors[0]
	assert.True(t, s.Assumed)
	assert.InDelta(t, 3.84525, s.Walk, 0.0005)
	bare.Coverage = 92.90304 // 1000 ft2
	b = roomOf(room(20, 20), bare, 0.25, nil, geom.Pt(10, 10))
	assert.InDelta(t, 3.84525*math.Sqrt2, NewRoom(b.P, b.R).Sensors[0].Walk, 0.0005)
	bare.Angle = 90
	b = roomOf(room(20, 20), bare, 0.05, nil, geom.Pt(0, 0))
	b.R.Design.Devices[0].Turn = 45
	room := NewRoom(b.P, b.R)
	assert.InEpsilon(t, 92.90304, seenArea(room, Major), 0.005, "a quarter of a larger disc has the same area")
}

// Outside of the heights that a type is for nothing is reckoned.
func TestRoom_refusesHeights(t *testing.T) {
	typ := cone(3.845)
	typ.Lowest, typ.Highest = 2.1, 3.6
	for h, ok := range map[units.Metres]bool{2.09: false, 2.1: true, 3.6: true, 3.61: false} {
		b := roomOf(room(6, 4), typ, 0.25, nil, geom.Pt(3, 2))
		b.R.Design.Devices[0].Height = h
		room := NewRoom(b.P, b.R)
		assert.Equal(t, ok, room.Whole(), "%g m", h)
		assert.Equal(t, ok, room.Share(Major) > 0, "%g m", h)
	}
	b := roomOf(room(6, 4), typ, 0.25, nil, geom.Pt(3, 2))
	b.R.Design.Devices[0].At = nil
	unplaced := NewRoom(b.P, b.R)
	assert.False(t, unplaced.Whole())
	assert.Equal(t, []domain.ID{"x1"}, unplaced.Unplaced)
}

// 12 by 9 m in four quarters of 6 by 4.5 m, half-diagonal 3.75 < 3.845: all of
// it, by geometry. One sensor in 9 by 7.5 m at cells of 0.25 m: 0.67778.
func TestRoom_share(t *testing.T) {
	b := roomOf(room(12, 9), cone(3.845), 0.25, nil, geom.Pt(3, 2.25), geom.Pt(9, 2.25), geom.Pt(3, 6.75), geom.Pt(9, 6.75))
	whole := NewRoom(b.P, b.R)
	assert.EqualValues(t, 1, whole.Share(Major))
	assert.Less(t, whole.Share(Minor), 1.0)
	b = roomOf(room(9, 7.5), cone(3.845), 0.25, nil, geom.Pt(4.5, 3.75))
	assert.InDelta(t, 0.67778, NewRoom(b.P, b.R).Share(Major), 0.000005)
	// The lens of two discs in 12 by 6 m: 5.550798 m2 by GEOS.
	b = roomOf(room(12, 6), cone(3.845), 0.02, nil, geom.Pt(3, 3), geom.Pt(9, 3))
	two := NewRoom(b.P, b.R)
	assert.InEpsilon(t, 5.550798, two.Area(two.Twice(Major)), 0.005)
	assert.InEpsilon(t, 70.687575, seenArea(two, Major), 0.0005)
}

// An auditorium's doors: in the outline's wall, half a meter inside; a door of
// a wall elsewhere or a window is none.
func TestRoom_entrances(t *testing.T) {
	walls := walled(domain.FullWall, 0, geom.Pt(0, 0), geom.Pt(8, 0), geom.Pt(8, 0), geom.Pt(8, 6), geom.Pt(8, 6), geom.Pt(0, 6), geom.Pt(0, 6), geom.Pt(0, 0), geom.Pt(0, -2), geom.Pt(8, -2), geom.Pt(2, 0), geom.Pt(2, -2))
	walls[0].Openings = []domain.Opening{{ID: "d", Kind: domain.Door, At: 1, Width: 1}, {ID: "p", Kind: domain.Window, At: 3, Width: 1}, {ID: "g", Kind: domain.Gap, At: 6, Width: 2}}
	walls[4].Openings = []domain.Opening{{ID: "far", Kind: domain.Door, At: 1, Width: 1}}
	walls[5].Openings = []domain.Opening{{ID: "side", Kind: domain.Door, At: 0.1, Width: 1}}
	b := roomOf(room(8, 6), plane(3), 0.25, walls, geom.Pt(1.5, 3.5))
	got := NewRoom(b.P, b.R).Entrances
	require.Len(t, got, 2)
	assert.Equal(t, Target{ID: "d", Wall: "w1", At: geom.Pt(1.5, 0.5), By: []int{0}}, got[0], "3 m away: the pattern's rim")
	assert.Equal(t, geom.Pt(7, 0.5), got[1].At)
	assert.False(t, got[1].Seen())
	walls[0].Thickness = 0.3
	b.R.Outline = geom.Rectangle(0.15, 0.15, 7.7, 5.7) // traced along the wall's face
	assert.InDelta(t, 0.65, NewRoom(b.P, b.R).Entrances[0].At.Y, 1e-9)
}

// A sensor on a wall looks into the room, from wherever in the wall it is drawn.
func TestRoom_sensorsOnWalls(t *testing.T) {
	walls := walled(domain.FullWall, 0, geom.Pt(0, 0), geom.Pt(9, 0), geom.Pt(9, 0), geom.Pt(9, 7.5), geom.Pt(9, 7.5), geom.Pt(0, 7.5), geom.Pt(0, 7.5), geom.Pt(0, 0))
	wedge := func(r units.Metres, angle float64) equipment.Type {
		typ := plane(r)
		typ.Angle = angle
		return typ
	}
	for _, c := range []struct {
		r           units.Metres
		angle, turn float64
		want        float64
		at          []geom.Point
	}{
		{7.5, 90, 45, 44.178647, []geom.Point{geom.Pt(0, 0), geom.Pt(-0.05, -0.05), geom.Pt(0.001, 0.001)}},
		{10, 90, 45, 64.270727, []geom.Point{geom.Pt(0, 0)}},
		{8, 110, 0, 47.87727, []geom.Point{geom.Pt(0, 3.75), geom.Pt(-0.1, 3.75), geom.Pt(0.005, 3.75)}},
	} {
		for _, at := range c.at {
			b := roomOf(room(9, 7.5), wedge(c.r, c.angle), 0.02, walls, at)
			b.R.Design.Devices[0].Turn = c.turn
			assert.InEpsilon(t, c.want, seenArea(NewRoom(b.P, b.R), Minor), 0.01, "%v: GEOS", at)
		}
	}
	b := roomOf(room(9, 7.5), wedge(8, 110), 0.25, walls, geom.Pt(0, 3.75))
	b.R.Design.Devices[0].Turn = 180
	assert.Zero(t, NewRoom(b.P, b.R).Share(Major), "it faces its wall")
	b = roomOf(room(9, 7.5), plane(3), 0.25, walls, geom.Pt(-3, 3.75))
	assert.Zero(t, NewRoom(b.P, b.R).Share(Major), "it hangs next door")
}

func TestNewRoom_needsAnOutline(t *testing.T) {
	b := roomOf(geom.Polygon{}, plane(3), 0.25, nil, geom.Pt(1, 1))
	assert.Nil(t, NewRoom(b.P, b.R))
	b.R.Outline = geom.Polygon{Outer: []geom.Point{geom.Pt(0, 0), geom.Pt(4, 4), geom.Pt(4, 0), geom.Pt(0, 4)}}
	assert.Nil(t, NewRoom(b.P, b.R), "it crosses itself")
	b.R.Outline = geom.Rectangle(0, 0, 5000, 5000)
	assert.LessOrEqual(t, NewRoom(b.P, b.R).Grid.Columns, 500, "coarser for a hall of any size")
}

func bench(sensors int) *domaintest.Builder {
	outline := geom.Rectangle(0, 0, 12, 9)
	walls := walled(domain.FullWall, 0, geom.Pt(0, 0), geom.Pt(12, 0), geom.Pt(12, 0), geom.Pt(12, 9), geom.Pt(12, 9), geom.Pt(0, 9), geom.Pt(0, 9), geom.Pt(0, 0),
		geom.Pt(-10, -2), geom.Pt(20, -2), geom.Pt(0, 0), geom.Pt(-10, 0), geom.Pt(12, 0), geom.Pt(20, 0))
	walls[0].Openings = []domain.Opening{{ID: "d1", Kind: domain.Door, At: 1, Width: 0.9}, {ID: "d2", Kind: domain.Door, At: 10, Width: 0.9}}
	low := walled(domain.Partition, 1.37, geom.Pt(2, 3), geom.Pt(5, 3), geom.Pt(2, 6), geom.Pt(5, 6), geom.Pt(7, 3), geom.Pt(10, 3), geom.Pt(7, 6), geom.Pt(10, 6))
	for i := range low {
		low[i].ID += "p"
	}
	var at []geom.Point
	for i := range sensors {
		at = append(at, geom.Pt(1.5+3*float64(i%4), 2.25+4.5*float64(i/4)))
	}
	b := roomOf(outline, cone(3.845), 0.25, append(walls, low...), at...)
	for i := range 24 {
		b.R.Sitting = append(b.R.Sitting, domain.Seat{ID: domain.ID(fmt.Sprint("s", i)), At: geom.Pt(1+1.4*float64(i%8), 2+2.5*float64(i/8))})
	}
	return b
}

// A room of 12 by 9 m, four partitions, two doors to a corridor, 24 seats.
func BenchmarkRoom(b *testing.B) {
	for _, n := range []int{4, 8} {
		one := bench(n)
		b.Run(fmt.Sprint(n, " sensors"), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				NewRoom(one.P, one.R)
			}
		})
		b.Run(fmt.Sprint(n, " sensors, one moved"), func(b *testing.B) {
			room := NewRoom(one.P, one.R)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				one.R.Design.Devices[0].At.X = 1.5 + float64(i%2)/10
				room = room.Again(one.P, one.R)
			}
		})
	}
}
