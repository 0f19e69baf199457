package energycode

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

const (
	ashrae2019 = "ashrae-90.1-2019"
	ashrae2022 = "ashrae-90.1-2022"
	iecc2021   = "iecc-2021"
	california = "california-2022"
)

var lighting = []domain.ID{"l1", "l2", "l3", "l4"}

// classroom is a room that meets what can be told of ASHRAE 90.1-2019: few enough
// watts, an empty room that is dark in time, and receptacles that go dead.
func classroom() *domaintest.Builder {
	b := domaintest.Classroom().Set("loads/l1/count", "2", "loads/l2/count", "2", "loads/l3/count", "2", "loads/l4/count", "1",
		"intents/i2/delay_s", "15 min", "intents/i3/may_off", "yes", "loads/r1/count", "6", "facts/receptacles", "11")
	return judged(b, ashrae2019, "classroom_lecture_training")
}

// judged lets a room be judged by a code as a kind of space that is confirmed.
func judged(b *domaintest.Builder, pack domain.CodePack, space string) *domaintest.Builder {
	b.P.CodePack = pack
	return b.Set("facts/space_type", space)
}

// occupied is the classroom lit on entry to a level.
func occupied(level string) *domaintest.Builder {
	return classroom().Set("devices/ps/presence", "occupancy", "intents/i2/enters", "yes", "intents/i2/level", level)
}

// levelled is the classroom with one level between off and full: that of a scene, in
// which all general lighting has the same.
func levelled(level string) *domaintest.Builder {
	return classroom().Set("scenes/s2/levels/l1", level, "scenes/s2/levels/l2", level, "scenes/s2/levels/l3", level)
}

// emptied is the classroom with another delay; 1 min of warning and 2 s of fade follow.
func emptied(delay string) *domaintest.Builder { return classroom().Set("intents/i2/delay_s", delay) }

// outletsAfter is the classroom whose receptacles go dead after a time.
func outletsAfter(delay string) *domaintest.Builder {
	return classroom().Set("intents/i4/delay_s", delay)
}

// limited sets a limit of the project, so that an example breaks no other rule.
func limited(b *domaintest.Builder, id domain.LimitID, value float64) *domaintest.Builder {
	for i := range b.P.Limits {
		if b.P.Limits[i].ID == id {
			b.P.Limits[i].Value = value
		}
	}
	return b
}

// powered is the classroom with an area.
func powered(area string) *domaintest.Builder { return classroom().Set("facts/area_m2", area) }

// ramped is the classroom by the Californian code; a cell of the station may raise it.
func ramped(cell string) *domaintest.Builder {
	b := judged(classroom().Set("facts/area_m2", "400 ft2"), california, "classroom_lecture_training")
	for _, l := range lighting {
		if cell != "-" {
			b.Link("st", 1, domain.Hold, l, cell)
		}
	}
	if cell != "-" {
		b.Link("st", 1, domain.Hold, "r1", "-")
	}
	return b
}

// sidelit is the classroom drawn, 6 by 7.5 m, with a window of 5 m in one wall, its
// head at 2.4 m. Three luminaires of together 150 W hang 2 m from it, the others
// beyond the daylight; daylight may turn the row off or not.
func sidelit(mayOff string) *domaintest.Builder { return sidelitBy(50, mayOff) }

// sidelitBy is the same with other watts of each of the three luminaires.
func sidelitBy(each units.Watts, mayOff string) *domaintest.Builder {
	b := classroom()
	row := b.P.Luminaires[0]
	row.ID, row.Tag, row.Watts = "row", "R", each
	b.P.Luminaires = append(b.P.Luminaires, row)
	b.Set("loads/l3/luminaire", "row", "loads/l3/count", "3", "facts/area_m2", "45 m2", "facts/ceiling_m", "3 m", "intents/i3/may_off", mayOff)
	b.R.Outline, b.R.Plan = geom.Rectangle(0, 0, 6, 7.5), &domain.Plan{ID: "s1", Walls: walls()}
	for i, at := range []geom.Point{{X: 1, Y: 2}, {X: 3, Y: 2}, {X: 5, Y: 2}, {X: 2, Y: 5.5}, {X: 4, Y: 5.5}, {X: 2, Y: 6.5}, {X: 4, Y: 6.5}, {X: 3, Y: 7.2}} {
		load := []domain.ID{"l3", "l3", "l3", "l1", "l1", "l2", "l2", "l4"}[i]
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), Load: load, At: at})
	}
	for i, at := range []geom.Point{{X: 5, Y: 7}, {X: 5, Y: 6.5}, {X: 5.9, Y: 7}, {X: 3, Y: 3.7}, {X: 3, Y: 1.8}, {X: 4.5, Y: 7}} {
		b.R.Design.Devices[i].At = &at
	}
	return b
}

