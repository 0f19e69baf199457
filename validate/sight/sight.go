// Package sight judges what presence sensors see of a room: seats, entrances
// and floor, what they see through its doors, and how high they hang. Rooms that
// are not drawn are judged by their area alone, see package presence.
package sight

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// whole gives what the room's sensors see, nil unless all of them are placed and
// known: what none of them sees is then not seen at all.
func whole(f *rule.Facts) *coverage.Room {
	if room := f.Sight(); room != nil && room.Whole() {
		return room
	}
	return nil
}

// unseen gives the places of the targets that are as asked.
func unseen(targets []coverage.Target, want func(*coverage.Target) bool) []geom.Point {
	var out []geom.Point
	for i := range targets {
		if t := &targets[i]; want(t) {
			out = append(out, t.At)
		}
	}
	return out
}

// length prints a length in the project's units.
func length(f *rule.Facts, m float64) string {
	return units.Nearly(units.Metres(m), f.Project.Units)
}

func area(f *rule.Facts, m2 float64) string {
	return units.Area(units.SquareMetres(m2), f.Project.Units)
}

// arrange gives the fix that looks for places of the room's sensors when it is
// applied; shut: only for places that do not look out of doors.
func arrange(f *rule.Facts, shut bool) *rule.Fix {
	const most = 8 // new sensors
	a := propose.ArrangeSensors{Room: f.Room, Wish: propose.SensorWish{Shut: shut}}
	for i := range most {
		a.IDs = append(a.IDs, f.FreshID("presence sensor "+strconv.Itoa(i)))
	}
	title := "Rearrange the presence sensors, with other types where these cannot see everything"
	if shut {
		title = "Rearrange the presence sensors so that none looks out of doors"
	}
	return &rule.Fix{Title: title, Edits: []edit.Edit{a}}
}

// wide is the type of the example room's sensor: a radius of 5 m for both
// motions on the plane of what is to be seen.
var wide = equipment.Type{ID: "ps-example", Seq: 900, Name: "Presence sensor of the example", Kind: equipment.Presence, Supply: equipment.Battery, Mounting: "ceiling", Box: "none",
	LifeYears: 10, Cell: "CR123A", Sensitivity: -97, Senses: equipment.Infrared, MajorRadius: 5, MinorRadius: 5, StatedAt: 2.7, StatedOn: equipment.TargetPlane}

// example gives a sound classroom of 8 by 5 m between four walls with all that
// it holds on the plan: a sensor of a type in the middle of its ceiling sees all
// of it, and six seats.
func example(t equipment.Type) *domaintest.Builder {
	b := domaintest.Classroom()
	b.P.Book = append(b.P.Book, t)
	b.Set("devices/ps/type", t.ID)
	r := b.R
	r.Outline = geom.Rectangle(0, 0, 8, 5)
	for i := range r.Design.Devices {
		at := geom.Pt(1+float64(i), 4)
		r.Design.Devices[i].At = &at
	}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		for n := range l.Count {
			r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprintf("%s-%d", l.ID, n)), Load: l.ID, At: geom.Pt(0.5+float64(n), 0.5+float64(i))})
		}
	}
	for i := range 6 {
		r.Sitting = append(r.Sitting, domain.Seat{ID: domain.ID(fmt.Sprint("seat", i+1)), At: geom.Pt(1.5+2.5*float64(i%3), 1.5+2*float64(i/3))})
	}
	corners := r.Outline.Outer
	r.Plan = &domain.Plan{ID: "s1"}
	for i, a := range corners {
		r.Plan.Walls = append(r.Plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i+1)), Seq: i + 1, A: a, B: corners[(i+1)%len(corners)], Kind: domain.FullWall, Thickness: 0.15})
	}
	return move(b, "ps", geom.Pt(4, 2.5), 0)
}

// move puts a device at a place.
func move(b *domaintest.Builder, device domain.ID, at geom.Point, turn float64) *domaintest.Builder {
	d := b.R.Design.Device(device)
	d.At, d.Turn = &at, turn
	if err := b.R.Settle(); err != nil {
		panic(fmt.Sprintf("sight: example room: %v", err))
	}
	return b
}

// door puts a door into the wall along y 0.
func door(b *domaintest.Builder, from, width units.Metres) *domaintest.Builder {
	b.R.Plan.Walls[0].Openings = append(b.R.Plan.Walls[0].Openings, domain.Opening{ID: "door", Seq: 1, Kind: domain.Door, At: from, Width: width, Head: 2.1})
	return b
}

// stand puts a wall into the room: partitions have a height.
func stand(b *domaintest.Builder, a, e geom.Point, height units.Metres) *domaintest.Builder {
	n := len(b.R.Plan.Walls) + 1
	w := domain.Wall{ID: domain.ID(fmt.Sprint("w", n)), Seq: n, A: a, B: e, Kind: domain.FullWall, Thickness: 0.1}
	if height > 0 {
		w.Kind, w.Height = domain.Partition, height
	}
	b.R.Plan.Walls = append(b.R.Plan.Walls, w)
	return b
}
