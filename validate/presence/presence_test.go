package presence

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

// 500 ft2 for each sensor: common practice, no published source.
// 500 ft2 are 46.45152 m2 (1 ft = 0.3048 m exactly, agreement of 1959).
func TestArea_oneBelowAtAndOneAbove(t *testing.T) {
	for _, c := range []struct {
		sensors int
		area    string
		want    int
	}{
		{1, "499 ft2", 0}, {1, "500 ft2", 0}, {1, "46.45152 m2", 0}, {1, "501 ft2", 1}, {1, "46.46 m2", 1},
		{2, "1000 ft2", 0}, {2, "1001 ft2", 1}, {0, "5000 ft2", 0}, {3, "1500 ft2", 0}, {3, "1500.1 ft2", 1},
	} {
		b := domaintest.Room().Devices(c.sensors, "ps-ceiling").Set("facts/area_m2", c.area)
		assert.Len(t, found(&Area, b), c.want, "%d sensors, %s", c.sensors, c.area)
	}
}

func TestArea_speaksTheProjectsUnits(t *testing.T) {
	b := domaintest.Room().Devices(2, "ps-ceiling").Set("facts/area_m2", "1100 ft2")
	got := found(&Area, b)[0]
	assert.Equal(t, "550 sq ft for each of 2 presence sensors, limit 500 sq ft: 100 sq ft over in all. Add a sensor, or use a type that covers more.", got.Message)
	assert.InDelta(t, -50*units.SquareMetresPerSquareFoot, got.Margin, 1e-9)
	b.P.Units = units.SI
	assert.Contains(t, found(&Area, b)[0].Message, "51.1 m2 for each of 2 presence sensors, limit 46.5 m2")

	b = domaintest.Room().Devices(1, "ps-ceiling").Set("facts/area_m2", "500.3 ft2")
	assert.Contains(t, found(&Area, b)[0].Message, "500.3 sq ft for the one presence sensor, limit 500 sq ft", "rounding must not hide the difference")
}

// A type that states its coverage counts with that: 1000 ft2 for the wired one.
func TestArea_ofATypeThatStatesItsOwn(t *testing.T) {
	b := domaintest.Room().Devices(1, "ps-ceiling").Devices(1, "ps-wired")
	assert.Empty(t, found(&Area, b.Set("facts/area_m2", "1500 ft2")))
	assert.Len(t, found(&Area, b.Set("facts/area_m2", "1501 ft2")), 1)
}

// Where the plan says what all sensors see, the area alone says nothing more:
// the room is judged by that. One sensor that is not on the plan, and the area
// counts again.
func TestArea_leavesDrawnRoomsToSight(t *testing.T) {
	b := domaintest.Room().Devices(2, "ps-ceiling").Set("facts/area_m2", "1100 ft2")
	b.R.Outline = geom.Rectangle(0, 0, 11, 9)
	b.R.Plan = &domain.Plan{ID: "s1", Walls: []domain.Wall{{ID: "w1", A: geom.Pt(0, 0), B: geom.Pt(11, 0), Kind: domain.FullWall}}}
	for i := range b.R.Design.Devices {
		b.R.Design.Devices[i].At = &geom.Point{X: 3 + 5*float64(i), Y: 4.5}
	}
	assert.Empty(t, found(&Area, b))
	b.R.Design.Devices[1].At = nil
	assert.Len(t, found(&Area, b), 1, "not all are placed")
	b.R.Design.Devices[1].At = &geom.Point{X: 8, Y: 4.5}
	b.R.Plan = nil
	assert.Len(t, found(&Area, b), 1, "no walls are drawn around it")
}