// walls are those of the drawn classroom, with the window in the first.
func walls() []domain.Wall {
	corners := []geom.Point{{}, {X: 6}, {X: 6, Y: 7.5}, {Y: 7.5}}
	out := make([]domain.Wall, len(corners))
	for i, a := range corners {
		out[i] = domain.Wall{ID: domain.ID(fmt.Sprint("w", i+1)), Seq: i + 1, A: a, B: corners[(i+1)%4], Kind: domain.FullWall, Thickness: 0.2}
	}
	out[0].Openings = []domain.Opening{{ID: "o1", Kind: domain.Window, At: 0.5, Width: 5, Sill: 0.9, Head: 2.4}}
	return out
}

// toplit is the classroom with 152 W under rooflights, which daylight may turn off or
// not.
func toplit(mayOff string) *domaintest.Builder {
	return classroom().Set("loads/l3/zone", "under rooflight", "loads/l3/count", "4", "facts/area_m2", "499 ft2", "intents/i3/may_off", mayOff)
}

// openOffice is an open office of one zone.
func openOffice(area string) *domaintest.Builder {
	return judged(classroom().Working(1, "ps-ceiling").Set("facts/area_m2", area), iecc2021, "office_open_gt_300ft2")
}

// corridor keeps a level when it is empty, and goes off by the clock.
func corridor(level string) *domaintest.Builder {
	b := classroom().Set("loads/l1/count", "1", "loads/l2/count", "1", "loads/l3/count", "1", "intents/i2/off_level", level, "intents/i2/warning_s", "0", "intents/i2/warn_to", "0").
		Do(edit.AddIntent{ID: "i6", Kind: domain.BySchedule}, edit.AddIntent{ID: "i7", Kind: domain.OnNetworkLoss})
	return judged(b, ashrae2019, "corridor")
}

// scheduled goes off by the clock; a press brings light back for a time.
func scheduled(override string) *domaintest.Builder {
	b := classroom().Do(edit.AddIntent{ID: "i6", Kind: domain.BySchedule}).Set("intents/i6/override_s", override)
	return judged(limited(b, domain.OverrideLongest, 8*3600), ashrae2022, "shop_classroom")
}

// workshop, laboratory, guests and garage are the classroom as other kinds of space,
// with the delay of its presence intent.
func workshop(delay string) *domaintest.Builder {
	return judged(emptied(delay), ashrae2019, "shop_classroom")
}

func laboratory(delay string) *domaintest.Builder {
	return judged(ramped("UP").Set("intents/i2/delay_s", delay), california, "laboratory")
}

func guests(delay string) *domaintest.Builder {
	return judged(emptied(delay).Set("loads/l1/count", "1", "loads/l2/count", "1", "loads/l3/count", "1"), ashrae2019, "guestroom")
}

func garage(delay string) *domaintest.Builder {
	b := limited(emptied(delay).Set("facts/area_m2", "2000 ft2"), domain.AreaPerPresenceSensor, 1000)
	return judged(b, ashrae2019, "parking_garage")
}

// library has nothing that senses people or daylight; a button brings all of its
// lighting to a level.
func library(level string) *domaintest.Builder {
	b := domaintest.Room().Load("l1", "a", 2).Load("l2", "a", 2).Device("lc", "lc-2").Device("st", "st-4-mains").Device("gw", "gw-room").
		Set("loads/l1/circuit", "LP-1", "loads/l2/circuit", "LP-1", "loads/l1/name", "Front", "loads/l2/name", "Rear", "facts/windows", "no").
		Carry("l1", "lc", 1).Carry("l2", "lc", 2)
	for n, k := range []string{"On 100", "Part " + level, "Off 0", "Dim DN"} {
		label, cell, _ := strings.Cut(k, " ")
		b.Set("devices/st/buttons/"+string(rune('1'+n)), label)
		for _, l := range lighting[:2] {
			b.Link("st", n+1, domain.Press, l, cell)
		}
	}
	b.Do(edit.AddIntent{ID: "i1", Kind: domain.ByHand}, edit.AddIntent{ID: "i2", Kind: domain.BySchedule}, edit.AddIntent{ID: "i3", Kind: domain.OnPowerBack}, edit.AddIntent{ID: "i4", Kind: domain.OnNetworkLoss})
	return judged(b, iecc2021, "library_reading")
}

// display is the classroom whose board lighting is an exhibit, with buttons of its own
// or not.
func display(own bool) *domaintest.Builder {
	b := classroom().Set("loads/l4/layer", "display")
	if own {
		for _, l := range lighting[:3] {
			b.Link("st", 2, domain.Press, l, "-")
		}
		b.Link("st", 2, domain.Press, "l4", "TGL")
	}
	return b
}
