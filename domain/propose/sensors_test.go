package propose_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	. "scopewright/domain/propose"
	"scopewright/domain/units"
)

// seeing gives a type of one radius for both motions, at any height.
func seeing(r units.Metres) equipment.Type {
	return equipment.Type{ID: "seeing", Name: "Seeing", Kind: equipment.Presence, Supply: equipment.Mains, Mounting: "ceiling",
		MajorRadius: r, MinorRadius: r, StatedAt: 2.7, StatedOn: equipment.TargetPlane, MostRadius: r}
}

// hall draws a room between four walls, with a ceiling of 2.7 m and a book of
// types.
func hall(width, height float64, book ...equipment.Type) *domaintest.Builder {
	b := domaintest.Room().Load("l1", "a", 1)
	b.P.Units, b.P.Book = units.SI, book
	b.R.Outline = geom.Rectangle(0, 0, width, height)
	b.R.Plan = &domain.Plan{ID: "s1"}
	for i, a := range b.R.Outline.Outer {
		b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i+1)), A: a, B: b.R.Outline.Outer[(i+1)%4], Kind: domain.FullWall})
	}
	return b
}

func sit(b *domaintest.Builder, at ...geom.Point) *domaintest.Builder {
	for i, p := range at {
		b.R.Sitting = append(b.R.Sitting, domain.Seat{ID: domain.ID(fmt.Sprint("seat", i+1)), At: p})
	}
	return b
}

func place(b *domaintest.Builder, id domain.ID, at geom.Point) *domaintest.Builder {
	b.R.Design.Device(id).At = &at
	if err := b.R.Settle(); err != nil {
		panic(err)
	}
	return b
}

func ids(n int) domain.ID { return domain.ID(fmt.Sprint("fresh", n)) }

func acts(p *SensorPlan) map[SensorAct]int {
	out := map[SensorAct]int{}
	for _, s := range p.Steps {
		out[s.Act]++
	}
	return out
}

// carried applies a plan as a designer would and gives what is seen then.
func carried(t *testing.T, b *domaintest.Builder, p *SensorPlan) *coverage.Room {
	t.Helper()
	plan := b.R.Plan
	b.Do(p.Edits(b.P, &b.R.Design, ids)...)
	b.R.Plan = plan
	after := coverage.NewRoom(b.P, b.R)
	require.NotNil(t, after)
	assert.InDelta(t, p.After.Share(coverage.Major), after.Share(coverage.Major), 1e-9)
	return after
}

// Eight seats in 12 by 6 m, sensors that reach 2.2 m on a grid of 1 m: the
// fewest are two, at (3, 3) and (9, 3), and no other two; the bound is ceil(8/4).
func TestSensors_geometricTrap(t *testing.T) {
	b := hall(12, 6, seeing(2.2))
	for _, x := range []float64{1.5, 4.5, 7.5, 10.5} {
		sit(b, geom.Pt(x, 1.5), geom.Pt(x, 4.5))
	}
	got := Sensors(b.P, b.R, SensorWish{Share: 0.01})
	require.NotNil(t, got)
	assert.True(t, got.Complete && got.Proved)
	assert.Equal(t, 2, got.Bound)
	require.Len(t, got.Steps, 2)
	assert.ElementsMatch(t, []geom.Point{geom.Pt(3, 3), geom.Pt(9, 3)}, []geom.Point{got.Steps[0].At, got.Steps[1].At})
	assert.Equal(t, 2, acts(got)[AddSensor])
	after := carried(t, b, got)
	for _, s := range after.Seats {
		assert.Len(t, s.By, 1)
	}
	assert.Len(t, b.R.Design.Links, 2, "each new one acts on the load")
}

// 12 by 9 m in four quarters with half-diagonal 3.75 m: four sensors of 3.845 m
// see all of it, and three of 46.45 m2 are too few for 95 % but not for proof.
func TestSensors_quarters(t *testing.T) {
	b := hall(12, 9, seeing(3.845))
	got := Sensors(b.P, b.R, SensorWish{})
	require.NotNil(t, got)
	assert.True(t, got.Complete)
	assert.Len(t, got.Steps, 4)
	assert.GreaterOrEqual(t, got.After.Share(coverage.Major), 0.95)
	assert.GreaterOrEqual(t, got.Bound, 3, "0.95 of 108 m2 over 46.45 m2 for each: 2.2")
}

// What sees all stays; a sensor in a poor place moves; one too many goes.
func TestSensors_keepsMovesAndRemoves(t *testing.T) {
	b := place(hall(6, 4, seeing(3.845)).Device("ps", "seeing"), "ps", geom.Pt(2.9, 2.1))
	got := Sensors(b.P, b.R, SensorWish{})
	require.NotNil(t, got)
	assert.Equal(t, map[SensorAct]int{KeepSensor: 1}, acts(got), "half-diagonal 3.61 m: from near the middle it sees all")
	assert.Empty(t, got.Edits(b.P, &b.R.Design, ids))

	b = place(hall(6, 4, seeing(3.845)).Device("ps", "seeing"), "ps", geom.Pt(0.5, 0.5))
	got = Sensors(b.P, b.R, SensorWish{})
	assert.Equal(t, map[SensorAct]int{MoveSensor: 1}, acts(got))
	assert.EqualValues(t, 1, carried(t, b, got).Share(coverage.Major))

	b = place(hall(6, 4, seeing(3.845)).Device("ps", "seeing").Device("second", "seeing"), "ps", geom.Pt(3, 2))
	got = Sensors(b.P, b.R, SensorWish{})
	assert.Equal(t, map[SensorAct]int{KeepSensor: 1, RemoveSensor: 1}, acts(got))
	carried(t, b, got)
	assert.Nil(t, b.R.Design.Device("second"))
}