func TestKindsMixed_keepsTheGreaterNumber(t *testing.T) {
	for _, c := range []struct {
		occupancy, vacancy int
		keep               domain.PresenceKind
	}{{1, 1, domain.Vacancy}, {2, 1, domain.Occupancy}, {1, 2, domain.Vacancy}, {0, 3, ""}, {3, 0, ""}, {0, 0, ""}} {
		b := domaintest.Room().Devices(c.occupancy+c.vacancy, "ps-ceiling")
		for i := range c.occupancy {
			b.Set(fmt.Sprintf("devices/x%d/presence", i+1), "occupancy")
		}
		got := found(&KindsMixed, b)
		if c.keep == "" {
			assert.Empty(t, got)
			continue
		}
		require.Len(t, got, 1)
		b.Do(got[0].Fix.Edits...)
		for _, d := range b.R.Design.Devices {
			assert.Equal(t, c.keep, d.Presence)
		}
	}
}

func TestVacancyNoStation(t *testing.T) {
	sensor := func(kind string) *domaintest.Builder {
		return domaintest.Room().Load("l1", "a", 1).Device("ps", "ps-ceiling").Set("devices/ps/presence", kind).Link("ps", 0, "", "l1", "ACT")
	}
	assert.Len(t, found(&VacancyNoStation, sensor("vacancy")), 1)
	assert.Empty(t, found(&VacancyNoStation, sensor("occupancy")), "an occupancy sensor lights the room")
	assert.Empty(t, found(&VacancyNoStation, sensor("vacancy").Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", "100")))
	assert.Len(t, found(&VacancyNoStation, sensor("vacancy").Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", "0")), 1, "a button that only turns off is no help")
	assert.Empty(t, found(&VacancyNoStation, sensor("vacancy").Device("wb", "wb-dim").Carry("l1", "wb", 1)), "a wall box has its own buttons")
	assert.Empty(t, found(&VacancyNoStation, domaintest.Room().Device("ps", "ps-ceiling")), "a sensor that acts on nothing is another rule's")
	assert.Empty(t, found(&VacancyNoStation, domaintest.Room().Receptacle("r1").Device("ps", "ps-ceiling").Link("ps", 0, "", "r1", "ACT")), "receptacles need no button")
}

func TestNoIntent(t *testing.T) {
	b := domaintest.Classroom().Set("intents/i2/loads", "L1, L2, L3")
	got := found(&NoIntent, b)
	require.Len(t, got, 1)
	assert.Equal(t, "presence", got[0].Key)
	assert.Contains(t, got[0].Message, "acts on L4, and no presence intent does")
	assert.Nil(t, got[0].Fix, "an intent is there: the designer says whether it should have L4")

	got = found(&NoIntent, domaintest.Classroom().Do(edit.Remove{Part: "intents", ID: "i4"}))
	require.Len(t, got, 1)
	assert.Equal(t, "receptacle", got[0].Key)

	// The fix names the loads where not all of the kind are sensed.
	b = domaintest.Classroom().Do(edit.Remove{Part: "intents", ID: "i2"}).Link("ps", 0, "", "l4", "-")
	got = found(&NoIntent, b)
	require.Len(t, got, 1)
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&NoIntent, b))
	assert.Empty(t, found(&NoSensor, b))
}

func TestNoSensor(t *testing.T) {
	b := domaintest.Classroom().Do(edit.Remove{Part: "devices", ID: "ps"})
	got := found(&NoSensor, b)
	require.Len(t, got, 2, "the presence and the receptacle intent")
	assert.Nil(t, got[0].Fix, "no load is left for it")

	b = domaintest.Classroom().Link("ps", 0, "", "l2", "-")
	got = found(&NoSensor, b)
	require.Len(t, got, 1)
	assert.Equal(t, "i2", got[0].Key)
	assert.Equal(t, "Let the intent act on L1, L3 and L4 only", got[0].Fix.Title)
}

func TestNoDelay(t *testing.T) {
	b := domaintest.Classroom().Set("intents/i4/delay_s", "")
	got := found(&NoDelay, b)
	require.Len(t, got, 1)
	assert.Equal(t, "Set the delay to 20 min", got[0].Fix.Title)
	assert.Empty(t, found(&NoDelay, b.Set("devices/ps/delay_s", "15")), "the sensor waits by itself")
	assert.Len(t, found(&NoDelay, b.Working(1, "ps-ceiling")), 1, "but a second one does not")
}
