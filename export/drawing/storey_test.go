package drawing_test

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// classrooms lays out a corridor with rooms of 8 x 7 m on both sides, each the
// sound classroom of domaintest with everything at a place.
func classrooms(n int, sys units.System) (*domain.Project, *domain.Plan, []*domain.Resolved) {
	base := domaintest.Classroom()
	base.P.Units = sys
	plan := &domain.Plan{ID: "s1", North: 20}
	var rooms []*domain.Resolved
	const w, d, hall = 8.0, 7.0, 2.4
	for i := range n {
		x, y := float64(i/2)*w, 0.0
		if i%2 == 1 {
			y = d + hall
		}
		rooms = append(rooms, furnished(base.R, i, x, y, w, d))
		outer, inner := y, y+d
		if i%2 == 1 {
			outer, inner = inner, outer
		}
		wall := func(name string, a, b geom.Point, openings ...domain.Opening) {
			plan.Walls = append(plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprintf("%s%d", name, i)), Seq: len(plan.Walls), A: a, B: b, Kind: domain.FullWall, Thickness: 0.15, Openings: openings})
		}
		wall("o", geom.Pt(x, outer), geom.Pt(x+w, outer), domain.Opening{ID: "1", Kind: domain.Window, At: 1, Width: 2.4, Head: 2.1}, domain.Opening{ID: "2", Kind: domain.Window, At: 4.6, Width: 2.4, Head: 2.1})
		wall("i", geom.Pt(x, inner), geom.Pt(x+w, inner), domain.Opening{ID: "3", Kind: domain.Door, At: 0.4, Width: 1, Head: 2.1})
		wall("l", geom.Pt(x, y), geom.Pt(x, y+d))
		wall("r", geom.Pt(x+w, y), geom.Pt(x+w, y+d))
	}
	return base.P, plan, rooms
}

func furnished(base *domain.Resolved, i int, x, y, w, d float64) *domain.Resolved {
	room := base.Room.Clone()
	room.ID, room.Number, room.Name = domain.ID(fmt.Sprintf("r%d", i)), fmt.Sprint(101+i), "Classroom for drawing"
	room.Outline = geom.Rectangle(x, y, w, d)
	r := &domain.Resolved{Room: room, Design: base.Design.Clone()}
	at := func(dx, dy float64) *geom.Point { p := geom.Pt(x+dx*w, y+dy*d); return &p }
	places := map[domain.ID]*geom.Point{"lc": at(0.1, 0.5), "rc": at(0.1, 0.6), "st": at(0.08, 0.94), "ps": at(0.5, 0.5), "ds": at(0.5, 0.2), "gw": at(0.1, 0.4)}
	for j := range r.Design.Devices {
		r.Design.Devices[j].At = places[r.Design.Devices[j].ID]
	}
	n := 0
	for _, l := range r.Design.Loads {
		for range l.Count {
			room.Fixtures = append(room.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprintf("f%d", n)), Load: l.ID, At: *at(0.15+0.14*float64(n%6), 0.15+0.23*float64(n/6))})
			n++
		}
	}
	for j := range 12 {
		room.Sitting = append(room.Sitting, domain.Seat{ID: domain.ID(fmt.Sprintf("s%d", j)), At: *at(0.22+0.18*float64(j%4), 0.28+0.22*float64(j/4))})
	}
	return r
}

func underlay() *domain.Underlay {
	return &domain.Underlay{Picture: "abc", At: geom.Pt(0, 0), Width: 8, Height: 7, Turn: 3}
}
