package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// drawn gives a sound classroom of 8 by 5 m between four walls, with a window of 6 m
// in the north wall and all that it holds on the plan. L3 hangs 0.8 m from the glass;
// its open-loop sensor 6 ft from it, between luminaires.
func drawn() *domaintest.Builder {
	b := domaintest.Classroom()
	b.P.Book = append(b.P.Book, equipment.Type{ID: "ps-example", Seq: 900, Name: "Presence sensor of the example", Kind: equipment.Presence, Supply: equipment.Battery,
		Mounting: "ceiling", Box: "none", LifeYears: 10, Cell: "CR123A", Sensitivity: -97, Senses: equipment.Infrared, MajorRadius: 5, MinorRadius: 5, StatedAt: 2.7, StatedOn: equipment.TargetPlane})
	b.Set("devices/ps/type", "ps-example", "loads/l1/zone", string(domain.ZoneSecondary), "loads/l2/zone", string(domain.ZoneSecondary))
	b.R.Outline = geom.Rectangle(0, 0, 8, 5)
	corners := b.R.Outline.Outer
	b.R.Plan = &domain.Plan{ID: "s1"}
	for i, a := range corners {
		b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i+1)), Seq: i + 1, A: a, B: corners[(i+1)%4], Kind: domain.FullWall, Thickness: 0.15})
	}
	glaze(b, 2, 1, 6)
	for i := range b.R.Design.Devices {
		at := geom.Pt(1+float64(i), 4.6)
		b.R.Design.Devices[i].At = &at
	}
	for _, l := range []struct {
		id domain.ID
		at []geom.Point
	}{{"l1", row(1.2, 0.8, 2, 3.2, 4.4, 5.6, 6.8)}, {"l2", row(2.1, 0.8, 2, 3.2, 4.4, 5.6, 6.8)}, {"l3", row(4.2, 0.8, 2.6, 5.4, 7.2)}, {"l4", row(0.4, 2, 6)}} {
		hangAt(b, l.id, l.at...)
	}
	return stand(stand(b, "ps", 4, 2.5), "ds", 4, 5-6*0.3048)
}

// glaze puts a window into a wall of the example.
func glaze(b *domaintest.Builder, wall int, from, width units.Metres) *domaintest.Builder {
	w := &b.R.Plan.Walls[wall]
	w.Openings = append(w.Openings, domain.Opening{ID: domain.ID(fmt.Sprint("glass", wall)), Seq: 1, Kind: domain.Window, At: from, Width: width, Sill: 0.9, Head: 2.4})
	return b
}

func row(y float64, xs ...float64) (out []geom.Point) {
	for _, x := range xs {
		out = append(out, geom.Pt(x, y))
	}
	return out
}

// hangAt hangs the luminaires of a load at places, in place of those that hung.
func hangAt(b *domaintest.Builder, load domain.ID, at ...geom.Point) *domaintest.Builder {
	var kept []domain.Fixture
	for _, x := range b.R.Fixtures {
		if x.Load != load {
			kept = append(kept, x)
		}
	}
	for i, p := range at {
		kept = append(kept, domain.Fixture{ID: domain.ID(fmt.Sprint(load, "-", i)), Load: load, At: p})
	}
	b.R.Fixtures = kept
	return b
}

// stand puts a device at a place.
func stand(b *domaintest.Builder, device domain.ID, x, y float64) *domaintest.Builder {
	at := geom.Pt(x, y)
	b.R.Design.Device(device).At = &at
	b.R.Room.Design = b.R.Design
	return b
}

// fromGlass puts the sensor so far from the glass, in the middle of the room.
func fromGlass(meters float64) *domaintest.Builder { return stand(drawn(), "ds", 4, 5-meters) }

// closed gives the example with a closed-loop sensor at a place.
func closed(x, y float64) *domaintest.Builder {
	return stand(drawn().Set("devices/ds/loop", string(domain.ClosedLoop)), "ds", x, y)
}