// A new sensor does what the room's own does.
func TestSensors_newOnesCopy(t *testing.T) {
	b := place(hall(12, 4, seeing(3.845)).Device("ps", "seeing"), "ps", geom.Pt(3, 2)).Set("devices/ps/presence", "occupancy", "devices/ps/delay_s", "15 min").Link("ps", 0, "", "l1", "ACT")
	got := Sensors(b.P, b.R, SensorWish{})
	require.Equal(t, 1, acts(got)[AddSensor])
	carried(t, b, got)
	fresh := b.R.Design.Device("fresh0")
	require.NotNil(t, fresh)
	assert.Equal(t, domain.Occupancy, fresh.Presence)
	assert.EqualValues(t, 900, fresh.Delay)
	assert.Len(t, b.R.Design.Links, 2)
}

// Beside a corridor, places that see it through the door are left alone where
// others do.
func TestSensors_doNotLookOut(t *testing.T) {
	b := hall(6, 4, seeing(3.845))
	b.R.Plan.Walls[0].Openings = []domain.Opening{{ID: "d", Kind: domain.Door, At: 4, Width: 0.9}}
	got := Sensors(b.P, b.R, SensorWish{Share: 0.8})
	require.NotNil(t, got)
	assert.True(t, got.Complete)
	assert.LessOrEqual(t, got.Outside, 0.5)
	for _, s := range got.After.Entrances {
		assert.True(t, s.Seen())
	}
}

// Types for walls hang in corners and along walls, and look into the room.
func TestSensors_onWalls(t *testing.T) {
	corner := seeing(10)
	corner.Mounting, corner.Angle = "wall", 90
	b := hall(6, 4, corner)
	got := Sensors(b.P, b.R, SensorWish{})
	require.NotNil(t, got)
	assert.True(t, got.Complete)
	require.Len(t, got.Steps, 1)
	assert.Contains(t, b.R.Outline.Outer, got.Steps[0].At)
	assert.EqualValues(t, 1, got.After.Share(coverage.Major))
}

// More than the limit allows are not proposed: the best of that number are, and
// the plan says that it is not complete.
func TestSensors_limit(t *testing.T) {
	b := hall(30, 20, seeing(3.845))
	got := Sensors(b.P, b.R, SensorWish{})
	require.NotNil(t, got)
	assert.False(t, got.Complete)
	assert.False(t, got.Proved)
	assert.Len(t, got.Steps, 8, "presence sensors in a room")
	assert.Greater(t, got.Bound, 8)
	_, err := edit.All(edit.OfRoom(b.P, b.R), []edit.Edit{ArrangeSensors{Room: b.R}})
	assert.ErrorContains(t, err, "split the room")
	// Eight quarters of 4000 ft2 = 371.6 m2 are what eight small sensors may see.
	assert.InDelta(t, 8*46.45, b.R.Outline.Area()*got.After.Share(coverage.Major), 20)
}

// A room over its limit of devices keeps its sensors, and moves them.
func TestSensors_tooManyDevices(t *testing.T) {
	b := place(hall(6, 4, seeing(3.845), *equipment.Generic().Find("rt-plug")).Device("ps", "seeing").Devices(40, "rt-plug"), "ps", geom.Pt(0.5, 0.5))
	got := Sensors(b.P, b.R, SensorWish{})
	require.NotNil(t, got)
	assert.Equal(t, map[SensorAct]int{MoveSensor: 1}, acts(got))
	assert.True(t, got.Complete)
}

// Other types are taken where the room's own cannot do it.
func TestSensors_otherTypes(t *testing.T) {
	far := seeing(8)
	far.ID, far.Highest = "far", 4
	low := seeing(9)
	low.ID, low.Highest = "low", 2.5
	b := sit(place(hall(12, 6, seeing(0.4), low, far).Device("ps", "seeing"), "ps", geom.Pt(6, 3)), geom.Pt(1, 1), geom.Pt(11, 5), geom.Pt(1, 5), geom.Pt(11, 1), geom.Pt(6, 1), geom.Pt(4, 4), geom.Pt(8, 4), geom.Pt(3, 2), geom.Pt(9, 2))
	got := Sensors(b.P, b.R, SensorWish{})
	require.NotNil(t, got)
	assert.True(t, got.Complete)
	require.Len(t, got.Steps, 1)
	assert.Equal(t, "far", got.Steps[0].Type)
	after := carried(t, b, got)
	assert.Equal(t, "far", b.R.Design.Device("ps").Type)
	assert.Len(t, after.Sensors, 1)
	b = hall(12, 6, low)
	assert.Nil(t, Sensors(b.P, b.R, SensorWish{}), "no type is made for the height")
	b.R.Outline = geom.Polygon{}
	assert.Nil(t, Sensors(b.P, b.R, SensorWish{}))
}

// The floor of 600 m2 at the limits, an office of 20 m2, a classroom with 30
// seats; how long a click takes.
func BenchmarkSensors(b *testing.B) {
	class := hall(12, 9, equipment.Generic()...)
	for i := range 30 {
		sit(class, geom.Pt(1.5+1.8*float64(i%6), 1.5+1.4*float64(i/6)))
	}
	class.R.Plan.Walls[0].Openings = []domain.Opening{{ID: "d", Kind: domain.Door, At: 1, Width: 0.9}}
	for name, one := range map[string]*domaintest.Builder{"hall": hall(30, 20, equipment.Generic()...), "office": hall(5, 4, equipment.Generic()...), "classroom": class} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				Sensors(one.P, one.R, SensorWish{})
			}
		})
	}
}
